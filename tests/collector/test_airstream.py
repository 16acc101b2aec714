"""The two closed profiles of an air stream against numerical integration of the equations they solve."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from simengine.collector.airstream import growing_stream, moving_air, thinning_stream
from simengine.collector.build import stream_logs

WALL, FED = 330.0, 305.0  # [K] invented
positive = st.floats(0.2, 60.0)
flows = st.floats(0.05, 1.0)


def log_ratio(inflow: float, outflow: float) -> float:
    """Return the geometry number of one segment."""
    return float(stream_logs(inflow, outflow, 1)[0])


def integrate(
    wall: float, capacity: float, inflow: float, outflow: float, entering: float, fed: bool
) -> list[float]:
    """Integrate m c dT/dx = H (T_w - T) [+ c dm/dx (T_fed - T)] over 0 < x < 1: [T_out, mean T]."""

    def slope(x: float, state: np.ndarray) -> list[float]:
        air = state[0]
        taken = wall * (WALL - air) + (capacity * (outflow - inflow) * (FED - air) if fed else 0.0)
        return [taken / (capacity * (inflow + (outflow - inflow) * x)), air]

    result = solve_ivp(slope, (0.0, 1.0), [entering, 0.0], method="DOP853", rtol=1e-12, atol=1e-12)
    return [float(value) for value in result.y[:, -1]]


# mathematics: integration of the stated equation; tolerance that of the integrator
@pytest.mark.parametrize(
    ("wall", "capacity", "inflow", "outflow"),
    [
        (12.0, 20.0, 1.0, 1.0),
        (12.0, 20.0, 1.0, 0.6),
        (5.0, 80.0, 0.7, 0.1),
        (40.0, 8.0, 0.5, 0.45),
        (3.0, 50.0, 1.0, 0.02),
    ],
)
def test_thinning_stream_is_the_integral_of_its_equation(wall, capacity, inflow, outflow):
    _, end, mean = thinning_stream(wall, moving_air(capacity), inflow, outflow, log_ratio(inflow, outflow))
    expected = integrate(wall, capacity, inflow, outflow, 290.0, fed=False)
    assert WALL + end * (290.0 - WALL) == pytest.approx(expected[0], abs=1e-7)
    assert WALL + mean * (290.0 - WALL) == pytest.approx(expected[1], abs=1e-7)


@pytest.mark.parametrize(
    ("wall", "capacity", "inflow", "outflow"),
    [
        (12.0, 20.0, 1.0, 1.0),
        (12.0, 20.0, 0.4, 1.0),
        (5.0, 80.0, 0.1, 0.7),
        (40.0, 8.0, 0.5, 0.55),
        (3.0, 50.0, 0.02, 1.0),
    ],
)
def test_growing_stream_is_the_integral_of_its_equation(wall, capacity, inflow, outflow):
    _, pull, end, mean = growing_stream(
        wall, moving_air(capacity), inflow, outflow, log_ratio(inflow, outflow)
    )
    goal = pull * WALL + (1.0 - pull) * FED
    expected = integrate(wall, capacity, inflow, outflow, 290.0, fed=True)
    assert goal + end * (290.0 - goal) == pytest.approx(expected[0], abs=1e-7)
    assert goal + mean * (290.0 - goal) == pytest.approx(expected[1], abs=1e-7)


@pytest.mark.parametrize(("wall", "capacity", "inflow"), [(6.0, 20.0, 1.0), (30.0, 10.0, 0.25)])
def test_stream_that_thins_to_nothing(wall, capacity, inflow):
    # in s = -ln(1 - x) the equation is regular: dT/ds = k (T_w - T), d(mean)/ds = T exp(-s)
    rate = wall / (capacity * inflow)
    result = solve_ivp(
        lambda s, y: [-rate * y[0], y[0] * math.exp(-s)], (0.0, 80.0), [1.0, 0.0], rtol=1e-11, atol=1e-13
    )
    _, end, mean = thinning_stream(wall, moving_air(capacity), inflow, 0.0, log_ratio(inflow, 0.0))
    assert end == pytest.approx(0.0, abs=1e-20)
    assert mean == pytest.approx(float(result.y[1, -1]), abs=1e-9)


@pytest.mark.parametrize(("wall", "capacity", "outflow"), [(6.0, 20.0, 1.0), (30.0, 10.0, 0.25)])
def test_stream_that_grows_from_nothing_stands_at_its_goal_everywhere(wall, capacity, outflow):
    # in s = ln x the start is forgotten: from any temperature far back the stream comes to its goal
    fed = capacity * outflow
    result = solve_ivp(
        lambda s, y: [(wall * (WALL - y[0]) + fed * (FED - y[0])) / fed, y[0] * math.exp(s)],
        (-40.0, 0.0),
        [250.0, 0.0],
        rtol=1e-10,
        atol=1e-10,
    )
    _, pull, end, mean = growing_stream(wall, moving_air(capacity), 0.0, outflow, log_ratio(0.0, outflow))
    goal = pull * WALL + (1.0 - pull) * FED
    assert (end, mean) == pytest.approx((0.0, 0.0), abs=1e-20)
    assert (goal, goal) == pytest.approx((float(result.y[0, -1]), float(result.y[1, -1])), abs=1e-6)


@pytest.mark.parametrize(("inflow", "outflow"), [(0.0, 0.0), (1.0, 1.0), (1.0, 0.5), (0.5, 0.0)])
def test_still_air_knows_no_inlet(inflow, outflow):
    _, end, mean = thinning_stream(8.0, moving_air(0.0), inflow, outflow, log_ratio(inflow, outflow))
    assert abs(end) < 1e-25 and abs(mean) < 1e-12
    _, pull, end, mean = growing_stream(8.0, moving_air(0.0), outflow, inflow, log_ratio(outflow, inflow))
    assert pull == pytest.approx(1.0, abs=1e-12)
    assert abs(end) < 1e-25 and abs(mean) < 1e-12


def test_a_space_without_a_stream_gives_exact_zeros():
    _, end, mean = thinning_stream(8.0, moving_air(25.0), 0.0, 0.0, log_ratio(0.0, 0.0))
    assert mean == 0.0 and end < 1e-25
    _, pull, end, mean = growing_stream(8.0, moving_air(25.0), 0.0, 0.0, log_ratio(0.0, 0.0))
    assert (pull, mean) == (1.0, 0.0) and end < 1e-25


@settings(derandomize=True, deadline=None, max_examples=50)
@given(positive, positive, flows)
def test_constant_flow_is_the_limit_of_both(wall, capacity, flow):
    exponent = wall / (capacity * flow)
    expected = math.exp(-exponent), -math.expm1(-exponent) / exponent
    assert thinning_stream(wall, moving_air(capacity), flow, flow, 1.0 / flow)[1:] == pytest.approx(
        expected, rel=1e-10, abs=1e-16
    )
    _, pull, end, mean = growing_stream(wall, moving_air(capacity), flow, flow, 1.0 / flow)
    assert pull == pytest.approx(1.0, abs=1e-15)
    assert (end, mean) == pytest.approx(expected, rel=1e-10, abs=1e-16)
    nearly = flow * (1.0 - 1e-6)
    assert thinning_stream(wall, moving_air(capacity), flow, nearly, log_ratio(flow, nearly))[
        1:
    ] == pytest.approx(expected, rel=1e-4, abs=1e-6)


@settings(derandomize=True, deadline=None, max_examples=50)
@given(positive, positive, flows, flows)
def test_what_the_walls_give_is_what_the_thinning_stream_carries(wall, capacity, one, other):
    inflow, outflow = max(one, other), min(one, other)
    _, end, mean = thinning_stream(wall, moving_air(capacity), inflow, outflow, log_ratio(inflow, outflow))
    carried_off = capacity * (outflow * end + (inflow - outflow) * mean - inflow)
    assert -wall * mean == pytest.approx(carried_off, rel=1e-9, abs=1e-9)
    assert 0.0 <= end <= mean <= 1.0


@settings(derandomize=True, deadline=None, max_examples=50)
@given(positive, positive, flows, flows, st.floats(270.0, 340.0))
def test_what_the_walls_give_is_what_the_growing_stream_carries(wall, capacity, one, other, entering):
    inflow, outflow = min(one, other), max(one, other)
    _, pull, end, mean = growing_stream(
        wall, moving_air(capacity), inflow, outflow, log_ratio(inflow, outflow)
    )
    goal = pull * WALL + (1.0 - pull) * FED
    leaving, average = goal + end * (entering - goal), goal + mean * (entering - goal)
    carried_off = capacity * (outflow * leaving - inflow * entering - (outflow - inflow) * FED)
    assert wall * (WALL - average) == pytest.approx(carried_off, rel=1e-8, abs=1e-7)


@settings(derandomize=True, deadline=None, max_examples=50)
@given(positive, positive, flows, st.floats(1.01, 3.0))
def test_more_flow_keeps_more_of_the_inlet_and_more_film_less(wall, capacity, flow, factor):
    kept = thinning_stream(wall, moving_air(capacity), flow, flow, 1.0 / flow)[1:]
    assert thinning_stream(wall, moving_air(capacity * factor), flow, flow, 1.0 / flow)[1:] > kept
    assert thinning_stream(wall * factor, moving_air(capacity), flow, flow, 1.0 / flow)[1:] < kept
