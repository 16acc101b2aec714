"""The control rule: latches, least times, season, room limit, and what they do together."""

import math
from typing import NamedTuple

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simengine.control.crossing import Course
from simengine.control.rule import NEVER, Memory, Rule, latch, next_event, read_rule, speed, switch

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


# ---- speeds ----------------------------------------------------------------------------------------------

TWO = SNAP._replace(low_speed=0.5, second_start=330.0, second_stop=320.0)
RISING = SNAP._replace(low_speed=0.4, slope=0.6 / 25.0)  # full speed at 328 K


@pytest.mark.parametrize(
    ("before", "signal", "after"),
    [(0.0, 330.0, 1.0), (0.0, 329.9, 0.0), (1.0, 320.0, 0.0), (1.0, 320.1, 1.0), (1.0, 300.0, 0.0)],
)
def test_the_second_speed_is_set_and_falls_at_its_own_thresholds(before, signal, after) -> None:
    assert latch(BUSY._replace(high=before), TWO, signal, 290.0).high == after


def test_a_rule_without_a_second_speed_never_sets_it() -> None:
    for signal in (200.0, 316.0, 1e4):
        assert latch(IDLE, SNAP, signal, 290.0).high == 0.0


@pytest.mark.parametrize(
    ("rule", "high", "signal", "expected"),
    [
        pytest.param(SNAP, 0.0, 310.0, 1.0, id="one speed"),
        pytest.param(TWO, 0.0, 329.0, 0.5, id="low"),
        pytest.param(TWO, 1.0, 325.0, 1.0, id="high"),
        pytest.param(RISING, 0.0, 303.0, 0.4, id="at its stop"),
        pytest.param(RISING, 0.0, 315.5, 0.7, id="half way"),
        pytest.param(RISING, 0.0, 328.0, 1.0, id="at full speed"),
        pytest.param(RISING, 0.0, 360.0, 1.0, id="never faster"),
        pytest.param(RISING, 0.0, 290.0, 0.4, id="held on by a least time"),
        pytest.param(SNAP._replace(drive=0.6), 0.0, 310.0, 0.6, id="driven by a module"),
        pytest.param(TWO._replace(drive=0.6), 0.0, 310.0, 0.3, id="of what drives it"),
    ],
)
def test_the_speed_of_a_running_fan(rule, high, signal, expected) -> None:
    assert speed(BUSY._replace(high=high), rule, signal) == pytest.approx(expected, abs=1e-12)
    assert speed(IDLE._replace(high=high), rule, signal) == 0.0


def test_the_second_speed_comes_at_its_crossing_and_leaves_at_its_own() -> None:
    fraction, then = next_event(BUSY, TWO, line(328.0, 336.0), COLD_ROOM, 60.0)
    assert (fraction, then.high, then.warm) == (pytest.approx(0.25, abs=1e-9), 1.0, 1.0)
    fraction, then = next_event(BUSY._replace(high=1.0), TWO, line(322.0, 318.0), COLD_ROOM, 60.0)
    assert (fraction, then.high, then.warm) == (pytest.approx(0.5, abs=1e-9), 0.0, 1.0)


def test_the_second_speed_waits_for_no_least_time() -> None:
    rule = TWO._replace(minimum_on=3600.0)
    fraction, then = next_event(BUSY._replace(since=10.0), rule, line(328.0, 336.0), COLD_ROOM, 60.0)
    assert (fraction, then.high) == (pytest.approx(0.25, abs=1e-9), 1.0)


def test_a_step_that_passes_both_thresholds_ends_at_the_first() -> None:
    fraction, then = next_event(IDLE, TWO, line(306.0, 346.0), COLD_ROOM, 60.0)
    assert (fraction, then.warm, then.high) == (pytest.approx(0.25, abs=1e-9), 1.0, 0.0)
    busy = BUSY._replace(high=1.0)
    fraction, then = next_event(busy, TWO, line(325.0, 285.0), COLD_ROOM, 60.0)
    assert (fraction, then.warm, then.high) == (pytest.approx(0.125, abs=1e-9), 1.0, 0.0)


def test_at_rest_the_second_speed_alone_is_no_event() -> None:
    blocked = Memory(1.0, 1.0, 0.0, 1e9, 0.0)
    assert next_event(blocked, TWO, line(328.0, 336.0), still(299.0), 60.0)[0] == NEVER


def test_where_the_schedule_ends_the_fan_stops_whatever_its_latches_say() -> None:
    closed = TWO._replace(drive=0.0)
    assert switch(BUSY, closed).running == 0.0
    held = closed._replace(minimum_on=120.0)
    running = switch(BUSY._replace(since=30.0), held)
    assert running.running == 1.0
    assert speed(running, held, 310.0) == 0.5  # through its least time, at its own speed
