"""Node temperatures of a stage against the balance of every node; losses against what the box takes up."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.collector.network import Network
from simengine.collector.spec import Back
from simengine.constants import SPECIFIC_HEAT_AIR
from tests.collector.by_hand import BOARD, CLEAR, Turn, collector, numbers, turn, with_box

ROOM = 294.0
ARRANGEMENTS = ["behind", "in_front", "both_sides", "two_pass", "through", "tubes"]
seeds = st.integers(0, 10_000)


def random_turn(
    arrangement: str, panes: int, seed: int, duration: float, wall: bool
) -> tuple[Turn, np.ndarray, np.ndarray, object]:
    """Return a stage from uneven temperatures, those temperatures, the absorbed sun, and the network."""
    rng = np.random.default_rng(seed)
    back = Back((BOARD,), wall_resistance=1.5 if wall else None)
    network, table = numbers(collector(arrangement, 3, panes, back=back, edge_conductance=0.8))
    begin = rng.uniform(270.0, 360.0, (panes + 5, 3))
    sun = rng.uniform(0.0, 500.0, panes + 1)
    taken = turn(
        network,
        table,
        begin + rng.normal(size=begin.shape),
        absorbed=sun,
        begin=begin,
        duration=duration,
        room=ROOM,
    )
    return taken, begin, sun, network


def outer_face(taken: Turn, network: Network) -> np.ndarray:
    """Return the outermost face, between the middle of its pane and wind, sky and ground."""
    (sky, ground), link = taken.stage.cover[:2, :, 0], network.pane_link[0, 0]
    air = CLEAR.wind_coefficient + ground
    return (link * taken.nodes[0] + air * CLEAR.ambient + sky * CLEAR.sky) / (link + air + sky)


def test_the_inner_face_of_the_cover_stores_nothing():
    """What comes out of the middle of the pane goes on to the sheet (mathematics)."""
    taken, _, _, network = random_turn("behind", 1, 5, 100.0, False)
    middle, sheet, face = taken.nodes[0], taken.nodes[1], taken.nodes[5]
    past = network.pane_link[0, 0] * (middle - face)
    assert network.capacity[5, 0] == 0.0
    # radiation and the still gap together: the same conductance in every case, whatever it is
    assert ((past > 0.0) == (face > sheet)).all()


# law: sun = losses + heat into the air + what the nodes store, with the conductances of the stage itself
@settings(derandomize=True, deadline=None, max_examples=25)
@given(st.sampled_from(ARRANGEMENTS), st.integers(1, 3), seeds, st.floats(1.0, 1e4), st.booleans())
def test_heat_closes_over_the_box(arrangement, panes, seed, duration, wall):
    taken, begin, sun, network = random_turn(arrangement, panes, seed, duration, wall)
    area = network.box[0, 0]
    stored = area * (network.capacity * (taken.nodes - begin)).sum() / duration
    carried = 0.06 * SPECIFIC_HEAT_AIR * (taken.outlet - ROOM)
    given_up = sum(taken.losses) + carried + stored
    size = sum(abs(loss) for loss in taken.losses) + abs(carried) + abs(stored)
    assert 3.0 * area * sun.sum() == pytest.approx(given_up, abs=1e-11 * size)


@settings(derandomize=True, deadline=None, max_examples=25)
@given(st.sampled_from(ARRANGEMENTS), seeds, st.floats(1.0, 1e4), st.booleans())
def test_nodes_away_from_the_air_hold_their_own_balance(arrangement, seed, duration, wall):
    """Outer panes, the mass of the insulation and the box: implicit step, node by node."""
    panes = 3
    taken, begin, sun, network = random_turn(arrangement, panes, seed, duration, wall)
    nodes, stage = taken.nodes, taken.stage
    stored = network.capacity * (nodes - begin) / duration
    links = stage.pane[:, 0, :, 0] / stage.pane[:, 1, :, 0]
    sky, ground = stage.cover[:2, :, 0]
    face = outer_face(taken, network)
    lost = (CLEAR.wind_coefficient + ground) * (face - CLEAR.ambient) + sky * (face - CLEAR.sky)
    assert lost == pytest.approx(network.pane_link[0, 0] * (nodes[0] - face), abs=1e-8)
    assert stored[0] == pytest.approx(sun[0] - lost + links[0] * (nodes[1] - nodes[0]), abs=1e-8)
    between = links[0] * (nodes[0] - nodes[1]) + links[1] * (nodes[2] - nodes[1])
    assert stored[1] == pytest.approx(sun[1] + between, abs=1e-8)
    face_link, box_link, outer = network.box[3:6, 0]
    mass = face_link * (nodes[4] - nodes[5]) + box_link * (nodes[6] - nodes[5])
    assert stored[5] == pytest.approx(mass, abs=1e-8)
    behind = ROOM if wall else CLEAR.ambient
    skin = box_link * (nodes[5] - nodes[6]) + outer * (behind - nodes[6])
    assert stored[6] == pytest.approx(skin, abs=1e-8)


@pytest.mark.parametrize("wall", [False, True])
def test_losses_go_where_they_belong(wall):
    taken, _, _, network = random_turn("behind", 1, 3, 100.0, wall)
    face = outer_face(taken, network)
    area, outer = network.box[0, 0], network.box[5, 0]
    skin, plate = taken.nodes[4], taken.nodes[1]
    assert taken.losses.convection == pytest.approx(area * 14.0 * (face - CLEAR.ambient).sum(), rel=1e-12)
    assert taken.losses.edge == pytest.approx(0.8 / 2.88 * area * (plate - CLEAR.ambient).sum(), rel=1e-12)
    to_room, outdoors = area * outer * (skin - ROOM).sum(), area * outer * (skin - CLEAR.ambient).sum()
    assert taken.losses.wall == pytest.approx(to_room if wall else 0.0, rel=1e-12)
    assert taken.losses.back == pytest.approx(0.0 if wall else outdoors, rel=1e-12)


def test_half_a_wall_shares_the_heat_of_the_back():
    network, table = numbers(collector())
    guess = np.full((5, 3), 310.0)
    taken = turn(with_box(network, wall_share=0.25), table, guess, room=ROOM)
    skin, outer, area = taken.nodes[4], network.box[5, 0], network.box[0, 0]
    assert taken.losses.wall == pytest.approx(0.25 * outer * area * (skin - ROOM).sum(), rel=1e-12)
    assert taken.losses.back == pytest.approx(0.75 * outer * area * (skin - CLEAR.ambient).sum(), rel=1e-12)
