"""The streams joined along the collector against a dense solution of all edges at once."""

import numpy as np
import pytest

from simengine.collector.streams import join_streams, new_edges
from tests.collector.by_hand import collector, numbers, with_box

FRONT, REAR = 3, 4
INLET = np.array([[20.0], [0.9]])


def random_answers(segments: int, seed: int) -> np.ndarray:
    """Return answers [segment, output, coefficient, lane] of dissipative segments: weights sum below one."""
    rng = np.random.default_rng(seed)
    response = np.zeros((segments, 5, 4, 1))
    response[:, :, 0, 0] = rng.uniform(5.0, 60.0, (segments, 5))
    response[:, :, 1:, 0] = rng.dirichlet(np.ones(4), (segments, 5))[..., :3]
    return response


def dense(response: np.ndarray, counterflow: bool, room: float) -> tuple[np.ndarray, np.ndarray]:
    """Return edge temperatures [edge] of the front and the rear stream, counted in their own direction."""
    n = response.shape[0]
    a, b = np.eye(2 * (n + 1)), np.zeros(2 * (n + 1))
    inlet = INLET[0, 0] + INLET[1, 0] * room
    b[0] = inlet
    if counterflow:
        a[n + 1, n] = -1.0  # what turns at the end
    else:
        b[n + 1] = inlet
    for s in range(n):
        rear_in = n + 1 + (n - 1 - s if counterflow else s)
        for row, output in ((s + 1, FRONT), (rear_in + 1, REAR)):
            constant, by_room, by_front, by_rear = response[s, output, :, 0]
            b[row] = constant + by_room * room
            a[row, s] -= by_front
            a[row, rear_in] -= by_rear
    x = np.linalg.solve(a, b)
    return x[: n + 1], x[n + 1 :]


# mathematics: the same linear system, eliminated another way
@pytest.mark.parametrize("arrangement", ["both_sides", "two_pass"])
@pytest.mark.parametrize("segments", [1, 2, 7, 40])
@pytest.mark.parametrize("room", [0.0, 300.0])
def test_edges_equal_their_dense_solution(arrangement, segments, room):
    network, _ = numbers(collector(arrangement, segments))
    response = random_answers(segments, segments)
    edges = new_edges(segments, 1)
    join_streams(network, response, INLET, edges, 0)
    front, rear = dense(response, network.counterflow, room)
    assert edges.front[:, 0, 0] + edges.front[:, 1, 0] * room == pytest.approx(front[:-1], rel=1e-12)
    entering = rear[:-1][::-1] if network.counterflow else rear[:-1]
    assert edges.rear[:, 0, 0] + edges.rear[:, 1, 0] * room == pytest.approx(entering, rel=1e-12)
    outlet = rear[-1] if network.counterflow else 0.5 * (front[-1] + rear[-1])
    assert edges.outlet[0, 0] + edges.outlet[1, 0] * room == pytest.approx(outlet, rel=1e-12)


@pytest.mark.parametrize("share", [0.0, 0.3, 1.0])
def test_outlet_mixes_by_the_share_of_the_rear(share):
    network, _ = numbers(collector("both_sides", 2))
    response = random_answers(2, 5)
    edges = new_edges(2, 1)
    join_streams(with_box(network, rear_share=share), response, INLET, edges, 0)
    front, rear = dense(response, False, 0.0)
    assert edges.outlet[0, 0] == pytest.approx((1.0 - share) * front[-1] + share * rear[-1], rel=1e-12)


@pytest.mark.parametrize(
    ("arrangement", "share"),
    [
        ("behind", 1.0),
        ("tubes", 1.0),
        ("in_front", 0.0),
        ("both_sides", 0.5),
        ("through", 1.0),
        ("two_pass", 1.0),
    ],
)
def test_share_of_the_air_that_leaves_behind_the_absorber(arrangement, share):
    network, _ = numbers(collector(arrangement))
    assert network.box[8, 0] == share
