"""The control rule at work: what the fan is told, and when within a step it is told otherwise.

A rule has three latches. "Warm" is set when the signal reaches `start` and falls when it reaches
`stop`; "high" likewise at the thresholds of the second speed; "blocked" is set when the room reaches its
limit and falls a band below it.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.compiled import kernel
from simengine.control.crossing import Course, crossing
from simengine.vector import where

Array = NDArray[np.float64]

NEVER = 2.0  # a fraction of the step that is never reached
ROUNDING = 1.0e-9  # [s] a least time is over that much early
QUICKEST = 1.0e-3  # [s] a sensor's time constant counts as no shorter


class Rule(NamedTuple):
    """The numbers of the rule; stored as rows [Rule, lane]."""

    start: float  # [K]
    stop: float  # [K]
    reference_weight: float  # [-] of the room in the signal
    time_constant: float  # [s] of both sensors
    room_limit: float  # [K]
    room_band: float  # [K]
    minimum_on: float  # [s]
    minimum_off: float  # [s]
    low_speed: float  # [-] of full speed, while warm and not high
    second_start: float  # [K] full speed at or above this signal
    second_stop: float  # [K]
    slope: float  # [1/K] by which the low speed grows with the signal above `stop`
    drive: float  # [-] factor on the speed in this interval; 0 where the fan may not run


class Memory(NamedTuple):
    """What the rule remembers of one member."""

    warm: float  # 1 or 0
    blocked: float  # 1 or 0
    running: float  # 1 or 0
    since: float  # [s] since the fan was last switched
    high: float  # 1 or 0


@kernel
def read_rule(rows: Array, drive: Array, interval: int, lane: int) -> Rule:
    """Return the `Rule` of one lane in one interval; `drive` is [interval, lane]."""
    return Rule(
        rows[0, lane],
        rows[1, lane],
        rows[2, lane],
        rows[3, lane],
        rows[4, lane],
        rows[5, lane],
        rows[6, lane],
        rows[7, lane],
        rows[8, lane],
        rows[9, lane],
        rows[10, lane],
        rows[11, lane],
        drive[interval, lane],
    )


@kernel
def latch(memory: Memory, rule: Rule, signal: float, room: float) -> Memory:
    """Return the memory after all latches have seen the readings of the moment [K].

    Source: definition of a switch with a dead band.
    """
    warm = where(signal >= rule.start, 1.0, where(signal <= rule.stop, 0.0, memory.warm))
    high = where(signal >= rule.second_start, 1.0, where(signal <= rule.second_stop, 0.0, memory.high))
    limit = rule.room_limit
    free = limit - rule.room_band
    blocked = where(room >= limit, 1.0, where(room <= free, 0.0, memory.blocked))
    return Memory(warm, blocked, memory.running, memory.since, high)


@kernel
def wanted(memory: Memory, rule: Rule) -> float:
    """Return 1 where latches, season and schedule want the fan to run, else 0."""
    may_run = where(rule.drive > 0.0, 1.0, 0.0)
    return memory.warm * (1.0 - memory.blocked) * may_run


@kernel
def switch(memory: Memory, rule: Rule) -> Memory:
    """Return the memory after the fan has followed the latches, if the least times allow.

    Source: definition.
    """
    asked = wanted(memory, rule)
    least = where(memory.running > 0.5, rule.minimum_on, rule.minimum_off)
    change = (asked != memory.running) & (memory.since >= least - ROUNDING)
    return Memory(
        memory.warm,
        memory.blocked,
        where(change, asked, memory.running),
        where(change, 0.0, memory.since),
        memory.high,
    )


@kernel
def speed(memory: Memory, rule: Rule, signal: float) -> float:
    """Return the fan's share of full speed at a signal [K].

    Parameters
    ----------
    memory, rule : the rule and what it remembers
    signal : of the collector's sensor [K]; counts where the rule has a slope

    Returns
    -------
    speed, 0 to 1 [-]

    Source: definition; a fan that runs on through its least time keeps at least its low speed.

    >>> rule = Rule(308.0, 300.0, 0.0, 60.0, 298.0, 0.5, 0.0, 0.0, 0.4, 1e9, 1e9, 0.05, 1.0)
    >>> round(speed(Memory(1.0, 0.0, 1.0, 0.0, 0.0), rule, 306.0), 3)  # 0.4 + 6 x 0.05
    0.7
    """
    # outside season and schedule a fan that runs on does so at its own speed
    drive = where(rule.drive > 0.0, rule.drive, 1.0)
    risen = rule.low_speed + rule.slope * max(signal - rule.stop, 0.0)
    share = where(memory.high > 0.5, 1.0, min(risen, 1.0))
    return memory.running * drive * share


@kernel
def may_switch(memory: Memory, rule: Rule, signal: float, room: float) -> bool:
    """Return whether `next_event` can find anything in a step that ends at these readings [K].

    Source: without a latch that moves, and with a fan that does what they want, nothing happens.
    """
    warm = where(memory.warm > 0.5, rule.stop - signal, signal - rule.start) >= 0.0
    high = where(memory.high > 0.5, rule.second_stop - signal, signal - rule.second_start) >= 0.0
    limit = rule.room_limit
    blocked = where(memory.blocked > 0.5, limit - rule.room_band - room, room - limit) >= 0.0
    return warm | high | blocked | (wanted(memory, rule) != memory.running)


@kernel
def next_event(
    memory: Memory, rule: Rule, signal: Course, room: Course, length: float
) -> tuple[float, Memory]:
    """Return when in a step the fan switches or changes its speed, and the latches then.

    Parameters
    ----------
    memory, rule : the rule and what it remembers at the start of the step
    signal, room : courses of the collector's signal and of the room's temperature [K]
    length : of the step [s]

    Returns
    -------
    (fraction, memory) : fraction of the step, above 1 if the fan goes on as it does; latches after it

    Source: definition; a latch's crossing by interpolation of the sensor, put off to the end of the
    least time where that is later.
    """
    decay = length / max(rule.time_constant, QUICKEST)
    at_warm = _passes(memory.warm, signal, rule.start, rule.stop, decay)
    at_high = _passes(memory.high, signal, rule.second_start, rule.second_stop, decay)
    at_blocked = _passes(memory.blocked, room, rule.room_limit, rule.room_limit - rule.room_band, decay)
    least = rule.minimum_on if memory.running > 0.5 else rule.minimum_off
    at_time = max(least - memory.since, 0.0) / length
    first = min(at_warm, at_blocked)
    # what a latch wants before the fan may follow waits for the end of the least time
    waits = (wanted(memory, rule) != memory.running) & (at_time < first)
    fraction = at_time if waits else max(first, at_time)
    then = _after(memory, fraction, at_warm, at_blocked, at_high)
    switches = wanted(then, rule) != memory.running
    # the second speed needs no waiting, and matters only while the fan runs
    changes = (memory.running > 0.5) & (at_high < (fraction if switches else NEVER))
    when = at_high if changes else (fraction if switches else NEVER)
    return when, _after(memory, when, at_warm, at_blocked, at_high)


@kernel
def _passes(set_now: float, course: Course, upper: float, lower: float, decay: float) -> float:
    """Return when a course sets or frees a latch, as a fraction of the step; `NEVER` if it does not."""
    up = (set_now < 0.5) & (course.last >= upper)
    down = (set_now > 0.5) & (course.last <= lower)
    return crossing(course, upper if up else lower, decay) if up | down else NEVER


@kernel
def _after(memory: Memory, when: float, at_warm: float, at_blocked: float, at_high: float) -> Memory:
    """Return the latches after those events that have happened by then."""
    passed_warm = (at_warm <= when) & (at_warm < NEVER)
    passed_blocked = (at_blocked <= when) & (at_blocked < NEVER)
    passed_high = (at_high <= when) & (at_high < NEVER)
    return Memory(
        1.0 - memory.warm if passed_warm else memory.warm,
        1.0 - memory.blocked if passed_blocked else memory.blocked,
        memory.running,
        memory.since,
        1.0 - memory.high if passed_high else memory.high,
    )
