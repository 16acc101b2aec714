"""A year as twelve rows of twenty-four hours: when there is sun, and when heat is wanted."""

from dataclasses import dataclass

import numpy as np

from simengine.report.house_hours import Array, HouseHours

LEAST_SHARE = 0.005
"""A field fainter than this share of the strongest one is not drawn [-]."""

LEAST_NEED = 1.0
"""A house wants heat where its heater gives more than this [W]."""


@dataclass(frozen=True, slots=True)
class Field:
    """One hour of the day in one month."""

    month: int  # 0 to 11
    hour: int  # 0 to 23
    strength: float  # [-] share of the strongest field


@dataclass(frozen=True, slots=True)
class HourMap:
    """Fields of a map, and what its strongest one stands for."""

    fields: tuple[Field, ...]
    strongest: float  # [W]
    month: int  # of the strongest field
    hour: int


def hour_map(house: HouseHours, values: Array) -> HourMap:
    """Return the mean of a quantity in every hour of the day of every month.

    Parameters
    ----------
    house : gives month and hour of every interval
    values : [interval] the quantity [W]; what is below zero counts as it is, and is not drawn

    Returns
    -------
    HourMap

    >>> from types import SimpleNamespace
    >>> there = SimpleNamespace(month=np.array([0, 0, 6]), hour=np.array([12, 12, 9]))
    >>> drawn = hour_map(there, np.array([100.0, 300.0, 50.0]))
    >>> drawn.strongest, [(field.month, field.hour, field.strength) for field in drawn.fields]
    (200.0, [(0, 12, 1.0), (6, 9, 0.25)])
    """
    total, count = np.zeros((12, 24)), np.zeros((12, 24))
    np.add.at(total, (house.month, house.hour), values)
    np.add.at(count, (house.month, house.hour), 1.0)
    mean = total / np.maximum(count, 1.0)
    strongest = float(mean.max())
    month, hour = np.unravel_index(int(mean.argmax()), mean.shape)
    share = mean / strongest if strongest > 0.0 else np.zeros_like(mean)
    fields = tuple(
        Field(int(m), int(h), round(float(share[m, h]), 3)) for m, h in np.argwhere(share > LEAST_SHARE)
    )
    return HourMap(fields, strongest, int(month), int(hour))


def sun_when_wanted(house: HouseHours) -> float:
    """Return the share of the year's sun that falls while the house wants heat [-].

    >>> from types import SimpleNamespace
    >>> there = SimpleNamespace(sun=np.array([300.0, 100.0]), need=np.array([0.0, 900.0]))
    >>> sun_when_wanted(there)
    0.25
    """
    total = float(house.sun.sum())
    return float(house.sun[house.need > LEAST_NEED].sum()) / total if total > 0.0 else 0.0
