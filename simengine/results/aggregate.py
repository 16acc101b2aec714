"""Interval means summed to months and to a year, and the heating degree days of a climate."""

import numpy as np
from numpy.typing import NDArray
from scipy.sparse import csr_array

from simengine.units.factors import KWH

Array = NDArray[np.float64]

HOURS_PER_YEAR = 8760.0
SECONDS_PER_DAY = 86_400


def years(intervals: int, step: float) -> int:
    """Return how many whole years a record holds; a part of a year counts as one period.

    Parameters
    ----------
    intervals : number of intervals [-]
    step : length of an interval [s]

    Returns
    -------
    Number of years [-], at least 1; sums are divided by it.

    >>> years(8760, 3600.0), years(17544, 3600.0), years(720, 3600.0)
    (1, 2, 1)
    """
    return max(1, round(intervals * step / (HOURS_PER_YEAR * 3600.0)))


def energy(power: Array, step: float) -> float:
    """Return a year's energy [kWh] of a power given as interval means.

    Parameters
    ----------
    power : interval means [W], shape [time]
    step : length of an interval [s]

    Returns
    -------
    Energy [kWh] a year; of the whole record where that is shorter than a year.

    >>> energy(np.full(24, 500.0), 3600.0)
    12.0
    """
    return float(np.sum(power)) * step / KWH / years(power.size, step)


def hours(share: Array, step: float) -> float:
    """Return the hours a year [h] of a state given as its share of each interval.

    Parameters
    ----------
    share : share of the interval in which the state holds [-], shape [time]
    step : length of an interval [s]

    Returns
    -------
    Hours a year [h].

    >>> hours(np.array([1.0, 0.5, 0.0]), 3600.0)
    1.5
    """
    return float(np.sum(share)) * step / 3600.0 / years(share.size, step)


def local_months(times: NDArray[np.datetime64], utc_offset: float) -> NDArray[np.int64]:
    """Return the month 0..11 of each interval by local standard time.

    Parameters
    ----------
    times : naive UTC starts of the intervals, shape [time]
    utc_offset : local standard time minus UTC [h]

    Returns
    -------
    Months counted from 0 [-], shape [time].

    >>> local_months(np.array(["2001-02-01T04:00"], dtype="datetime64[s]"), -5.0).tolist()
    [0]
    """
    shift = np.timedelta64(round(utc_offset * 3600.0), "s")
    local = times.astype("datetime64[s]") + shift
    months: NDArray[np.int64] = local.astype("datetime64[M]").astype(np.int64) % 12
    return months


class Months:
    """Adds up by month, whatever quantity of the same intervals is asked for.

    >>> Months(np.array([0, 0, 11])).sums(np.array([1.0, 2.0, 4.0]))[[0, 11]].tolist()
    [3.0, 4.0]
    """

    def __init__(self, months: NDArray[np.int64]) -> None:
        """Take the months.

        Parameters
        ----------
        months : month 0..11 of each interval, shape [time]
        """
        in_order = np.argsort(months, kind="stable")
        ends = np.cumsum([0, *np.bincount(months, minlength=12)])
        self._of = csr_array((np.ones(months.size), in_order, ends), shape=(12, months.size))

    def sums(self, values: Array) -> Array:
        """Return the sums of the twelve months, added up one interval after the other.

        Parameters
        ----------
        values : any quantity that may be summed, shape [time]

        Returns
        -------
        Sums in the unit of the values, shape [12]; a month without data is 0.
        """
        sums: Array = self._of @ values
        return sums


def heating_degree_days(temperature: Array, step: float, base: float = 18.0) -> float:
    """Return the heating degree days a year of an outdoor temperature.

    The sum over days of what the day's mean lies below the base (common practice; the European
    and the US services differ in the base temperature, so the base belongs to the number).

    Parameters
    ----------
    temperature : interval means from local midnight on [degC], shape [time]
    step : length of an interval [s], a divisor of a day
    base : base temperature [degC]

    Returns
    -------
    Degree days [K d] a year; a last day that is not whole is left out.

    >>> heating_degree_days(np.full(48, 8.0), 3600.0)
    20.0
    """
    per_day = round(SECONDS_PER_DAY / step)
    days = temperature.size // per_day
    means = temperature[: days * per_day].reshape(days, per_day).mean(axis=1)
    return float(np.sum(np.maximum(base - means, 0.0))) / years(temperature.size, step)
