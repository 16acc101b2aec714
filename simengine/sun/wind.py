"""Wind at the collector from the wind of the weather station."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TYPE_CHECKING, Final

import numpy as np

from simengine.errors import InputError
from simengine.sun.calendar import FloatArray, column

if TYPE_CHECKING:
    from simengine.weather.series import WeatherSeries

LOWEST: Final = 1.0
"""The power law is not used nearer to the ground [m] (common practice)."""


@dataclass(frozen=True)
class Terrain:
    """Roughness of a neighbourhood: exponent [-] and boundary layer height [m] of its wind profile."""

    exponent: float
    layer_height: float


TERRAINS: Final[Mapping[str, Terrain]] = MappingProxyType(
    {
        "city": Terrain(0.33, 460.0),
        "suburban": Terrain(0.22, 370.0),
        "open": Terrain(0.14, 270.0),
        "flat": Terrain(0.10, 210.0),
    }
)
"""Large city centres; towns, suburbs and woods; open ground with scattered obstacles; flat ground and water.

Source: ASHRAE Handbook of Fundamentals, chapter "Airflow around buildings", table 1 (from memory).
"""


def terrain_factor(
    height: float, terrain: str, station_height: float = 10.0, station_terrain: str = "open"
) -> float:
    """Return the wind speed at a height over one terrain as a multiple of a station's.

    Parameters
    ----------
    height:
        Above ground at the collector [m]; below 1 m it counts as 1 m.
    terrain:
        Of the collector, a key of `TERRAINS`.
    station_height:
        Of the station's instrument above ground [m].
    station_terrain:
        Of the station, a key of `TERRAINS`.

    Returns
    -------
    Factor [-].

    Raises
    ------
    InputError
        For an unknown terrain, or heights outside 0 to the boundary layer.

    Source: ASHRAE Handbook of Fundamentals, "Airflow around buildings", eq. 4 (from memory).

    >>> round(terrain_factor(10.0, "open"), 6), round(terrain_factor(2.0, "suburban"), 3)
    (1.0, 0.503)
    """
    for name in (terrain, station_terrain):
        if name not in TERRAINS:
            raise InputError(f"terrain '{name:.40}' is unknown; accepted: {', '.join(TERRAINS)}")
    here, there = TERRAINS[terrain], TERRAINS[station_terrain]
    for value, limit in ((height, here.layer_height), (station_height, there.layer_height)):
        if not 0.0 <= value <= limit:
            raise InputError(f"a wind height of {value:g} m is out of range; accepted: 0 to {limit:g} m")
    aloft = (there.layer_height / max(station_height, LOWEST)) ** there.exponent
    return float(aloft * (max(height, LOWEST) / here.layer_height) ** here.exponent)


def collector_wind(
    series: "WeatherSeries",
    height: float = 2.0,
    terrain: str = "suburban",
    shelter: float = 1.0,
    station_terrain: str = "open",
) -> FloatArray:
    """Return the wind speed at the collector in every interval.

    Parameters
    ----------
    series:
        The weather, with its wind speed [m/s] and the height it was taken at [m].
    height:
        Of the collector's middle above ground [m].
    terrain:
        Of the collector, a key of `TERRAINS`.
    shelter:
        What hedges, fences and corners leave of the wind [-], 0 to 1.
    station_terrain:
        Of the station, a key of `TERRAINS`.

    Returns
    -------
    Wind speed [m/s], shape [interval].

    Raises
    ------
    InputError
        For an unknown terrain, a height or a shelter factor out of range.

    Source: see `terrain_factor`.

    >>> from simengine.weather import builtin
    >>> year = builtin("greensboro")
    >>> share = collector_wind(year, height=2.0).mean() / year.data.wind_speed.mean()
    >>> round(float(share), 3)
    0.503
    """
    if not 0.0 <= shelter <= 1.0:
        raise InputError(f"a shelter factor of {shelter:g} is out of range; accepted: 0 (calm) to 1 (open)")
    factor = terrain_factor(height, terrain, series.wind_height, station_terrain)
    return np.maximum(column(series, "wind_speed"), 0.0) * (factor * shelter)
