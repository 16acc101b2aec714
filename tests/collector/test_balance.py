"""The heat balance of one segment against a dense solution of the same walls and streams."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.collector.airstream import growing_stream, thinning_stream
from simengine.collector.balance import (
    Affine,
    Response,
    Side,
    Space,
    evaluate,
    look_outwards,
    segment_response,
)
from simengine.collector.build import stream_logs

TC, TP, TB, FRONT_MEAN, FRONT_OUT, REAR_MEAN, REAR_OUT = range(7)

film = st.floats(0.3, 40.0)
share = st.floats(0.0, 1.0)
some = st.floats(0.01, 1.0)
sides = st.builds(Side, st.floats(0.5, 60.0), st.floats(-500.0, 25000.0), st.floats(0.0, 10.0))
spaces = st.builds(Space, film, film, st.floats(0.0, 8.0), some, share, share)
temperatures = st.floats(250.0, 400.0)


def dense(
    cover: Side, absorber: Side, back: Side, front: Space, rear: Space, through: tuple[float, float],
    entering: tuple[float, float, float],
) -> np.ndarray:  # fmt: skip
    """Solve walls and streams as seven unknowns at given room, front and rear inlet temperatures."""
    drawn, effectiveness = through
    room, front_in, rear_in = entering
    a, b = np.zeros((7, 7)), np.zeros(7)

    def link(row: int, other: int, conductance: float) -> None:
        a[row, row] += conductance
        a[row, other] -= conductance

    for wall, side in ((TC, cover), (TP, absorber), (TB, back)):
        a[wall, wall] += side.conductance
        b[wall] += side.source + side.room_source * room
    link(TC, TP, front.radiation)
    link(TP, TC, front.radiation)
    link(TP, TB, rear.radiation)
    link(TB, TP, rear.radiation)
    link(TC, FRONT_MEAN, front.outer_film)
    link(TP, FRONT_MEAN, front.inner_film + drawn * effectiveness)
    link(TP, REAR_MEAN, rear.outer_film)
    link(TB, REAR_MEAN, rear.inner_film)
    # stream = goal + share (inlet - goal)
    goal = np.zeros(7)
    goal[TC] = front.outer_film / (front.outer_film + front.inner_film)
    goal[TP] = 1.0 - goal[TC]
    for row, kept in ((FRONT_MEAN, front.mean), (FRONT_OUT, front.end)):
        a[row] = -(1.0 - kept) * goal
        a[row, row] += 1.0
        b[row] = kept * front_in
    fed = np.zeros(7)
    fed[FRONT_MEAN], fed[TP] = 1.0 - effectiveness, effectiveness
    walls = np.zeros(7)
    walls[TP] = rear.outer_film / (rear.outer_film + rear.inner_film)
    walls[TB] = 1.0 - walls[TP]
    goal = rear.pull * walls + (1.0 - rear.pull) * fed
    for row, kept in ((REAR_MEAN, rear.mean), (REAR_OUT, rear.end)):
        a[row] = -(1.0 - kept) * goal
        a[row, row] += 1.0
        b[row] = kept * rear_in
    return np.linalg.solve(a, b)


def answered(response: Response, entering: tuple[float, float, float]) -> list[float]:
    return [evaluate(value, *entering) for value in response]


# mathematics: the same linear system, eliminated another way
@settings(derandomize=True, deadline=None, max_examples=50)
@given(
    sides,
    sides,
    sides,
    spaces,
    spaces,
    st.tuples(st.floats(0.0, 80.0), share),
    st.tuples(*[temperatures] * 3),
)
def test_any_segment_equals_its_dense_solution(cover, absorber, back, front, rear, through, entering):
    expected = dense(cover, absorber, back, front, rear, through, entering)[[TC, TP, TB, FRONT_OUT, REAR_OUT]]
    response = segment_response(cover, absorber, back, front, rear, through)
    assert answered(response, entering) == pytest.approx(expected.tolist(), rel=1e-10, abs=1e-8)


@settings(derandomize=True, deadline=None, max_examples=50)
@given(
    st.floats(5.0, 80.0),
    film,
    film,
    film,
    film,
    st.floats(0.0, 1.0),
    st.floats(0.05, 0.95),
    st.floats(0.05, 0.95),
)
def test_heat_closes_over_a_segment_that_draws_air_through_its_absorber(
    capacity, front_film, touched, rear_film, rear_touched, effectiveness, first, last
):
    """Sources of the walls = what they lose outwards + what the streams carry away, for front >= rear."""
    inflow, outflow = max(first, last), min(first, last)
    total = front_film + touched
    end, mean = thinning_stream(total, capacity, inflow, outflow, float(stream_logs(inflow, outflow, 1)[0]))
    front = Space(front_film, touched, 5.0, 1.0, end, mean)
    rear_in, rear_out = 1.0 - inflow, 1.0 - outflow
    total = rear_film + rear_touched
    pull, end, mean = growing_stream(
        total, capacity, rear_in, rear_out, float(stream_logs(rear_in, rear_out, 1)[0])
    )
    rear = Space(rear_touched, rear_film, 5.5, pull, end, mean)
    cover, absorber, back = (
        Side(25.0, 25.0 * 275.0, 0.0),
        Side(0.2, 600.0 + 0.2 * 275.0, 0.0),
        Side(0.6, 0.6 * 275.0, 0.0),
    )
    response = segment_response(
        cover, absorber, back, front, rear, (capacity * (inflow - outflow), effectiveness)
    )
    t_front, t_rear = 293.0, 299.0
    glass, sheet, lining, front_out, rear_end = answered(response, (293.0, t_front, t_rear))
    lost = 25.0 * (glass - 275.0) + 0.2 * (sheet - 275.0) + 0.6 * (lining - 275.0)
    carried = capacity * (outflow * front_out + rear_out * rear_end - inflow * t_front - rear_in * t_rear)
    assert lost + carried == pytest.approx(600.0, abs=1e-8)


@settings(derandomize=True, deadline=None, max_examples=50)
@given(sides, sides, sides, spaces, spaces, st.tuples(st.floats(0.0, 80.0), share), temperatures)
def test_everything_at_one_temperature_stays_there(cover, absorber, back, front, rear, through, level):
    """With sources that hold every wall at one temperature, the air stays at it too."""
    cover, absorber, back = (
        Side(side.conductance, side.conductance * level, 0.0) for side in (cover, absorber, back)
    )
    response = segment_response(cover, absorber, back, front, rear, through)
    assert answered(response, (level, level, level)) == pytest.approx([level] * 5, rel=1e-12)


def test_room_counts_only_through_the_room_sources():
    front = rear = Space(4.0, 4.0, 5.0, 1.0, 0.5, 0.7)
    side = Side(10.0, 3000.0, 0.0)
    plain = segment_response(side, side, side, front, rear, (0.0, 0.0))
    assert [value.room for value in plain] == [0.0] * 5
    warmed = segment_response(side, side, Side(10.0, 3000.0, 2.0), front, rear, (0.0, 0.0))
    assert min(value.room for value in warmed) > 0.0


@settings(derandomize=True, deadline=None, max_examples=50)
@given(
    st.floats(0.1, 50.0),
    st.floats(-1e4, 1e4),
    st.floats(0.0, 50.0),
    st.floats(-1e4, 1e4),
    st.floats(0.1, 50.0),
    temperatures,
)
def test_looking_outwards_through_a_node_is_the_two_node_system(seen, source, storage, gain, link, inner):
    outer = (source + gain + link * inner) / (seen + storage + link)  # balance of the outer node
    conductance, total = look_outwards(seen, source, storage, gain, link)
    assert conductance * inner - total == pytest.approx(link * (inner - outer), rel=1e-9, abs=1e-7)


def test_affine_value():
    assert evaluate(Affine(10.0, 0.5, 0.25, 0.125), 2.0, 4.0, 8.0) == 13.0
