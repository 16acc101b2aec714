"""One step: a state in, a state out. A fan that must switch inside it splits it at the very moment.

Scheme: two implicit stages of the singly diagonal kind, second order and L-stable (Alexander 1977).
Conductances are taken at temperatures extrapolated with the last step's rates, which keeps the order.
"""

import math

from simengine.collector.segments import read_flow_table
from simengine.compiled import kernel
from simengine.control.rule import QUICKEST, Course, Memory, latch, next_event, read_rule, switch
from simengine.engine.ledger import BOX_TERMS, EXTREME_FROM, HOUSE_TERMS, Column
from simengine.engine.stage import solve_stage
from simengine.engine.state import (
    BLOCKED,
    HALFWAY,
    NOW,
    ROOM_SENSOR,
    RUNNING,
    SENSOR,
    SINCE,
    TRIAL,
    WARM,
    Array,
    Member,
    Scratch,
    State,
)

GAMMA = 1.0 - math.sqrt(0.5)
LEAST_LENGTH = 1.0e-6  # [s] a shorter part of a step changes nothing
MOST_SPLITS = 24  # a fan that would switch more often within one step waits for the next


@kernel
def advance(member: Member, interval: int, state: State, source: int, target: int, work: Scratch) -> None:
    """Move every lane on by work.length[lane] at fan speed work.speed[lane].

    Parameters
    ----------
    member, interval : what is marched, in which weather interval
    state, source, target : from which buffer to which
    work : `speed` and `length` [s] are read; a lane of no length stays as it is; `part` receives the
        flows of this part of a step [J]

    Source: Alexander (1977), two stages, gamma = 1 - 1/sqrt(2); from memory.
    """
    stage = work.stage
    read_flow_table(member.table, work.speed, stage)
    clear(work.part)
    ratio = (1.0 - GAMMA) / GAMMA
    for lane in range(work.length.size):
        stage.duration[lane] = GAMMA * max(work.length[lane], LEAST_LENGTH)
    for turn in range(2):
        late = turn == 1
        for row in range(SENSOR):
            for lane in range(work.length.size):
                old = state.zone[source, row, lane]
                moved = ratio * (state.zone[target, row, lane] - old) if late else 0.0
                work.zone_begin[row, lane] = old + moved
        for node in range(state.nodes.shape[1]):
            for s in range(state.nodes.shape[2]):
                for lane in range(work.length.size):
                    old = state.nodes[source, node, s, lane]
                    first = state.nodes[target, node, s, lane]
                    ahead = stage.duration[lane] * state.rate[source, node, s, lane]
                    stage.begin[node, s, lane] = old + (ratio * (first - old) if late else 0.0)
                    stage.guess[node, s, lane] = first + ratio * ahead if late else old + ahead
        solve_stage(member, interval, work, GAMMA if late else 1.0 - GAMMA, state, target)
    for lane in range(work.length.size):
        _take_rates(state, source, target, work, lane)
        _follow_places(member, state, source, target, work, lane)


@kernel
def _take_rates(state: State, source: int, target: int, work: Scratch, lane: int) -> None:
    """Set the rates at the end of a part; a lane without length keeps its state."""
    moves = work.length[lane] > 0.0
    duration = work.stage.duration[lane]
    for node in range(state.nodes.shape[1]):
        for s in range(state.nodes.shape[2]):
            new = state.nodes[target, node, s, lane]
            rate = (new - work.stage.begin[node, s, lane]) / duration
            state.nodes[target, node, s, lane] = new if moves else state.nodes[source, node, s, lane]
            state.rate[target, node, s, lane] = rate if moves else state.rate[source, node, s, lane]
    middle, face = work.stage.pane.shape[0] - 1, state.nodes.shape[1] - 1
    for s in range(state.nodes.shape[2]):  # the cover's face stores nothing: its own rate jumps with the fan
        state.rate[target, face, s, lane] = state.rate[target, middle, s, lane]
    for row in range(state.zone.shape[1]):
        new = state.zone[target, row, lane]
        rate = (new - work.zone_begin[row, lane]) / duration
        state.zone[target, row, lane] = new if moves else state.zone[source, row, lane]
        state.zone_rate[target, row, lane] = rate if moves else state.zone_rate[source, row, lane]
    if not moves:
        for column in range(work.part.shape[0]):
            work.part[column, lane] = 0.0


@kernel
def _follow_places(member: Member, state: State, source: int, target: int, work: Scratch, lane: int) -> None:
    """Let both sensors follow their places, which move in a straight line through both stages.

    The stages resolve a sensor about as slow as the step is long too poorly; the exponential is exact.
    """
    if work.length[lane] <= 0.0:
        return
    length = max(work.length[lane], LEAST_LENGTH)
    constant = max(member.rule[3, lane], QUICKEST)
    left = math.exp(-length / constant)
    for sensor in range(2):
        last = work.place[1, sensor, lane]
        slope = (last - work.place[0, sensor, lane]) / ((1.0 - GAMMA) * length)
        behind = last - constant * slope  # where a sensor that follows for long stands
        old = state.zone[source, SENSOR + sensor, lane]
        new = behind + (old - (behind - slope * length)) * left
        state.zone[target, SENSOR + sensor, lane] = new
        state.zone_rate[target, SENSOR + sensor, lane] = (last - new) / constant


