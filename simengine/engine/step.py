"""One turn of a lane: a part of a step is tried, and taken if nothing happens to the fan within it.

Every lane goes by its own clock, so that what happens in one never changes or delays another. A fan that
must switch within a part shortens it to that very moment; what comes after begins with short parts, for a
light absorber moves fast then, and grows with the time that the fan has been left alone.
"""

from simengine.compiled import kernel
from simengine.control.crossing import Course
from simengine.control.rule import latch, may_switch, next_event, read_rule, wanted
from simengine.engine.advance import advance
from simengine.engine.fan import recall, set_fan
from simengine.engine.free_speed import begin_search, speed_fits
from simengine.engine.ledger import BOX_TERMS, EXTREME_FROM, HOUSE_TERMS, Column
from simengine.engine.state import (
    BLOCKED,
    CALM,
    CUT,
    CUTS,
    DRIFT,
    FREE,
    HIGH,
    KNOWN,
    LEFT,
    LENGTH,
    NOW,
    RISE,
    ROOM_SENSOR,
    SENSOR,
    SINCE,
    STEP,
    STEPS_LEFT,
    TAKEN,
    TRIAL,
    WARM,
    Array,
    Member,
    Scratch,
    State,
)
from simengine.vector import any_of, first_of, lanes_in, same_in, where

MOST_CUTS = 24.0
"""A fan that has switched so often of late waits for the end of the part that is tried."""
FORGOTTEN = 10.0
"""Time after which one of these is forgotten [s]."""
FIRST_PART = 20.0
"""Longest part after the fan was told something else [s]."""
GROWTH = 0.8
"""Later parts last no longer than this share of the time since then [-]."""


@kernel
def take_turn(member: Member, state: State, work: Scratch, lane: int) -> None:
    """Try a part of a step; take it, or make ready for another try.

    Parameters
    ----------
    member : what is marched
    state : buffer `NOW` is the state before, and after if the part is taken
    work : the clock, the weather of the moment, and the ledger of the interval, to which the part is added
    lane : which member, or which block of them

    Source: `advance`, `speed_fits`, `next_event`.
    """
    clock = work.clock
    advance(member, state, work, lane)
    clock[TAKEN, lane] = where(clock[STEPS_LEFT, lane] > 0.0, 1.0, 0.0)
    first, beyond = first_of(lane), first_of(lane) + lanes_in(lane)
    if any_of(work.match[KNOWN, lane] < 1.5):
        for one in range(first, beyond):
            if (work.match[KNOWN, one] < 1.5) & (clock[TAKEN, one] > 0.5):
                clock[TAKEN, one] = 1.0 if speed_fits(member, state, work, one) else 0.0
    rule = read_rule(member.rule, work.drive, 0, lane)
    room = state.zone[TRIAL, ROOM_SENSOR, lane]
    signal = state.zone[TRIAL, SENSOR, lane] - rule.reference_weight * room
    whole = (clock[TAKEN, lane] > 0.5) & (clock[CUT, lane] < 0.5)
    if any_of(whole & may_switch(recall(state, lane), rule, signal, room)):
        for one in range(first, beyond):
            if (clock[TAKEN, one] > 0.5) & (clock[CUT, one] < 0.5) & (clock[CUTS, one] < MOST_CUTS):
                _cut_at_event(member, state, work, one)
    _keep(member, state, work, lane)
    _see_readings(member, state, work, lane)


@kernel
def next_length(work: Scratch, lane: int) -> float:
    """Return how long the next part of the step is to be [s]."""
    graded = max(GROWTH * work.clock[CALM, lane], FIRST_PART)
    length: float = min(work.clock[LEFT, lane], graded)
    return length


@kernel
def _cut_at_event(member: Member, state: State, work: Scratch, lane: int) -> None:
    """Shorten the part to the moment at which the fan is told otherwise, and move the latches."""
    rule = read_rule(member.rule, work.drive, 0, lane)
    length = work.clock[LENGTH, lane]
    zone, rate, weight = state.zone, work.sensor_rate, rule.reference_weight
    signal = Course(
        zone[NOW, SENSOR, lane] - weight * zone[NOW, ROOM_SENSOR, lane],
        zone[TRIAL, SENSOR, lane] - weight * zone[TRIAL, ROOM_SENSOR, lane],
        (rate[0, lane] - weight * rate[1, lane]) * length,
    )
    room = Course(zone[NOW, ROOM_SENSOR, lane], zone[TRIAL, ROOM_SENSOR, lane], rate[1, lane] * length)
    fraction, then = next_event(recall(state, lane), rule, signal, room, length)
    if fraction < 1.0:
        state.control[WARM, lane] = then.warm
        state.control[BLOCKED, lane] = then.blocked
        state.control[HIGH, lane] = then.high
        work.clock[LENGTH, lane] = fraction * length
        work.clock[CUT, lane] = 1.0
        work.clock[CUTS, lane] += 1.0
        work.clock[TAKEN, lane] = 0.0
        begin_search(work, lane)


