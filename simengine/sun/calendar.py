"""The dates of a series as plain arrays, and the array types of this room."""

from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from simengine.errors import InputError

if TYPE_CHECKING:
    from simengine.weather.series import WeatherSeries

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

DAYS_BEFORE_MONTH = (0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334)


def column(series: "WeatherSeries", name: str) -> FloatArray:
    """Return one column of a weather series as a plain array.

    Parameters
    ----------
    series:
        The weather.
    name:
        Of the column.

    Returns
    -------
    Array [interval], in that column's unit.

    >>> from simengine.weather import builtin
    >>> column(builtin("greensboro"), "ghi").shape
    (8760,)
    """
    return np.asarray(series.data[name].to_numpy(), dtype=np.float64)


def interval_starts(series: "WeatherSeries") -> npt.NDArray[np.datetime64]:
    """Return the interval starts of a series on its own clock, as numpy times [interval].

    >>> from simengine.weather import builtin
    >>> str(interval_starts(builtin("greensboro"))[0])[:16]
    '2001-01-01T00:00'
    """
    return np.asarray(series.data.index.to_numpy())


def day_of_year(times: npt.NDArray[np.datetime64]) -> IntArray:
    """Return the number of the day in its year, 1 to 366 [day], same shape as the times.

    >>> int(day_of_year(np.array(["2001-03-01T23:00"], dtype="datetime64[s]"))[0])
    60
    """
    days = times.astype("datetime64[D]")
    first = times.astype("datetime64[Y]").astype("datetime64[D]")
    return np.asarray((days - first).astype(np.int64) + 1)


def month_of_year(times: npt.NDArray[np.datetime64]) -> IntArray:
    """Return the month, 1 to 12, same shape as the times.

    >>> int(month_of_year(np.array(["2001-03-01T23:00"], dtype="datetime64[s]"))[0])
    3
    """
    months = times.astype("datetime64[M]").astype(np.int64)
    return np.asarray(months % 12 + 1)


def day_number(month: int, day: int) -> int:
    """Return the number of a date in a year of 365 days.

    Parameters
    ----------
    month, day:
        Calendar month 1 to 12 and day of the month.

    Returns
    -------
    Day of the year, 1 to 365 [day].

    Raises
    ------
    InputError
        If there is no such date; 29 February counts as 1 March.

    >>> day_number(4, 20)
    110
    """
    lengths = np.diff((*DAYS_BEFORE_MONTH, 365))
    longest = 29 if month == 2 else int(lengths[month - 1]) if 1 <= month <= 12 else 0
    if not 1 <= day <= longest:
        raise InputError(f"there is no day {day} in month {month}; a date is a month 1-12 and a day in it")
    return DAYS_BEFORE_MONTH[month - 1] + day
