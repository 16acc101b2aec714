"""How much of the sky is clouded: as the series says, or as its sunshine tells."""

from typing import TYPE_CHECKING, Final

import numpy as np

from simengine.sun.calendar import FloatArray, column
from simengine.sun.position import SunPosition

if TYPE_CHECKING:
    from simengine.weather.series import WeatherSeries

COVER_COLUMN: Final = "opaque_cloud_cover"
"""Optional column of a series: share of the sky behind opaque clouds [-]."""

LOWEST_SUN: Final = 10.0
"""Sun elevation from which its irradiance tells of clouds [deg]."""

WITHOUT_SUN: Final = 0.5
"""Cover where a whole series has no sun to tell it [-]."""


def clear_irradiance(elevation: FloatArray) -> FloatArray:
    """Return the global horizontal irradiance under a cloudless sky.

    Parameters
    ----------
    elevation:
        Of the sun [deg], 5 to 90.

    Returns
    -------
    Irradiance [W/m2].

    Source: Kasten and Czeplak, Solar Energy 24 (1980) (from memory; measured in Hamburg at sea level).

    >>> round(float(clear_irradiance(np.array([30.0]))[0]), 6)
    425.0
    """
    return np.asarray(910.0 * np.sin(np.radians(elevation)) - 30.0)


def cover_from_irradiance(ghi: FloatArray, elevation: FloatArray) -> FloatArray:
    """Return the cloud cover that goes with a global irradiance.

    Parameters
    ----------
    ghi:
        Global horizontal irradiance [W/m2].
    elevation:
        Of the sun [deg], 5 to 90.

    Returns
    -------
    Cover [-], 0 to 1: clouds leave 1 - 0.75 cover^3.4 of the clear irradiance.

    Source: see `clear_irradiance`.

    >>> float(cover_from_irradiance(np.array([106.25]), np.array([30.0]))[0])
    1.0
    """
    missing = np.clip((1.0 - ghi / clear_irradiance(elevation)) / 0.75, 0.0, 1.0)
    return np.asarray(missing ** (1.0 / 3.4))


def cloud_cover(series: "WeatherSeries", position: SunPosition) -> FloatArray:
    """Return the cloud cover of every interval.

    Parameters
    ----------
    series:
        The weather; a column `opaque_cloud_cover` [-] is used where it holds numbers.
    position:
        The sun of the same intervals.

    Returns
    -------
    Cover [-], shape [interval]. From the sun where that stands above 10 deg; the rest runs in a straight line
    from one day's mean to the next day's, around the year's end too. A long polar night is thus a guess.

    >>> from simengine.sun.position import solar_position
    >>> from simengine.weather import builtin
    >>> year = builtin("greensboro")
    >>> bool(0.4 < cloud_cover(year, solar_position(year)).mean() < 0.6)
    True
    """
    told = _cover_told_by_sun(column(series, "ghi"), 90.0 - position.zenith, 86400.0 / series.step)
    if COVER_COLUMN not in series.data.columns:
        return told
    given = column(series, COVER_COLUMN)
    return np.where(np.isfinite(given), np.clip(given, 0.0, 1.0), told)


def _cover_told_by_sun(ghi: FloatArray, elevation: FloatArray, per_day: float) -> FloatArray:
    times = np.flatnonzero(elevation >= LOWEST_SUN)
    if not times.size:
        return np.full(ghi.size, WITHOUT_SUN)
    seen = cover_from_irradiance(ghi[times], elevation[times])
    # a low sun tells little, so it counts little in the day's mean; days begin where the sun is lowest
    weight = clear_irradiance(elevation[times])
    lowest = int(np.argmin(elevation[: int(per_day)]))
    day = ((times - lowest) // per_day).astype(np.int64)
    day -= day.min()
    total = np.bincount(day, weight)
    told = total > 0.0
    mean, noon = (np.bincount(day, weight * value)[told] / total[told] for value in (seen, times))
    cover = np.interp(np.arange(ghi.size), noon, mean, period=ghi.size)
    cover[times] = seen
    return cover
