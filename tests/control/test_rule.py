"""The control rule: crossings, latches, least times, season, room limit, and what they do together."""

import math
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.optimize import brentq

from simengine.control.rule import (
    NEVER,
    Course,
    Memory,
    Rule,
    crossing,
    latch,
    next_event,
    parabola_crossing,
    read_rule,
    switch,
)

ONE_SPEED = (1.0, math.inf, math.inf, 0.0, 1.0)
"""The rest of a rule: full speed, no second threshold, no slope, free to run."""
SNAP = Rule(316.0, 303.0, 0.0, 60.0, 298.15, 0.5, 0.0, 0.0, *ONE_SPEED)
IDLE = Memory(0.0, 0.0, 0.0, 1e9, 0.0)
BUSY = Memory(1.0, 0.0, 1.0, 1e9, 0.0)
COLD_ROOM = Course(293.0, 293.0, 0.0)


def event(
    memory: Memory, rule: Rule, signal: Course, room: Course, length: float
) -> tuple[float, float, float]:
    """Return when something happens, and two latches then."""
    fraction, then = next_event(memory, rule, signal, room, length)
    return fraction, then.warm, then.blocked


def still(value: float) -> Course:
    return Course(value, value, 0.0)


def line(first: float, last: float) -> Course:
    return Course(first, last, last - first)


# ---- crossings: mathematics ------------------------------------------------------------------------------


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


# ---- latches and switch: definitions ---------------------------------------------------------------------


def test_rows_are_read_in_the_order_of_the_fields() -> None:
    rows, drive = np.arange(12.0)[:, None], np.full((4, 1), 12.0)
    assert read_rule(rows, drive, 3, 0) == Rule(*range(13))


@pytest.mark.parametrize(
    ("before", "signal", "after"),
    [(0.0, 316.0, 1.0), (0.0, 315.9, 0.0), (1.0, 303.0, 0.0), (1.0, 303.1, 1.0), (0.0, 303.0, 0.0)],
)
def test_warm_is_set_at_start_and_falls_at_stop(before, signal, after) -> None:
    assert latch(IDLE._replace(warm=before), SNAP, signal, 290.0).warm == after


@pytest.mark.parametrize(
    ("before", "room", "after"),
    [(0.0, 298.15, 1.0), (0.0, 298.1, 0.0), (1.0, 297.65, 0.0), (1.0, 297.7, 1.0)],
)
def test_the_room_limit_has_its_dead_band(before, room, after) -> None:
    assert latch(BUSY._replace(blocked=before), SNAP, 310.0, room).blocked == after


def test_the_fan_runs_if_warm_and_not_blocked_and_in_season() -> None:
    warm = IDLE._replace(warm=1.0)
    assert switch(warm, SNAP).running == 1.0
    assert switch(warm._replace(blocked=1.0), SNAP).running == 0.0
    assert switch(warm, SNAP._replace(drive=0.0)).running == 0.0
    assert switch(BUSY, SNAP._replace(drive=0.0)).running == 0.0


def test_least_times_hold_the_fan_as_it_is() -> None:
    rule = SNAP._replace(minimum_on=120.0, minimum_off=300.0)
    assert switch(Memory(0.0, 0.0, 1.0, 119.0, 0.0), rule) == Memory(0.0, 0.0, 1.0, 119.0, 0.0)
    assert switch(Memory(0.0, 0.0, 1.0, 120.0, 0.0), rule) == Memory(0.0, 0.0, 0.0, 0.0, 0.0)
    assert switch(Memory(1.0, 0.0, 0.0, 299.0, 0.0), rule).running == 0.0
    assert switch(Memory(1.0, 0.0, 0.0, 300.0, 0.0), rule).running == 1.0


# ---- the next event in a step ----------------------------------------------------------------------------


def test_nothing_happens_in_a_step_without_a_crossing() -> None:
    assert event(IDLE, SNAP, still(310.0), COLD_ROOM, 60.0)[0] >= 1.0
    assert event(BUSY, SNAP, still(310.0), COLD_ROOM, 60.0)[0] >= 1.0


def test_the_fan_starts_at_the_crossing_of_start_and_stops_at_that_of_stop() -> None:
    fraction, warm, blocked = event(IDLE, SNAP, line(315.0, 319.0), COLD_ROOM, 60.0)
    assert (fraction, warm, blocked) == (pytest.approx(0.25, abs=1e-9), 1.0, 0.0)
    fraction, warm, blocked = event(BUSY, SNAP, line(305.0, 301.0), COLD_ROOM, 60.0)
    assert (fraction, warm, blocked) == (pytest.approx(0.5, abs=1e-9), 0.0, 0.0)


