"""When a sensor passes its threshold within a step: the parabola, and the sensor's own exponential."""

import math

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from simengine.control.crossing import Course, crossing, parabola_crossing


def still(value: float) -> Course:
    return Course(value, value, 0.0)


def line(first: float, last: float) -> Course:
    return Course(first, last, last - first)


@given(
    first=st.floats(-50.0, 50.0),
    rise=st.floats(0.1, 50.0),
    change=st.floats(-300.0, 300.0),
    share=st.floats(0.01, 0.99),
    sign=st.sampled_from((-1.0, 1.0)),
)
def test_a_parabola_is_crossed_where_it_stands_at_the_threshold(first, rise, change, share, sign) -> None:
    # a threshold between the ends is passed once and in the step, however the parabola bends
    course = Course(first, first + sign * rise, change)
    bend = change - sign * rise

    def reading(theta: float) -> float:
        return first + (sign * rise - bend) * theta + bend * theta * theta

    threshold = first + share * sign * rise
    found = parabola_crossing(course, threshold)
    assert reading(found) == pytest.approx(threshold, abs=1e-9 * (1.0 + abs(change)))


def sensor(decay: float, level: float, slope: float, start: float):
    """Return the reading over a step [-] of tau s' = P - s with P = level + slope theta, and its rate."""
    excess = start - (level - slope / decay)

    def reading(theta: float) -> float:
        return level + slope * (theta - 1.0 / decay) + excess * math.exp(-decay * theta)

    def rate(theta: float) -> float:
        return slope - decay * excess * math.exp(-decay * theta)

    return reading, rate


@settings(max_examples=200)
@given(
    decay=st.floats(0.002, 300.0),
    level=st.floats(-5.0, 5.0),
    slope=st.floats(-5.0, 5.0),
    share=st.floats(0.01, 0.99),
    start=st.floats(-30.0, 30.0),
)
def test_a_sensor_is_crossed_where_the_exact_exponential_stands(decay, level, slope, share, start) -> None:
    # also where it turns within the step, as after a switch: between its ends it passes a threshold once
    reading, rate = sensor(decay, level, slope, start)
    first, last = reading(0.0), reading(1.0)
    assume(abs(last - first) > 0.05)
    threshold = first + share * (last - first)
    found = crossing(Course(first, last, rate(1.0)), threshold, decay)
    assert reading(found) == pytest.approx(threshold, abs=1e-9)


@pytest.mark.parametrize("decay", [1.5, 10.0, 45.0, 100.0])
def test_a_sensor_that_turns_is_crossed_on_its_first_way(decay) -> None:
    # it rises towards 10 K and then falls with its place: 5 K are passed once, near ln 2 / decay
    reading, rate = sensor(decay, 10.0, -1.0, 0.0)
    course = Course(reading(0.0), reading(1.0), rate(1.0))
    assert decay < 2.0 or course.change < 0.0 < course.last - course.first
    expected = brentq(lambda theta: reading(theta) - 5.0, 0.0, 1.0, xtol=1e-14)
    assert crossing(course, 5.0, decay) == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize("decay", [0.1, 1.0, 1.5, 3.0])
def test_a_cooling_sensor_is_crossed_to_rounding_at_the_usual_steps(decay) -> None:
    # 20 exp(-decay theta); a step of 60 or 90 s and a sensor of 60 s
    course = Course(20.0, 20.0 * math.exp(-decay), -decay * 20.0 * math.exp(-decay))
    for share in (0.1, 0.5, 0.9):
        threshold = 20.0 * math.exp(-decay * share)
        assert crossing(course, threshold, decay) == pytest.approx(share, abs=1e-9)


def test_a_straight_line_is_crossed_in_proportion_at_any_step() -> None:
    for decay in (1e-6, 0.5, 10.0, 1e6):
        assert crossing(line(300.0, 310.0), 302.5, decay) == pytest.approx(0.25, abs=1e-9)


def test_a_threshold_that_is_not_passed_is_put_to_the_end_that_is_nearer() -> None:
    assert parabola_crossing(line(0.0, 1.0), 3.0) == 1.0
    assert parabola_crossing(line(0.0, 1.0), -1.0) == 0.0
    assert parabola_crossing(still(1.0), 2.0) == 1.0
    assert parabola_crossing(Course(0.0, 1.0, -40.0), 25.0) == 1.0  # above the top of the parabola


@given(
    first=st.floats(200.0, 400.0),
    last=st.floats(200.0, 400.0),
    threshold=st.floats(200.0, 400.0),
    change=st.floats(-500.0, 500.0),
    decay=st.floats(0.0, 1000.0),
)
def test_a_crossing_is_always_within_the_step(first, last, threshold, change, decay) -> None:
    assert 0.0 <= crossing(Course(first, last, change), threshold, decay) <= 1.0
