"""A what-if: the same weather with more or less sun; nothing else moves."""

import dataclasses
import hashlib

from simengine.weather.series import WeatherSeries

SUN = ("ghi", "dni", "dhi")
"""Columns of the sun, which are scaled alike."""


def sunnier(series: WeatherSeries, factor: float) -> WeatherSeries:
    """Return the series with all sun times a factor.

    Parameters
    ----------
    series : WeatherSeries
        Any series.
    factor : float
        [-], above 0; 1 gives the series back.

    Returns
    -------
    WeatherSeries
        Its hash and its `sun_factor` say what was done.

    Examples
    --------
    >>> from simengine.weather import builtin
    >>> year = builtin("greensboro")
    >>> round(float(sunnier(year, 1.1).data.ghi.sum() / year.data.ghi.sum()), 9)
    1.1
    """
    if factor == 1.0:
        return series
    data = series.data.copy()
    for name in SUN:
        data[name] *= factor
    return dataclasses.replace(
        series,
        data=data,
        sun_factor=series.sun_factor * factor,
        sha256=hashlib.sha256(f"{series.sha256} sun times {factor!r}".encode()).hexdigest(),
    )
