"""The march through the year: interval by interval, step by step, each member by its own clock."""

import numpy as np
from numpy.typing import NDArray

from simengine.compiled import entry, kernel
from simengine.engine.advance import GAMMA
from simengine.engine.fan import set_fan
from simengine.engine.free_speed import begin_search
from simengine.engine.grading import graded
from simengine.engine.rooms import house_alone
from simengine.engine.state import (
    FIRST,
    INTERVAL,
    LEFT,
    LENGTH,
    MASS,
    RISE,
    ROOM,
    SECOND,
    SECOND_MASS,
    STEP,
    STEPS_LEFT,
    Array,
    Member,
    Scratch,
    State,
)
from simengine.engine.step import next_length, take_turn
from simengine.vector import any_of, block, first_of, lanes_in

Counts = NDArray[np.int64]


@entry
def march(
    member: Member,
    plan: Counts,
    seconds: float,
    state: State,
    work: Scratch,
    hours: Array,
) -> None:
    """March all members through all weather intervals, one after the other.

    Parameters
    ----------
    member : collector, air loop, control, house and their weather
    plan : [interval] number of steps in each interval, int64
    seconds : length of an interval [s]
    state : at the start; becomes that at the end
    work : scratch arrays; row `FIRST` of the clock says where the weather of each lane begins in forcing and
        plan (0 where all have the same)
    hours : [interval, column, lane] receives the ledger of each interval [J]; may be empty

    Source: `take_turn`.
    """
    for lane in range(member.zone.shape[1]):
        _march(member, plan, seconds, state, work, hours, lane)


@entry
def march_block(
    member: Member,
    plan: Counts,
    seconds: float,
    state: State,
    work: Scratch,
    hours: Array,
) -> None:
    """March a block of members side by side: each comes out bit for bit as from `march`.

    Parameters
    ----------
    member, plan, state, work, hours : as for `march`, with `WIDTH` lanes; quickest where every array begins
        on a cache line
    seconds : length of an interval [s]
    """
    _march(member, plan, seconds, state, work, hours, block())


@kernel
def _march(
    member: Member,
    plan: Counts,
    seconds: float,
    state: State,
    work: Scratch,
    hours: Array,
    lane: int,
) -> None:
    first, beyond = first_of(lane), first_of(lane) + lanes_in(lane)
    count = min(member.drive.shape[0], plan.size)
    for one in range(first, beyond):
        work.clock[INTERVAL, one] = 0.0
        _open(member, plan, seconds, state, work, one)
    going = True
    while going:
        take_turn(member, state, work, lane)
        if any_of(work.clock[STEPS_LEFT, lane] < 0.5):
            for one in range(first, beyond):
                if _ends_interval(work, count, one):
                    _close(work, hours, one)
                    work.clock[INTERVAL, one] += 1.0
                    if work.clock[INTERVAL, one] < count:
                        _open(member, plan, seconds, state, work, one)
        going = any_of(work.clock[STEPS_LEFT, lane] > 0.5)


@kernel
def _ends_interval(work: Scratch, count: int, lane: int) -> bool:
    """Return whether a lane stands at the end of an interval, and not of the year."""
    return bool((work.clock[STEPS_LEFT, lane] < 0.5) & (work.clock[INTERVAL, lane] < count))


@kernel
def _open(member: Member, plan: Counts, seconds: float, state: State, work: Scratch, lane: int) -> None:
    """Let a lane come into its next interval: weather, wishes and steps of that."""
    interval = int(work.clock[INTERVAL, lane])
    row = int(work.clock[FIRST, lane]) + interval
    for field in range(work.weather.shape[0]):
        work.weather[field, lane] = member.forcing.weather[row, field]
    for layer in range(work.sun.shape[0]):
        work.sun[layer, lane] = member.forcing.absorbed[row, layer]
    for field in range(member.demand.shape[1]):
        work.demand[0, field, lane] = member.demand[interval, field, lane]
    work.drive[0, lane] = member.drive[interval, lane]
    steps = float(plan[row])
    work.clock[STEPS_LEFT, lane] = steps
    work.clock[STEP, lane], work.clock[RISE, lane] = graded(seconds, steps)
    work.clock[LEFT, lane] = work.clock[STEP, lane]
    set_fan(member, state, work, lane)
    begin_search(work, lane)
    work.clock[LENGTH, lane] = next_length(work, lane)


@kernel
def _close(work: Scratch, hours: Array, lane: int) -> None:
    """Write the ledger of the interval that a lane leaves, and empty it for the next."""
    interval = int(work.clock[INTERVAL, lane])
    for column in range(work.interval.shape[0]):
        if hours.shape[0] > 0:
            hours[interval, column, lane] = work.interval[column, lane]
        work.interval[column, lane] = 0.0


@entry
def march_house(
    zone_rows: Array,
    demand_rows: Array,
    ambient: Array,
    plan: Counts,
    seconds: float,
    state: Array,
    hours: Array,
) -> None:
    """March houses without a collector through all weather intervals, by the same scheme.

    Parameters
    ----------
    zone_rows, demand_rows : [Zone, lane] and [interval, Demand, lane], the houses; with a second space
        as in `Member`
    ambient : [interval] outdoor temperature [K]
    plan : [interval] number of steps in each interval, int64
    seconds : length of an interval [s]
    state : [4, lane] room air and mass, second space's air and mass at the start [K]; become those at
        the end
    hours : [interval, 4, lane] receives heating [J], vented heat [J], room temperature and second space's
        temperature [K s]

    Source: as `advance`, with the air loop at rest.
    """
    ratio = (1.0 - GAMMA) / GAMMA
    for lane in range(state.shape[1]):
        for interval in range(plan.size):
            length, rise = graded(seconds, float(plan[interval]))
            outdoors = ambient[interval]
            for _ in range(plan[interval]):
                early, late = (1.0 - GAMMA) * length, GAMMA * length
                per_second = 1.0 / late
                start = (state[ROOM, lane], state[MASS, lane], state[SECOND, lane], state[SECOND_MASS, lane])
                room, second = house_alone(
                    zone_rows, demand_rows, interval, lane, outdoors, start, per_second
                )
                between = (
                    start[0] + ratio * (room.air - start[0]),
                    start[1] + ratio * (room.mass - start[1]),
                    start[2] + ratio * (second.air - start[2]),
                    start[3] + ratio * (second.mass - start[3]),
                )
                last, beside = house_alone(
                    zone_rows, demand_rows, interval, lane, outdoors, between, per_second
                )
                first, then = room.heating + second.heating, last.heating + beside.heating
                hours[interval, 0, lane] += early * first + late * then
                hours[interval, 1, lane] += early * room.vented + late * last.vented
                hours[interval, 2, lane] += early * room.air + late * last.air
                hours[interval, 3, lane] += early * second.air + late * beside.air
                state[ROOM, lane], state[MASS, lane] = last.air, last.mass
                state[SECOND, lane], state[SECOND_MASS, lane] = beside.air, beside.mass
                length += rise