def test_the_room_limit_stops_the_fan_and_its_band_frees_it() -> None:
    hot = line(298.05, 298.25)
    fraction, warm, blocked = event(BUSY, SNAP, still(310.0), hot, 60.0)
    assert (fraction, warm, blocked) == (pytest.approx(0.5, abs=1e-6), 1.0, 1.0)
    waiting = Memory(1.0, 1.0, 0.0, 1e9, 0.0)
    fraction, warm, blocked = event(waiting, SNAP, still(310.0), line(297.7, 297.6), 60.0)
    assert (fraction, warm, blocked) == (pytest.approx(0.5, abs=1e-6), 1.0, 0.0)


@pytest.mark.parametrize(
    ("blocked", "room"),
    [
        pytest.param(0.0, line(298.0, 297.0), id="free, and falls below the limit's band"),
        pytest.param(0.0, line(297.0, 298.1), id="free, and rises below the limit"),
        pytest.param(1.0, line(298.0, 299.0), id="blocked, and rises above the limit"),
        pytest.param(1.0, line(297.9, 298.1), id="blocked, and rises within the band"),
        pytest.param(1.0, line(298.1, 297.9), id="blocked, and falls within the band"),
    ],
)
def test_a_room_that_passes_no_threshold_of_its_latch_switches_nothing(blocked, room) -> None:
    memory = Memory(1.0, blocked, 1.0 - blocked, 1e9, 0.0)
    fraction, warm, after = event(memory, SNAP, still(310.0), room, 60.0)
    assert (fraction, warm, after) == (NEVER, 1.0, blocked)


@pytest.mark.parametrize(
    ("signal", "room", "fraction", "latches"),
    [
        pytest.param(line(305.0, 300.0), line(298.0, 298.3), 0.4, (0.0, 0.0), id="cold first"),
        pytest.param(line(305.0, 302.5), line(298.05, 298.55), 0.2, (1.0, 1.0), id="limit first"),
    ],
)
def test_of_two_events_the_first_counts_and_the_other_latch_waits(signal, room, fraction, latches) -> None:
    found = event(BUSY, SNAP, signal, room, 60.0)
    assert found == (pytest.approx(fraction, abs=1e-9), *latches)


def test_out_of_season_and_above_the_room_limit_nothing_is_to_be_switched() -> None:
    rising = line(315.0, 319.0)
    assert event(IDLE, SNAP._replace(drive=0.0), rising, COLD_ROOM, 60.0)[0] == NEVER
    assert event(IDLE._replace(blocked=1.0), SNAP, rising, still(298.0), 60.0)[0] == NEVER


def test_the_end_of_a_least_time_is_an_event_of_its_own() -> None:
    rule = SNAP._replace(minimum_on=120.0)
    waiting = Memory(0.0, 0.0, 1.0, 90.0, 0.0)
    fraction, warm, _ = event(waiting, rule, still(302.0), COLD_ROOM, 60.0)
    assert (fraction, warm) == (0.5, 0.0)
    assert event(waiting._replace(since=20.0), rule, still(302.0), COLD_ROOM, 60.0)[0] >= 1.0


def test_a_latch_that_moves_within_a_least_time_takes_effect_at_its_end() -> None:
    rule = SNAP._replace(minimum_on=120.0)
    falling = line(305.0, 301.0)  # at 303 half way; the least time ends at three quarters
    fraction, warm, _ = event(BUSY._replace(since=75.0), rule, falling, COLD_ROOM, 60.0)
    assert (fraction, warm) == (0.75, 0.0)


def test_a_wish_that_is_taken_back_in_time_switches_nothing() -> None:
    rule = SNAP._replace(minimum_on=120.0)
    waiting = Memory(0.0, 0.0, 1.0, 75.0, 0.0)  # wants to stop; warm again at a quarter
    assert event(waiting, rule, line(315.0, 319.0), COLD_ROOM, 60.0)[0] == NEVER


