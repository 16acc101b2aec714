"""The heat balance of one segment against a dense solution of the same walls and streams."""

from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.collector.airstream import growing_stream, moving_air, thinning_stream
from simengine.collector.balance import Space, answer, eliminate
from simengine.collector.build import stream_logs

TC, TP, TB, FRONT_MEAN, FRONT_OUT, REAR_MEAN, REAR_OUT = range(7)


class Side(NamedTuple):
    """What a wall sees away from the air."""

    conductance: float  # [W/m2K]
    source: float  # [W/m2]
    room_source: float  # [W/m2K]


def space(
    outer_film: float, inner_film: float, radiation: float, pull: float, end: float, mean: float
) -> Space:
    """Return an air space between two walls."""
    return Space(outer_film, inner_film, radiation, pull, end, mean, 1.0 / (outer_film + inner_film))


film = st.floats(0.3, 40.0)
share = st.floats(0.0, 1.0)
some = st.floats(0.01, 1.0)
sides = st.builds(Side, st.floats(0.5, 60.0), st.floats(-500.0, 25000.0), st.floats(0.0, 10.0))
spaces = st.builds(space, film, film, st.floats(0.0, 8.0), some, share, share)
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


def answered(
    sides: tuple[Side, Side, Side], front: Space, rear: Space, through: tuple[float, float],
    entering: tuple[float, float, float],
) -> list[float]:  # fmt: skip
    """Return walls and outlets at given room, front and rear inlet temperatures."""
    room, front_in, rear_in = entering
    outside = (sides[0].conductance, sides[1].conductance, sides[2].conductance)
    walls, by_front, by_rear = eliminate(outside, front, rear, through)
    own = answer(walls, *(side.source + side.room_source * room for side in sides))
    return [a + b * front_in + c * rear_in for a, b, c in zip(own, by_front, by_rear, strict=True)]


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
    found = answered((cover, absorber, back), front, rear, through, entering)
    assert found == pytest.approx(expected.tolist(), rel=1e-10, abs=1e-8)


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
    air, log = moving_air(capacity), float(stream_logs(inflow, outflow, 1)[0])
    _, end, mean = thinning_stream(total, air, inflow, outflow, log)
    front = space(front_film, touched, 5.0, 1.0, end, mean)
    rear_in, rear_out = 1.0 - inflow, 1.0 - outflow
    total = rear_film + rear_touched
    _, pull, end, mean = growing_stream(
        total, air, rear_in, rear_out, float(stream_logs(rear_in, rear_out, 1)[0])
    )
    rear = space(rear_touched, rear_film, 5.5, pull, end, mean)
    sides = (
        Side(25.0, 25.0 * 275.0, 0.0),
        Side(0.2, 600.0 + 0.2 * 275.0, 0.0),
        Side(0.6, 0.6 * 275.0, 0.0),
    )
    through, t_front, t_rear = (capacity * (inflow - outflow), effectiveness), 293.0, 299.0
    glass, sheet, lining, front_out, rear_end = answered(
        sides, front, rear, through, (293.0, t_front, t_rear)
    )
    lost = 25.0 * (glass - 275.0) + 0.2 * (sheet - 275.0) + 0.6 * (lining - 275.0)
    carried = capacity * (outflow * front_out + rear_out * rear_end - inflow * t_front - rear_in * t_rear)
    assert lost + carried == pytest.approx(600.0, abs=1e-8)


@settings(derandomize=True, deadline=None, max_examples=50)
@given(sides, sides, sides, spaces, spaces, st.tuples(st.floats(0.0, 80.0), share), temperatures)
def test_everything_at_one_temperature_stays_there(cover, absorber, back, front, rear, through, level):
    """With sources that hold every wall at one temperature, the air stays at it too."""
    held = tuple(Side(side.conductance, side.conductance * level, 0.0) for side in (cover, absorber, back))
    assert answered(held, front, rear, through, (level, level, level)) == pytest.approx(
        [level] * 5, rel=1e-12
    )
