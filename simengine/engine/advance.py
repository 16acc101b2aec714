"""A part of a step at a fan speed that is known: two implicit stages, and the sensors behind them.

Scheme: two implicit stages of the singly diagonal kind, second order and L-stable (Alexander 1977).
Conductances are taken once, at the temperatures of the part's middle as the last part's rates foretell
them, which keeps the order; so both stages have one and the same matrix, and it is eliminated once.
"""

import math

from simengine.compiled import kernel, part
from simengine.control.rule import QUICKEST
from simengine.engine.stage import freeze_stage, solve_stage
from simengine.engine.state import LENGTH, NOW, SENSOR, TRIAL, Array, Member, Scratch, State
from simengine.heat_transfer.roots import exp_negative
from simengine.vector import same_in

GAMMA = 1.0 - math.sqrt(0.5)
LEAST_LENGTH = 1.0e-6  # [s] a shorter part of a step changes nothing
FARTHEST = 20.0
"""Conductances are taken no farther ahead than this [K]: after a switch of the fan a light sheet moves so
fast that a long step would be read at temperatures that do not exist."""


@kernel
def advance(member: Member, state: State, work: Scratch, lane: int) -> None:
    """Try a part of a step, from buffer `NOW` into buffer `TRIAL`.

    Parameters
    ----------
    member : what is marched
    state : from which buffer to which
    work : the length of the part, the weather of the moment and the air flow in `stage` are read; `part`
        receives the flows [J]
    lane : which member, or which block of them

    Source: Alexander (1977), two stages, gamma = 1 - 1/sqrt(2); from memory.
    """
    stage = work.stage
    length = max(work.clock[LENGTH, lane], LEAST_LENGTH)
    stage.per_second[lane] = 1.0 / (GAMMA * length)
    clear(work.part, lane)
    middle = 0.5 * length
    for node in range(state.nodes.shape[1]):
        for s in range(state.nodes.shape[2]):
            ahead = min(max(middle * state.rate[NOW, node, s, lane], -FARTHEST), FARTHEST)
            stage.guess[node, s, lane] = state.nodes[NOW, node, s, lane] + ahead
    freeze_stage(member, work, lane)
    for turn in range(2):  # one call of `solve_stage`, for it is taken in whole wherever it is called
        moved = turn * (1.0 - GAMMA) / GAMMA
        for row in range(SENSOR):
            old = state.zone[NOW, row, lane]
            work.zone_begin[row, lane] = old + moved * (state.zone[TRIAL, row, lane] - old)
        for node in range(state.nodes.shape[1]):
            for s in range(state.nodes.shape[2]):
                old = state.nodes[NOW, node, s, lane]
                stage.begin[node, s, lane] = old + moved * (state.nodes[TRIAL, node, s, lane] - old)
        weight = 1.0 - GAMMA + turn * (2.0 * GAMMA - 1.0)
        solve_stage(member, work, weight * work.clock[LENGTH, lane], state, lane)
    _take_rates(state, work, lane)
    _follow_places(member, state, work, length, lane)


@kernel
def _take_rates(state: State, work: Scratch, lane: int) -> None:
    """Set the rates at the end of a part."""
    per_second = work.stage.per_second[lane]
    middle, face = work.stage.pane.shape[0] - 1, state.nodes.shape[1] - 1
    for s in range(state.nodes.shape[2]):
        for node in range(face):
            moved = state.nodes[TRIAL, node, s, lane] - work.stage.begin[node, s, lane]
            state.rate[TRIAL, node, s, lane] = moved * per_second
        # the cover's face stores nothing: its own rate jumps with the fan
        state.rate[TRIAL, face, s, lane] = state.rate[TRIAL, middle, s, lane]


@kernel
def _follow_places(member: Member, state: State, work: Scratch, length: float, lane: int) -> None:
    """Let both sensors follow their places, which move in a straight line through both stages.

    The stages resolve a sensor about as slow as the step is long too poorly; the exponential is exact.
    """
    constant = max(member.rule[3, lane], QUICKEST)
    per_constant = 1.0 / constant
    left = exp_negative(length * per_constant)
    per_length = GAMMA / (1.0 - GAMMA) * work.stage.per_second[lane]
    for sensor in range(2):
        last = work.place[1, sensor, lane]
        slope = (last - work.place[0, sensor, lane]) * per_length
        behind = last - constant * slope  # where a sensor that follows for long stands
        old = state.zone[NOW, SENSOR + sensor, lane]
        new = behind + (old - (behind - slope * length)) * left
        state.zone[TRIAL, SENSOR + sensor, lane] = new
        work.sensor_rate[sensor, lane] = (last - new) * per_constant


@kernel
def clear(ledger: Array, lane: int) -> None:
    """Set a ledger [column, lane] to zero."""
    none = same_in(lane, 0.0)
    for column in range(ledger.shape[0]):
        ledger[column, lane] = none
