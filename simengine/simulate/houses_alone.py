"""The year of the houses without the collector."""

import numpy as np
from numpy.typing import NDArray

from simengine.engine.march import march_house
from simengine.errors import RunEnded
from simengine.simulate.forcing import Place, demand_rows, zone_rows
from simengine.simulate.resolve import Resolved

Array = NDArray[np.float64]
Counts = NDArray[np.int64]

WARM_UP_DAYS = 30
"""Days at the end of the year that are marched beforehand, so that houses start with warm walls."""

WARM_UP_SHARE = 3
"""How many times fewer steps these days take: they only have to leave warm walls."""


def warm_up(count: int, interval: float) -> int:
    """Return how many intervals are marched beforehand.

    Parameters
    ----------
    count : intervals of the year
    interval : its length [s]
    """
    return min(count, round(WARM_UP_DAYS * 86400.0 / interval))


def warm_up_plan(plan: Counts) -> Counts:
    """Return the steps of intervals that are marched beforehand.

    Parameters
    ----------
    plan : [interval] steps of the same intervals in the year

    >>> warm_up_plan(np.array([1, 2, 6, 12])).tolist()
    [1, 1, 2, 4]
    """
    return -(-plan // WARM_UP_SHARE)


def march_houses(resolved: Resolved, here: Place, plan: Counts) -> Array:
    """Return the year of the houses without the collector [interval, 4, house]: J, J, K s, K s.

    Parameters
    ----------
    resolved : scenario with weather and houses
    here : sun and sky of the place
    plan : steps of each interval

    Raises
    ------
    RunEnded if a house comes to no finite state.
    """
    hangs_on = ("alone", resolved.houses, plan.tobytes())
    return here.kept.once(hangs_on, lambda: _march(resolved, here, plan))  # type: ignore[no-any-return]


def _march(resolved: Resolved, here: Place, plan: Counts) -> Array:
    seconds = float(resolved.series.step)
    zones, demand = zone_rows(resolved.houses), demand_rows(here, resolved.houses)
    lanes = zones.shape[1]
    state = np.full((4, lanes), resolved.houses[0].setpoint[0])
    last = warm_up(plan.size, seconds)
    early = warm_up_plan(plan[-last:])
    march_house(
        zones, demand[-last:], here.ambient[-last:], early, seconds, state, np.zeros((last, 4, lanes))
    )
    hours = np.zeros((plan.size, 4, lanes))
    march_house(zones, demand, here.ambient, plan, seconds, state, hours)
    if not np.isfinite(hours).all():
        when = here.series.data.index[int(np.argmin(np.isfinite(hours).all(axis=(1, 2))))]
        where = f"in the interval that starts {when:%m-%d %H:%M}"
        raise RunEnded(f"a house without the collector found no finite state {where}")
    return np.asfortranarray(hours)  # the hours of a column side by side, as in the other ledger