@given(least=st.floats(61.0, 4000.0), passed=st.floats(0.0, 1.0), length=st.floats(1.0, 600.0))
def test_rounding_never_puts_a_switch_off(least, passed, length) -> None:
    rule = SNAP._replace(minimum_on=least)
    since = max(least - passed * length, 0.0)
    fraction, _, _ = event(Memory(0.0, 0.0, 1.0, since, 0.0), rule, still(302.0), COLD_ROOM, length)
    if fraction < 1.0:
        assert switch(Memory(0.0, 0.0, 1.0, since + fraction * length, 0.0), rule).running == 0.0


# ---- simulated examples: a sensor with an exact answer ---------------------------------------------------


class Cycle(NamedTuple):
    starts: int
    running: list[float]  # [s] length of each finished run
    resting: list[float]


def simulate(
    rule: Rule, warm_end: float, cool_end: float, constant: float, length: float, count: int
) -> Cycle:
    """March a signal that tends to one temperature at rest and to another with the fan on."""
    signal, memory = 293.0, IDLE
    running: list[float] = []
    resting: list[float] = []
    starts = 0

    def moved(first: float, seconds: float) -> Course:
        end = cool_end if memory.running > 0.5 else warm_end
        last = end + (first - end) * math.exp(-seconds / constant)
        return Course(first, last, (end - last) / constant * seconds)

    def follow(memory: Memory) -> tuple[Memory, int]:
        after = switch(memory, rule)
        if after.running != memory.running:
            (running if memory.running > 0.5 else resting).append(memory.since)
        return after, int(after.running > memory.running)

    for _ in range(count):
        memory, began = follow(memory)
        starts += began
        rest = length
        fraction, warm, blocked = event(memory, rule, moved(signal, length), COLD_ROOM, length)
        if fraction < 1.0:
            signal = moved(signal, fraction * length).last
            memory = Memory(warm, blocked, memory.running, memory.since + fraction * length, 0.0)
            memory, began = follow(memory)
            starts += began
            rest = (1.0 - fraction) * length
        signal = moved(signal, rest).last
        memory = latch(memory._replace(since=memory.since + rest), rule, signal, 293.0)
    return Cycle(starts, running, resting)


@pytest.mark.parametrize("length", [10.0, 60.0])
def test_a_snap_switch_cycles_with_the_period_of_the_exponentials(length) -> None:
    # time constant 200 s between 330 K at rest and 295 K running: T = tau ln(excess / excess)
    cycle = simulate(SNAP._replace(time_constant=200.0), 330.0, 295.0, 200.0, length, round(36000.0 / length))
    on = 200.0 * math.log((316.0 - 295.0) / (303.0 - 295.0))
    off = 200.0 * math.log((330.0 - 303.0) / (330.0 - 316.0))
    assert cycle.starts > 100
    assert cycle.running[1:] == pytest.approx([on] * (len(cycle.running) - 1), abs=1e-4)
    assert cycle.resting[2:] == pytest.approx([off] * (len(cycle.resting) - 2), abs=1e-4)


def test_a_strong_sun_holds_the_fan_on() -> None:
    cycle = simulate(SNAP, 380.0, 304.0, 200.0, 60.0, 600)
    assert cycle.starts == 1
    assert not cycle.running


def test_a_differential_thermostat_runs_between_its_two_differences() -> None:
    # signal = collector less room; on 8 K, off 2.5 K above
    rule = Rule(8.0, 2.5, 1.0, 200.0, 298.15, 0.5, 0.0, 0.0, *ONE_SPEED)
    assert event(IDLE, rule, line(7.0, 9.0), COLD_ROOM, 60.0)[:2] == (pytest.approx(0.5), 1.0)
    assert event(BUSY, rule, line(3.0, 2.0), COLD_ROOM, 60.0)[:2] == (pytest.approx(0.5), 0.0)
    assert event(BUSY, rule, line(7.0, 9.0), COLD_ROOM, 60.0)[0] >= 1.0


@pytest.mark.parametrize("length", [10.0, 60.0, 90.0])
def test_least_times_are_kept_to_the_moment(length) -> None:
    rule = SNAP._replace(time_constant=200.0, minimum_on=333.3, minimum_off=450.0)
    cycle = simulate(rule, 330.0, 295.0, 200.0, length, round(36000.0 / length))
    assert cycle.running == pytest.approx([333.3] * len(cycle.running), abs=1e-6)
    assert cycle.resting[1:] == pytest.approx([450.0] * (len(cycle.resting) - 1), abs=1e-6)
