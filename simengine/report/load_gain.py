"""Load against gain, day by day: what the house wanted, and what the collector brought."""

from dataclasses import dataclass

import numpy as np

from simengine.report.house_hours import HouseHours
from simengine.units.factors import KWH


@dataclass(frozen=True, slots=True)
class Day:
    """One day of the year."""

    load: float  # [kWh] heating without the collector
    gain: float  # [kWh] brought by the air


@dataclass(frozen=True, slots=True)
class LoadGain:
    """All days with a gain, and how many of them brought more than was wanted."""

    days: tuple[Day, ...]
    more_than_wanted: int
    largest_load: float  # [kWh]
    largest_gain: float  # [kWh]


def load_gain(house: HouseHours) -> LoadGain:
    """Return load and gain of every day on which the collector brought heat.

    Parameters
    ----------
    house : the hours of a year

    Returns
    -------
    LoadGain
    """
    count = int(house.day.max()) + 1
    to_kwh = house.step / KWH
    load = np.bincount(house.day, house.need, count) * to_kwh
    gain = np.bincount(house.day, house.delivered, count) * to_kwh
    days = tuple(Day(float(a), float(b)) for a, b in zip(load, gain, strict=True) if b > 0.0)
    return LoadGain(
        days,
        sum(day.gain > day.load for day in days),
        max((day.load for day in days), default=0.0),
        max((day.gain for day in days), default=0.0),
    )