@kernel
def _keep(member: Member, state: State, work: Scratch, lane: int) -> None:
    """Make the trial the state of lanes whose part is taken, and add its flows to the interval."""
    clock, part, interval = work.clock, work.part, work.interval
    taken = clock[TAKEN, lane] > 0.5
    length = clock[LENGTH, lane]
    moves = taken & (length > 0.0)
    for node in range(state.nodes.shape[1]):
        for s in range(state.nodes.shape[2]):
            old, new = state.nodes[NOW, node, s, lane], state.nodes[TRIAL, node, s, lane]
            state.nodes[NOW, node, s, lane] = where(moves, new, old)
            old, new = state.rate[NOW, node, s, lane], state.rate[TRIAL, node, s, lane]
            state.rate[NOW, node, s, lane] = where(moves, new, old)
    for row in range(state.zone.shape[1]):
        old, new = state.zone[NOW, row, lane], state.zone[TRIAL, row, lane]
        state.zone[NOW, row, lane] = where(moves, new, old)
    for column in range(EXTREME_FROM):
        interval[column, lane] += where(moves, part[column, lane], 0.0)
    peak = max(interval[Column.PEAK_SUPPLY, lane], part[Column.PEAK_SUPPLY, lane])
    interval[Column.PEAK_SUPPLY, lane] = where(moves, peak, interval[Column.PEAK_SUPPLY, lane])
    for row in range(2):
        balance, size = _terms(part, BOX_TERMS, lane) if row == 0 else _terms(part, HOUSE_TERMS, lane)
        work.balance[2 * row, lane] += where(moves, balance, 0.0)
        work.balance[2 * row + 1, lane] += where(moves, size, 0.0)
    state.control[DRIFT, lane] = where(taken, work.speed[lane], state.control[DRIFT, lane])
    passed = where(taken, length, 0.0)
    state.control[SINCE, lane] += passed
    clock[CALM, lane] += passed
    clock[LEFT, lane] -= passed
    clock[CUTS, lane] = max(clock[CUTS, lane] - passed * (1.0 / FORGOTTEN), 0.0)


@kernel
def _terms(part: Array, terms: tuple[tuple[int, float], ...], lane: int) -> tuple[float, float]:
    """Return in - out - stored, and the sum of the terms' sizes [J]."""
    balance, size = same_in(lane, 0.0), same_in(lane, 0.0)
    for column, sign in terms:
        balance += sign * part[column, lane]
        size += abs(part[column, lane])
    return balance, size


@kernel
def _see_readings(member: Member, state: State, work: Scratch, lane: int) -> None:
    """Let the latches see the readings of lanes whose part is taken, the fan follow them, the clock go on."""
    clock, control = work.clock, state.control
    taken = clock[TAKEN, lane] > 0.5
    rule = read_rule(member.rule, work.drive, 0, lane)
    room = state.zone[NOW, ROOM_SENSOR, lane]
    signal = state.zone[NOW, SENSOR, lane] - rule.reference_weight * room
    cut = clock[CUT, lane] > 0.5
    before = recall(state, lane)
    seen = latch(before, rule, signal, room)
    looks = taken & (clock[CUT, lane] < 0.5)
    control[WARM, lane] = where(looks, seen.warm, before.warm)
    control[BLOCKED, lane] = where(looks, seen.blocked, before.blocked)
    control[HIGH, lane] = where(looks, seen.high, before.high)
    clock[CUT, lane] = where(taken, 0.0, clock[CUT, lane])
    _end_step(member, work, lane)
    memory = recall(state, lane)
    told = cut | (memory.high != before.high) | (wanted(memory, rule) != memory.running)
    clock[CALM, lane] = where(taken & cut, 0.0, clock[CALM, lane])
    goes_on = taken & (clock[STEPS_LEFT, lane] > 0.0)  # else the next interval tells the fan
    if any_of(goes_on & (told | (work.match[FREE, lane] > 0.5))):
        for one in range(first_of(lane), first_of(lane) + lanes_in(lane)):
            if (clock[TAKEN, one] > 0.5) & (clock[STEPS_LEFT, one] > 0.0):
                set_fan(member, state, work, one)
                begin_search(work, one)
    clock[LENGTH, lane] = where(taken, next_length(work, lane), clock[LENGTH, lane])


@kernel
def _end_step(member: Member, work: Scratch, lane: int) -> None:
    """Close the books of lanes whose step is over, and begin their next step."""
    clock, balance = work.clock, work.balance
    ended = (clock[TAKEN, lane] > 0.5) & (clock[LEFT, lane] <= 0.0)
    # 1 W/m2 of aperture
    floor = clock[STEP, lane] * member.network.box[0, lane] * work.stage.film.shape[1]
    for row in range(2):
        column = Column.RESIDUAL if row == 0 else Column.HOUSE_RESIDUAL
        residual = abs(balance[2 * row, lane]) / max(balance[2 * row + 1, lane], floor)
        worst = max(work.interval[column, lane], residual)
        work.interval[column, lane] = where(ended, worst, work.interval[column, lane])
        balance[2 * row, lane] = where(ended, 0.0, balance[2 * row, lane])
        balance[2 * row + 1, lane] = where(ended, 0.0, balance[2 * row + 1, lane])
    clock[STEPS_LEFT, lane] -= where(ended, 1.0, 0.0)
    clock[STEP, lane] += where(ended, clock[RISE, lane], 0.0)
    clock[LEFT, lane] = where(ended, clock[STEP, lane], clock[LEFT, lane])
