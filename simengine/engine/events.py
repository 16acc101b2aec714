"""What happens to the fan within a step: it switches, it changes its speed, its latches see their sensors."""

from simengine.airflow.passive import read_passive
from simengine.compiled import kernel
from simengine.control.crossing import Course
from simengine.control.rule import Memory, latch, next_event, read_rule, speed, switch
from simengine.engine.ledger import Column
from simengine.engine.state import (
    BLOCKED,
    DRIFT,
    HIGH,
    ROOM_SENSOR,
    RUNNING,
    SENSOR,
    SINCE,
    TRIAL,
    WARM,
    Member,
    Scratch,
    State,
)


@kernel
def recall(state: State, lane: int) -> Memory:
    """Return what the rule remembers of a lane."""
    control = state.control
    return Memory(
        control[WARM, lane],
        control[BLOCKED, lane],
        control[RUNNING, lane],
        control[SINCE, lane],
        control[HIGH, lane],
    )


@kernel
def set_fan(member: Member, interval: int, state: State, lane: int, work: Scratch) -> None:
    """Let the fan follow the latches; count its starts; say how fast the air moves, or begin to guess."""
    before = state.control[RUNNING, lane]
    rule = read_rule(member.rule, member.drive, interval, lane)
    memory = switch(recall(state, lane), rule)
    runs = memory.running > 0.5
    work.interval[Column.FAN_STARTS, lane] += 1.0 if runs & (before < 0.5) else 0.0
    state.control[RUNNING, lane] = memory.running
    state.control[SINCE, lane] = memory.since
    passive = read_passive(member.passive, lane)
    drifts = (not runs) & (passive.forward + passive.reverse > 0.0)
    follows = runs & (rule.slope > 0.0) & (memory.high < 0.5)
    free = drifts | follows
    same = memory.running == before  # a flow of the other kind is no guess
    last = state.control[DRIFT, lane] if same else 0.0
    work.fan[lane] = memory.running
    work.match[0, lane] = 1.0 if free else 0.0
    work.speed[lane] = last if free else speed(memory, rule, rule.stop)


@kernel
def find_event(member: Member, interval: int, state: State, source: int, work: Scratch, lane: int) -> bool:
    """Shorten the lane's length to the moment at which the fan switches, and move the latches."""
    length = work.left[lane]
    if length <= 0.0:  # this lane stands at the end of the step already
        return False
    rule = read_rule(member.rule, member.drive, interval, lane)
    zone, rate = state.zone, state.zone_rate
    weight = rule.reference_weight
    signal = Course(
        zone[source, SENSOR, lane] - weight * zone[source, ROOM_SENSOR, lane],
        zone[TRIAL, SENSOR, lane] - weight * zone[TRIAL, ROOM_SENSOR, lane],
        (rate[TRIAL, SENSOR, lane] - weight * rate[TRIAL, ROOM_SENSOR, lane]) * length,
    )
    room = Course(
        zone[source, ROOM_SENSOR, lane],
        zone[TRIAL, ROOM_SENSOR, lane],
        rate[TRIAL, ROOM_SENSOR, lane] * length,
    )
    fraction, then = next_event(recall(state, lane), rule, signal, room, length)
    happens = fraction < 1.0
    state.control[WARM, lane] = then.warm if happens else state.control[WARM, lane]
    state.control[BLOCKED, lane] = then.blocked if happens else state.control[BLOCKED, lane]
    state.control[HIGH, lane] = then.high if happens else state.control[HIGH, lane]
    work.length[lane] = fraction * length if happens else length
    return happens


@kernel
def pass_event(member: Member, interval: int, state: State, work: Scratch, lane: int) -> None:
    """Stand at the moment of the event: switch the fan, and leave the rest of the step to be taken."""
    state.control[SINCE, lane] += work.length[lane]
    state.control[DRIFT, lane] = work.speed[lane]
    work.left[lane] -= work.length[lane]
    work.length[lane] = work.left[lane]
    if work.length[lane] > 0.0:
        set_fan(member, interval, state, lane, work)


@kernel
def see_readings(member: Member, interval: int, state: State, work: Scratch, lane: int) -> None:
    """Let the latches see the readings at the end of the step."""
    rule = read_rule(member.rule, member.drive, interval, lane)
    state.control[SINCE, lane] += work.length[lane]
    room = state.zone[TRIAL, ROOM_SENSOR, lane]
    signal = state.zone[TRIAL, SENSOR, lane] - rule.reference_weight * room
    memory = latch(recall(state, lane), rule, signal, room)
    state.control[WARM, lane] = memory.warm
    state.control[BLOCKED, lane] = memory.blocked
    state.control[HIGH, lane] = memory.high
    state.control[DRIFT, lane] = work.speed[lane]
