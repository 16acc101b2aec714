"""Small weather series and suns for the tests of this room."""

from collections.abc import Callable

import numpy as np
import pandas as pd
import pytest

from simengine.sun import SunPosition, solar_position
from simengine.weather import WeatherSeries, builtin

DEFAULTS = {
    "ghi": 0.0,
    "dni": 0.0,
    "dhi": 0.0,
    "temp_air": 10.0,
    "temp_dew": 5.0,
    "relative_humidity": 71.0,
    "pressure": 101325.0,
    "wind_speed": 3.0,
    "longwave_down": np.nan,
    "albedo": 0.2,
    "snow_depth": np.nan,
}

MakeSeries = Callable[..., WeatherSeries]
MakeSun = Callable[..., SunPosition]


@pytest.fixture
def make_series() -> MakeSeries:
    """Return a maker of a series: place, start, number of steps, and columns that differ from a mild day."""

    def make(
        latitude: float = 40.0,
        longitude: float = -75.0,
        utc_offset: float = -5.0,
        start: str = "2001-01-01",
        count: int = 24,
        step: int = 3600,
        wind_height: float = 10.0,
        **columns: float | np.ndarray,
    ) -> WeatherSeries:
        index = pd.date_range(start, periods=count, freq=pd.Timedelta(seconds=step))
        data = pd.DataFrame({**DEFAULTS, **columns}, index=index, dtype=float)
        return WeatherSeries(
            station="made up",
            format="made up",
            latitude=latitude,
            longitude=longitude,
            elevation=0.0,
            utc_offset=utc_offset,
            step=step,
            wind_height=wind_height,
            data=data,
            findings=(),
            closure_rmse=0.0,
            closure_shift=0.0,
            sha256="",
            synthetic=True,
        )

    return make


@pytest.fixture
def make_sun() -> MakeSun:
    """Return a maker of suns at given zenith and azimuth [deg], up all the interval."""

    def make(
        zenith: float | list[float], azimuth: float | list[float], share: float = 1.0, extra: float = 1400.0
    ) -> SunPosition:
        zeniths, azimuths = np.broadcast_arrays(np.atleast_1d(zenith), np.atleast_1d(azimuth))
        ones = np.ones(zeniths.size)
        return SunPosition(
            zenith=zeniths.astype(float),
            azimuth=azimuths.astype(float),
            extra_radiation=extra * ones,
            sunlit_share=share * ones,
            solar_time=12.0 * ones,
        )

    return make


@pytest.fixture(scope="session")
def greensboro() -> WeatherSeries:
    """The built-in typical year of Greensboro, NC (TMY3 723170, US-government data)."""
    return builtin("greensboro")


@pytest.fixture(scope="session")
def greensboro_sun(greensboro: WeatherSeries) -> SunPosition:
    """The sun of that year."""
    return solar_position(greensboro)
