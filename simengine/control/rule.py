"""The control rule at work: what the fan is told, and when within a step it is told otherwise.

A rule has two latches. "Warm" is set when the signal reaches `start` and falls when it reaches
`stop`; "blocked" is set when the room reaches its limit and falls a band below it.
"""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.compiled import kernel

Array = NDArray[np.float64]

NEVER = 2.0  # a fraction of the step that is never reached
ROUNDING = 1.0e-9  # [s] a least time is over that much early
SHORT = 1.0e-3  # [time constants] length of a step below which a parabola serves
NEWTON_TURNS = 20
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
    allowed: float  # [-] 1 in a month in which the fan may run, else 0


class Memory(NamedTuple):
    """What the rule remembers of one member."""

    warm: float  # 1 or 0
    blocked: float  # 1 or 0
    running: float  # 1 or 0
    since: float  # [s] since the fan was last switched


class Course(NamedTuple):
    """A sensor signal over a step: at its start, at its end, and how fast it moves at its end."""

    first: float  # [K]
    last: float  # [K]
    change: float  # [K] slope at the end times the length of the step


@kernel
def read_rule(rows: Array, months: Array, month: int, lane: int) -> Rule:
    """Return the `Rule` of one lane in one month; `months` is [12, lane] of 1 or 0."""
    return Rule(
        rows[0, lane],
        rows[1, lane],
        rows[2, lane],
        rows[3, lane],
        rows[4, lane],
        rows[5, lane],
        rows[6, lane],
        rows[7, lane],
        months[month, lane],
    )


@kernel
def parabola_crossing(course: Course, threshold: float) -> float:
    """Return the fraction of the step at which a parabola passes a threshold.

    Parameters
    ----------
    course : ends of the parabola and the slope of its end
    threshold : level to be passed [K], between the ends

    Returns
    -------
    fraction, 0 to 1 [-]; that of the straight line where the parabola has no root in the step

    Source: quadratic formula.

    >>> parabola_crossing(Course(0.0, 4.0, 8.0), 1.0)  # theta^2 = 1/4
    0.5
    """
    rise = course.last - course.first
    gap = threshold - course.first
    straight = gap / (rise if rise != 0.0 else 1.0)
    curve = course.change - rise
    slope = rise - curve
    root = math.sqrt(max(slope * slope + 4.0 * curve * gap, 0.0))
    below = slope + math.copysign(root, rise)
    curved = 2.0 * gap / (below if below != 0.0 else 1.0)
    inside = (curved >= 0.0) & (curved <= 1.0) & (below != 0.0)
    return min(max(curved if inside else straight, 0.0), 1.0)


@kernel
def crossing(course: Course, threshold: float, decay: float) -> float:
    """Return the fraction of the step at which a sensor passes a threshold.

    Parameters
    ----------
    course : the sensor's signal; its place moves in a straight line, which the sensor follows
    threshold : level to be passed [K], between the ends
    decay : length of the step over the sensor's time constant [-]

    Returns
    -------
    fraction, 0 to 1 [-]; that of the parabola where the step is very short

    Source: a + b theta + k exp(-decay theta) through both ends with the slope of the end; Newton's method,
    kept between the ends by halving, since the sensor may turn within the step.

    >>> course = Course(8.0, 1.0, -math.log(8.0))  # 8 exp(-ln 8 theta)
    >>> round(crossing(course, 2.0, math.log(8.0)), 6)  # ln 4 / ln 8
    0.666667
    """
    theta = parabola_crossing(course, threshold)
    if decay < SHORT:
        return theta
    rise = course.last - course.first
    left = math.exp(-decay)
    k = (rise - course.change) / (left * (1.0 + decay) - 1.0)
    b = course.change + k * decay * left
    above = course.first - k - threshold
    low, high = 0.0, 1.0
    for _ in range(NEWTON_TURNS):
        fading = k * math.exp(-decay * theta)
        excess = above + b * theta + fading
        passed = excess * rise > 0.0
        low = low if passed else theta
        high = theta if passed else high
        slope = b - decay * fading
        ahead = theta - excess / (slope if slope != 0.0 else 1.0)
        near = (slope != 0.0) & (ahead >= low) & (ahead <= high)
        theta = ahead if near else 0.5 * (low + high)
    return theta


@kernel
def latch(memory: Memory, rule: Rule, signal: float, room: float) -> Memory:
    """Return the memory after both latches have seen the readings of the moment [K].

    Source: definition of a switch with a dead band.
    """
    warm = 1.0 if signal >= rule.start else (0.0 if signal <= rule.stop else memory.warm)
    limit = rule.room_limit
    free = limit - rule.room_band
    blocked = 1.0 if room >= limit else (0.0 if room <= free else memory.blocked)
    return Memory(warm, blocked, memory.running, memory.since)


@kernel
def switch(memory: Memory, rule: Rule) -> Memory:
    """Return the memory after the fan has followed the latches, if season and least times allow.

    Source: definition.
    """
    wanted = memory.warm * (1.0 - memory.blocked) * rule.allowed
    least = rule.minimum_on if memory.running > 0.5 else rule.minimum_off
    change = (wanted != memory.running) & (memory.since >= least - ROUNDING)
    return Memory(
        memory.warm,
        memory.blocked,
        wanted if change else memory.running,
        0.0 if change else memory.since,
    )


@kernel
def next_event(
    memory: Memory, rule: Rule, signal: Course, room: Course, length: float
) -> tuple[float, float, float]:
    """Return when in a step the fan switches, and the latches then.

    Parameters
    ----------
    memory, rule : the rule and what it remembers at the start of the step
    signal, room : courses of the collector's signal and of the room's temperature [K]
    length : of the step [s]

    Returns
    -------
    (fraction, warm, blocked) : fraction of the step, above 1 if the fan stays as it is; latches after it

    Source: definition; a latch's crossing by interpolation of the sensor, put off to the end of the
    least time where that is later.
    """
    up = (memory.warm < 0.5) & (signal.last >= rule.start)
    down = (memory.warm > 0.5) & (signal.last <= rule.stop)
    level = rule.start if up else rule.stop
    decay = length / max(rule.time_constant, QUICKEST)
    at_warm = crossing(signal, level, decay) if up | down else NEVER
    limit = rule.room_limit
    hot = (memory.blocked < 0.5) & (room.last >= limit)
    cool = (memory.blocked > 0.5) & (room.last <= limit - rule.room_band)
    level = limit if hot else limit - rule.room_band
    at_blocked = crossing(room, level, decay) if hot | cool else NEVER
    wanted = memory.warm * (1.0 - memory.blocked) * rule.allowed
    least = rule.minimum_on if memory.running > 0.5 else rule.minimum_off
    at_time = max(least - memory.since, 0.0) / length
    first = min(at_warm, at_blocked)
    # what a latch wants before the fan may follow waits for the end of the least time
    waits = (wanted != memory.running) & (at_time < first)
    fraction = at_time if waits else max(first, at_time)
    warm = 1.0 - memory.warm if at_warm <= fraction and at_warm < NEVER else memory.warm
    blocked = 1.0 - memory.blocked if at_blocked <= fraction and at_blocked < NEVER else memory.blocked
    switches = warm * (1.0 - blocked) * rule.allowed != memory.running
    return fraction if switches else NEVER, warm, blocked
