"""How much light the ground before the plane throws back, interval by interval."""

from typing import TYPE_CHECKING, Final

import numpy as np

from simengine.errors import InputError
from simengine.sun.calendar import FloatArray, column, interval_starts, month_of_year

if TYPE_CHECKING:
    from simengine.weather.series import WeatherSeries

DEFAULT_REFLECTANCE: Final = 0.2
"""Of mixed ground without snow [-] (Liu and Jordan 1963, from memory; common practice)."""

SNOW_REFLECTANCE: Final = 0.6
"""Of snow that has lain for some days [-]; fresh snow 0.8, old and dirty 0.4 (common practice)."""

SNOW_COVERS: Final = 0.03
"""Depth from which snow covers the ground [m] (common practice)."""


def fixed_ground(series: "WeatherSeries", reflectance: float = DEFAULT_REFLECTANCE) -> FloatArray:
    """Return one reflectance for the whole year [-], shape [interval].

    Parameters
    ----------
    series:
        The weather.
    reflectance:
        Of the ground [-], 0 to 1.

    Raises
    ------
    InputError
        If it is out of range.

    >>> from simengine.weather import builtin
    >>> float(fixed_ground(builtin("greensboro"), 0.3)[0])
    0.3
    """
    _check((reflectance,))
    return np.full(len(series.data), reflectance)


def monthly_ground(series: "WeatherSeries", reflectances: tuple[float, ...]) -> FloatArray:
    """Return a reflectance that changes by month [-], shape [interval].

    Parameters
    ----------
    series:
        The weather.
    reflectances:
        Of the ground, January to December [-], each 0 to 1.

    Raises
    ------
    InputError
        If there aren't twelve, or one is out of range.

    >>> from simengine.weather import builtin
    >>> winter_snow = (0.6, 0.6, *10 * (0.2,))
    >>> float(monthly_ground(builtin("greensboro"), winter_snow)[24 * 31])
    0.6
    """
    if len(reflectances) != 12:
        raise InputError(f"{len(reflectances)} monthly ground reflectances; accepted: 12, January first")
    _check(reflectances)
    return np.asarray(reflectances, dtype=np.float64)[month_of_year(interval_starts(series)) - 1]


def recorded_ground(series: "WeatherSeries") -> FloatArray:
    """Return the reflectance that the weather file itself gives [-], shape [interval], held to 0..1.

    Parameters
    ----------
    series:
        The weather, with its column `albedo` [-].

    >>> from simengine.weather import builtin
    >>> float(recorded_ground(builtin("greensboro"))[0])
    0.2
    """
    return np.clip(column(series, "albedo"), 0.0, 1.0)


def snow_ground(
    series: "WeatherSeries", bare: float | FloatArray = DEFAULT_REFLECTANCE, snow: float = SNOW_REFLECTANCE
) -> FloatArray:
    """Return the reflectance of ground that lies under snow where the series says so.

    Parameters
    ----------
    series:
        The weather; where its snow depth is missing there is no snow.
    bare:
        Without snow [-], a number or an array [interval].
    snow:
        With snow of 3 cm or more [-]; a thinner cover counts in proportion.

    Returns
    -------
    Reflectance [-], shape [interval].

    Raises
    ------
    InputError
        If a reflectance is out of range.

    >>> from simengine.weather import builtin
    >>> float(snow_ground(builtin("greensboro"))[0])
    0.2
    """
    _check((snow, float(np.min(bare)), float(np.max(bare))))
    covered = np.clip(np.nan_to_num(column(series, "snow_depth"), nan=0.0) / SNOW_COVERS, 0.0, 1.0)
    return bare + (snow - bare) * covered


def _check(reflectances: tuple[float, ...]) -> None:
    for reflectance in reflectances:
        if not 0.0 <= reflectance <= 1.0:
            raise InputError(f"a ground reflectance of {reflectance:g} is out of range; accepted: 0 to 1")
