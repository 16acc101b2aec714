"""A part of a step at a fan speed that is known: two implicit stages, and the sensors behind them.

Scheme: two implicit stages of the singly diagonal kind, second order and L-stable (Alexander 1977).
Conductances are taken at temperatures extrapolated with the last step's rates, which keeps the order.
"""

import math

from simengine.collector.segments import read_flow_table
from simengine.compiled import kernel
from simengine.control.rule import QUICKEST
from simengine.engine.stage import solve_stage
from simengine.engine.state import SENSOR, Array, Member, Scratch, State

GAMMA = 1.0 - math.sqrt(0.5)
LEAST_LENGTH = 1.0e-6  # [s] a shorter part of a step changes nothing
FARTHEST = 20.0
"""Conductances are taken no farther ahead than this [K]: after a switch of the fan a light sheet moves so
fast that a long step would be read at temperatures that do not exist."""

FAN_POWER, FAN_HEAT, SUPPLY_KEPT, RETURN_KEPT, SUPPLY_ROOM, RETURN_ROOM, LEAK_IN, LEAK_OUT = (
    1,
    2,
    5,
    6,
    7,
    8,
    9,
    10,
)
"""Rows of `AirFlow`."""


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
    turn_ducts(work)
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
                    ahead = min(max(ahead, -FARTHEST), FARTHEST)
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
def turn_ducts(work: Scratch) -> None:
    """Take fan and forced leaks away where air moves by itself, and swap the ducts where it flows back.

    Air that flows back passes the box from its outlet to its inlet; the box is taken as it would be
    from the other side, which is exact for a box that is alike at both ends.
    """
    flow = work.stage.flow
    for lane in range(work.speed.size):
        driven = work.fan[lane]
        back = work.speed[lane] < 0.0
        for row in (FAN_POWER, FAN_HEAT, LEAK_IN, LEAK_OUT):
            flow[row, lane] *= driven
        for supply, other in ((SUPPLY_KEPT, RETURN_KEPT), (SUPPLY_ROOM, RETURN_ROOM)):
            first, second = flow[supply, lane], flow[other, lane]
            flow[supply, lane] = second if back else first
            flow[other, lane] = first if back else second


@kernel
def clear(ledger: Array) -> None:
    """Set a ledger [column, lane] to zero."""
    for column in range(ledger.shape[0]):
        for lane in range(ledger.shape[1]):
            ledger[column, lane] = 0.0
