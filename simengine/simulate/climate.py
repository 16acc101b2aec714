"""The weather of a scenario: read, made from normals, mended and warmed as the scenario asks."""

import hashlib
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from simengine.constants import ZERO_CELSIUS

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.scenario.schema.normals import MonthlyNormals
    from simengine.weather import WeatherSeries

    Weather = WeatherSeries | Sequence[WeatherSeries]

KWH_PER_M2_DAY = 1000.0 / 24.0
"""A daily irradiation of 1 kWh/m2 as a mean over the day [W/m2] (mathematics)."""

SECONDS_PER_HOUR = 3600.0


def weather_of(scenario: "Scenario", given: "Weather | None" = None) -> tuple["WeatherSeries", ...]:
    """Return the weather that a scenario is run with, one series or several.

    Parameters
    ----------
    scenario : the checked scenario
    given : weather to take instead of what the scenario names; it is mended and warmed like any other

    Returns
    -------
    series, at least one

    Raises
    ------
    InputError if a file cannot be used.
    """
    found = read(scenario) if given is None else _all(given)
    return tuple(_as_asked(scenario, series) for series in found)


def digest_of(series: "Sequence[WeatherSeries]") -> str:
    """Return the digest of the bytes of one weather file, or of all digests where there are several."""
    if len(series) == 1:
        return series[0].sha256
    return hashlib.sha256(" ".join(one.sha256 for one in series).encode()).hexdigest()


def read(scenario: "Scenario") -> tuple["WeatherSeries", ...]:
    """Return the weather that a scenario names or makes, as it is before any what-if."""
    from simengine.weather import builtin, read_weather

    normals = scenario.inputs.site.normals
    if normals is not None:
        return (_made(normals),)
    return tuple(
        read_weather(name) if isinstance(name, Path) else builtin(name) for name in scenario.weathers
    )


def _all(given: "Weather") -> "tuple[WeatherSeries, ...]":
    from simengine.weather import WeatherSeries

    return (given,) if isinstance(given, WeatherSeries) else tuple(given)


def _as_asked(scenario: "Scenario", series: "WeatherSeries") -> "WeatherSeries":
    from simengine.weather.mend import clock_mended
    from simengine.weather.sunnier import sunnier
    from simengine.weather.warmer import warmed

    site = scenario.inputs.site
    mended = clock_mended(series) if site.mend_clock else series
    # a series that comes back from an earlier run is warm, and sunny, already
    warm = warmed(mended, site.warmer - mended.warmer) if site.warmer != 0.0 else mended
    return sunnier(warm, site.sun_factor / warm.sun_factor) if site.sun_factor != 1.0 else warm


def _made(given: "MonthlyNormals") -> "WeatherSeries":
    """Return the synthetic year of monthly normals."""
    from simengine.weather.normals import Normals, Place
    from simengine.weather.synthetic import synthetic_year

    clock = given.clock / SECONDS_PER_HOUR
    place = Place(given.latitude, given.longitude, given.elevation, clock, given.name)
    normals = Normals(
        ghi=tuple(value / KWH_PER_M2_DAY for value in given.sun),
        temp_air=tuple(value - ZERO_CELSIUS for value in given.temperature),
        temp_range=given.daily_range,
        temp_spread=given.day_spread,
        relative_humidity=None
        if given.humidity is None
        else tuple(100.0 * value for value in given.humidity),
        wind_speed=given.wind,
    )
    return synthetic_year(place, normals, given.seed)
