"""Twelve monthly normals of a place: what a synthetic year is made from."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import pandas as pd

from simengine.errors import WeatherError
from simengine.weather.series import TYPICAL_YEAR, WeatherSeries

DAYS: Final = np.array([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
"""Days of the months of the typical year."""

Twelve = tuple[float, ...]


@dataclass(frozen=True)
class Place:
    """Where the year is for.

    Attributes
    ----------
    latitude, longitude : float
        [deg], north and east positive.
    elevation : float
        [m].
    utc_offset : float
        Local standard time ahead of UTC [h].
    name : str
        What to call it.
    """

    latitude: float
    longitude: float
    elevation: float
    utc_offset: float
    name: str = "unnamed"


@dataclass(frozen=True)
class Normals:
    """Monthly normals, January first.

    Attributes
    ----------
    ghi : Twelve
        Mean daily global irradiation on the horizontal [kWh/m2].
    temp_air : Twelve
        Mean air temperature [degC].
    temp_range : Twelve | None
        Mean of daily maximum less minimum [K]; None: from the clearness of the month.
    temp_spread : Twelve | None
        Standard deviation of the daily mean temperatures within the month [K]; None: from the yearly swing.
    relative_humidity : Twelve | None
        Mean relative humidity [%]; None: dew point near the daily minimum.
    wind_speed : Twelve
        Mean wind speed at 10 m [m/s].
    """

    ghi: Twelve
    temp_air: Twelve
    temp_range: Twelve | None = None
    temp_spread: Twelve | None = None
    relative_humidity: Twelve | None = None
    wind_speed: Twelve = (3.0,) * 12

    def __post_init__(self) -> None:
        """Refuse what no place has."""
        problems = [text for name, limits in LIMITS.items() for text in self._wrong(name, limits)]
        if problems:
            raise WeatherError(*problems)

    def _wrong(self, name: str, limits: tuple[float, float]) -> list[str]:
        values = getattr(self, name)
        if values is None:
            return []
        if len(values) != 12:
            return [f"{name}: {len(values)} values; 12 monthly values are accepted"]
        bad = [value for value in values if not limits[0] <= value <= limits[1]]
        return [f"{name}: {bad[0]:g}; {limits[0]:g} to {limits[1]:g} is accepted"] if bad else []


LIMITS: Final = {
    "ghi": (0.0, 11.0),
    "temp_air": (-60.0, 45.0),
    "temp_range": (0.0, 30.0),
    "temp_spread": (0.0, 15.0),
    "relative_humidity": (1.0, 100.0),
    "wind_speed": (0.0, 20.0),
}
"""Wider than the monthly normals of any place."""


def typical_index() -> pd.DatetimeIndex:
    """Return the hours of the typical year."""
    return pd.date_range(f"{TYPICAL_YEAR}-01-01", periods=8760, freq="h")


def normals_of(series: WeatherSeries) -> Normals:
    """Return the monthly normals of a series of whole years.

    Parameters
    ----------
    series : WeatherSeries
        Any series.

    Returns
    -------
    Normals
        With all optional ones; years are averaged.
    """
    data = series.data
    month = pd.DatetimeIndex(data.index).month
    daily = data["temp_air"].resample("D")
    days = pd.DataFrame({"mean": daily.mean(), "range": daily.max() - daily.min()})
    by_day = days.groupby(pd.DatetimeIndex(days.index).month)
    hourly = data.groupby(month)

    def twelve(values: "pd.Series[float]") -> Twelve:
        return tuple(float(value) for value in values)

    return Normals(
        ghi=twelve(hourly["ghi"].mean() * 0.024),
        temp_air=twelve(hourly["temp_air"].mean()),
        temp_range=twelve(by_day["range"].mean()),
        temp_spread=twelve(by_day["mean"].std()),
        relative_humidity=twelve(hourly["relative_humidity"].mean()),
        wind_speed=twelve(hourly["wind_speed"].mean()),
    )
