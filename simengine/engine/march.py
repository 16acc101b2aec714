"""The march through the year: step by step, interval by interval, all members side by side."""

import numpy as np
from numpy.typing import NDArray

from simengine.compiled import entry
from simengine.engine.ledger import EXTREME_FROM
from simengine.engine.state import Array, Member, Scratch, State
from simengine.engine.step import GAMMA, clear, step
from simengine.house.zone import read_demand, read_zone, settle_zone

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
            step(member, interval, month[interval], length, state, work)
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
    """March heated spaces without a collector through all weather intervals, by the same scheme.

    Parameters
    ----------
    zone_rows, demand_rows : [Zone, lane] and [interval, Demand, lane], the heated spaces
    ambient : [interval] outdoor temperature [K]
    plan : [interval] number of steps in each interval, int64
    seconds : length of an interval [s]
    state : [2, lane] room air and mass at the start [K]; become those at the end
    hours : [interval, 3, lane] receives heating [J], vented heat [J], room temperature [K s]

    Source: as `advance`, with the air loop at rest.
    """
    ratio = (1.0 - GAMMA) / GAMMA
    still = (0.0, 0.0)
    for lane in range(state.shape[1]):
        zone = read_zone(zone_rows, lane)
        for interval in range(plan.size):
            demand = read_demand(demand_rows, interval, lane)
            length = seconds / plan[interval]
            early, late = (1.0 - GAMMA) * length, GAMMA * length
            outdoors = ambient[interval]
            for _ in range(plan[interval]):
                air, mass = state[0, lane], state[1, lane]
                first = settle_zone(zone, demand, outdoors, (air, mass), GAMMA * length, still)
                between = (air + ratio * (first.air - air), mass + ratio * (first.mass - mass))
                last = settle_zone(zone, demand, outdoors, between, GAMMA * length, still)
                hours[interval, 0, lane] += early * first.heating + late * last.heating
                hours[interval, 1, lane] += early * first.vented + late * last.vented
                hours[interval, 2, lane] += early * first.air + late * last.air
                state[0, lane] = last.air
                state[1, lane] = last.mass
