"""The march through the year: step by step, interval by interval, all members side by side."""

import numpy as np
from numpy.typing import NDArray

from simengine.compiled import entry
from simengine.engine.advance import GAMMA, clear
from simengine.engine.ledger import EXTREME_FROM
from simengine.engine.rooms import house_alone
from simengine.engine.state import MASS, ROOM, SECOND, SECOND_MASS, Array, Member, Scratch, State
from simengine.engine.step import step

Counts = NDArray[np.int64]


@entry
def march(
    member: Member,
    plan: Counts,
    month: Counts,
    seconds: float,
    state: State,
    work: Scratch,
    hours: Array,
    months: Array,
) -> None:
    """March all members through all weather intervals.

    Parameters
    ----------
    member : collector, air loop, control, house and their weather
    plan : [interval] number of steps in each interval, int64
    month : [interval] 0 to 11, int64
    seconds : length of an interval [s]
    state : at the start; becomes that at the end
    work : scratch arrays
    hours : [interval, column, lane] receives the ledger of each interval [J]; may be empty
    months : [12, column, lane] the ledger is added up here [J]

    Source: `step`.
    """
    keep = hours.shape[0] > 0
    for interval in range(plan.size):
        clear(work.interval)
        length = seconds / plan[interval]
        for _ in range(plan[interval]):
            step(member, interval, length, state, work)
        for column in range(months.shape[1]):
            for lane in range(months.shape[2]):
                old = months[month[interval], column, lane]
                new = work.interval[column, lane]
                months[month[interval], column, lane] = max(old, new) if column >= EXTREME_FROM else old + new
                if keep:
                    hours[interval, column, lane] = new


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
            length = seconds / plan[interval]
            early, late = (1.0 - GAMMA) * length, GAMMA * length
            outdoors = ambient[interval]
            for _ in range(plan[interval]):
                start = (state[ROOM, lane], state[MASS, lane], state[SECOND, lane], state[SECOND_MASS, lane])
                room, second = house_alone(zone_rows, demand_rows, interval, lane, outdoors, start, late)
                between = (
                    start[0] + ratio * (room.air - start[0]),
                    start[1] + ratio * (room.mass - start[1]),
                    start[2] + ratio * (second.air - start[2]),
                    start[3] + ratio * (second.mass - start[3]),
                )
                last, beside = house_alone(zone_rows, demand_rows, interval, lane, outdoors, between, late)
                first, then = room.heating + second.heating, last.heating + beside.heating
                hours[interval, 0, lane] += early * first + late * then
                hours[interval, 1, lane] += early * room.vented + late * last.vented
                hours[interval, 2, lane] += early * room.air + late * last.air
                hours[interval, 3, lane] += early * second.air + late * beside.air
                state[ROOM, lane], state[MASS, lane] = last.air, last.mass
                state[SECOND, lane], state[SECOND_MASS, lane] = beside.air, beside.mass