@kernel
def step(member: Member, interval: int, month: int, length: float, state: State, work: Scratch) -> None:
    """Move every lane on by one step, within one interval; add its flows to work.interval.

    Parameters
    ----------
    member, interval, month : what is marched, in which weather interval of which month (0 to 11)
    length : of the step [s]
    state : buffer `NOW` is the state before, and the state after
    work : scratch arrays

    Source: the step is tried whole; where the fan would switch, it is taken up to that moment, the
    fan switched, and the rest tried again with the new speed: a quick sensor starts and stops a fan
    within one step.
    """
    lanes = work.speed.size
    for lane in range(lanes):
        _switch(member, month, state, lane, work)
        work.left[lane] = length
        work.length[lane] = length
    clear(work.whole)
    source, between = NOW, HALFWAY
    splits = 0
    on_trial, ended = True, False
    while not ended:
        advance(member, interval, state, source, TRIAL if on_trial else between, work)
        if on_trial:
            split = False
            if splits < MOST_SPLITS:
                for lane in range(lanes):
                    split = _find_event(member, month, state, source, work, lane) | split
            on_trial, ended = not split, not split
        else:
            _add_part(work)
            for lane in range(lanes):
                _pass_event(member, month, state, work, lane)
            source, between = between, source
            splits += 1
            on_trial = True
    _add_part(work)
    for lane in range(lanes):
        _end_step(member, month, state, work, lane)
    _keep(state)
    _add_whole(member, work, length)


@kernel
def _recall(state: State, lane: int) -> Memory:
    control = state.control
    return Memory(control[WARM, lane], control[BLOCKED, lane], control[RUNNING, lane], control[SINCE, lane])


@kernel
def _switch(member: Member, month: int, state: State, lane: int, work: Scratch) -> None:
    """Let the fan follow the latches; count its starts."""
    before = state.control[RUNNING, lane]
    memory = switch(_recall(state, lane), read_rule(member.rule, member.months, month, lane))
    started = (memory.running > 0.5) & (before < 0.5)
    work.interval[Column.FAN_STARTS, lane] += 1.0 if started else 0.0
    state.control[RUNNING, lane] = memory.running
    state.control[SINCE, lane] = memory.since
    work.speed[lane] = memory.running


@kernel
def _find_event(member: Member, month: int, state: State, source: int, work: Scratch, lane: int) -> bool:
    """Shorten the lane's length to the moment at which the fan switches, and move the latches."""
    length = work.left[lane]
    if length <= 0.0:  # this lane stands at the end of the step already
        return False
    rule = read_rule(member.rule, member.months, month, lane)
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
    fraction, warm, blocked = next_event(_recall(state, lane), rule, signal, room, length)
    happens = fraction < 1.0
    state.control[WARM, lane] = warm if happens else state.control[WARM, lane]
    state.control[BLOCKED, lane] = blocked if happens else state.control[BLOCKED, lane]
    work.length[lane] = fraction * length if happens else length
    return happens


@kernel
def _pass_event(member: Member, month: int, state: State, work: Scratch, lane: int) -> None:
    """Stand at the moment of the event: switch the fan, and leave the rest of the step to be taken."""
    state.control[SINCE, lane] += work.length[lane]
    work.left[lane] -= work.length[lane]
    work.length[lane] = work.left[lane]
    if work.length[lane] > 0.0:
        _switch(member, month, state, lane, work)


@kernel
def _end_step(member: Member, month: int, state: State, work: Scratch, lane: int) -> None:
    """Let the latches see the readings at the end of the step."""
    rule = read_rule(member.rule, member.months, month, lane)
    state.control[SINCE, lane] += work.length[lane]
    room = state.zone[TRIAL, ROOM_SENSOR, lane]
    signal = state.zone[TRIAL, SENSOR, lane] - rule.reference_weight * room
    memory = latch(_recall(state, lane), rule, signal, room)
    state.control[WARM, lane] = memory.warm
    state.control[BLOCKED, lane] = memory.blocked


@kernel
def _keep(state: State) -> None:
    for node in range(state.nodes.shape[1]):
        for s in range(state.nodes.shape[2]):
            for lane in range(state.nodes.shape[3]):
                state.nodes[NOW, node, s, lane] = state.nodes[TRIAL, node, s, lane]
                state.rate[NOW, node, s, lane] = state.rate[TRIAL, node, s, lane]
    for row in range(state.zone.shape[1]):
        for lane in range(state.zone.shape[2]):
            state.zone[NOW, row, lane] = state.zone[TRIAL, row, lane]
            state.zone_rate[NOW, row, lane] = state.zone_rate[TRIAL, row, lane]


@kernel
def clear(ledger: Array) -> None:
    """Set a ledger [column, lane] to zero."""
    for column in range(ledger.shape[0]):
        for lane in range(ledger.shape[1]):
            ledger[column, lane] = 0.0


@kernel
def _add(total: Array, part: Array) -> None:
    for column in range(total.shape[0]):
        for lane in range(total.shape[1]):
            old, new = total[column, lane], part[column, lane]
            total[column, lane] = max(old, new) if column >= EXTREME_FROM else old + new


@kernel
def _add_part(work: Scratch) -> None:
    _add(work.whole, work.part)


@kernel
def _add_whole(member: Member, work: Scratch, length: float) -> None:
    """Close the books of a step and add them to the interval."""
    for lane in range(work.speed.size):
        floor = length * member.network.box[0, lane] * work.stage.film.shape[1]  # 1 W/m2 of aperture
        work.whole[Column.RESIDUAL, lane] = _residual(work.whole, BOX_TERMS, lane, floor)
        work.whole[Column.HOUSE_RESIDUAL, lane] = _residual(work.whole, HOUSE_TERMS, lane, floor)
    _add(work.interval, work.whole)


@kernel
def _residual(whole: Array, terms: tuple[tuple[int, float], ...], lane: int, floor: float) -> float:
    """Return |in - out - stored| over the sum of the terms' sizes [-]."""
    balance, size = 0.0, 0.0
    for column, sign in terms:
        balance += sign * whole[column, lane]
        size += abs(whole[column, lane])
    return abs(balance) / max(size, floor)
