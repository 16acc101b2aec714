"""The fan of one lane: it follows its latches, and the air flows as it says."""

from simengine.airflow.passive import read_passive
from simengine.collector.segments import read_flow_table
from simengine.compiled import kernel
from simengine.control.rule import Memory, read_rule, speed, switch
from simengine.engine.ledger import Column
from simengine.engine.state import (
    BLOCKED,
    CALM,
    DRIFT,
    FREE,
    HIGH,
    RUNNING,
    SINCE,
    WARM,
    Member,
    Scratch,
    State,
)

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
def set_fan(member: Member, state: State, work: Scratch, lane: int) -> None:
    """Let the fan follow the latches; count its starts; say how fast the air moves, or begin to guess.

    Parameters
    ----------
    member, state : what is marched
    work : its clock and its interval's ledger
    lane : which member [-]
    """
    before = state.control[RUNNING, lane]
    rule = read_rule(member.rule, work.drive, 0, lane)
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
    work.clock[CALM, lane] = work.clock[CALM, lane] if same else 0.0
    work.match[FREE, lane] = 1.0 if free else 0.0
    share = last if free else speed(memory, rule, rule.stop)
    if (share != work.speed[lane]) | (memory.running != work.fan[lane]):
        work.speed[lane] = share
        work.fan[lane] = memory.running
        blow(member, work, lane)


@kernel
def blow(member: Member, work: Scratch, lane: int) -> None:
    """Read the air flow of a lane at its speed.

    Parameters
    ----------
    member : its flow table
    work : speed and fan are read, the flow of the stage is written
    lane : which member [-]

    Where air moves by itself, fan and forced leaks are taken away. Air that flows back passes the box from
    its outlet to its inlet: the ducts are swapped, and the box is taken as it would be from the other side,
    which is exact for a box that is alike at both ends.
    """
    flow = work.stage.flow
    read_flow_table(member.table, work.speed[lane], work.stage, lane)
    for row in (FAN_POWER, FAN_HEAT, LEAK_IN, LEAK_OUT):
        flow[row, lane] *= work.fan[lane]
    if work.speed[lane] < 0.0:
        for supply, other in ((SUPPLY_KEPT, RETURN_KEPT), (SUPPLY_ROOM, RETURN_ROOM)):
            flow[supply, lane], flow[other, lane] = flow[other, lane], flow[supply, lane]
