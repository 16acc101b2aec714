"""A light sun for checking files: good to a minute of time, a hundred times faster than the exact one."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import pandas as pd

from simengine.weather.record import Floats

SOLAR_CONSTANT: Final = 1361.0
"""Total solar irradiance at the mean distance [W/m2] (Kopp and Lean 2011)."""


@dataclass(frozen=True)
class SunPath:
    """The sun over every interval of a series: what is needed for the cosine of its zenith.

    Attributes
    ----------
    hour_angle : Floats
        At the middle of the interval [rad], within +-pi.
    half_width : float
        Half the interval [rad].
    constant, amplitude : Floats
        cos(zenith) = constant + amplitude cos(hour angle) [-].
    half_day : Floats
        Hour angle of sunset [rad]; 0 in the polar night, beyond pi in the polar day.
    normal : Floats
        Extraterrestrial irradiance at normal incidence [W/m2].
    """

    hour_angle: Floats
    half_width: float
    constant: Floats
    amplitude: Floats
    half_day: Floats
    normal: Floats

    def part(self, rows: np.ndarray) -> "SunPath":
        """Return the same for some intervals only."""
        return SunPath(
            self.hour_angle[rows],
            self.half_width,
            self.constant[rows],
            self.amplitude[rows],
            self.half_day[rows],
            self.normal[rows],
        )

    def sunlit(self, shift: float = 0.0) -> tuple[Floats, Floats]:
        """Return the mean cosine over the sunlit part of each interval, and that part's share.

        Parameters
        ----------
        shift : float
            How much later than its label the interval is taken to be [h].
        """
        middle = self.hour_angle + np.radians(15.0) * shift
        middle = (middle + np.pi) % (2.0 * np.pi) - np.pi
        low = np.maximum(middle - self.half_width, -self.half_day)
        high = np.minimum(middle + self.half_width, self.half_day)
        width = high - low
        lit = width > 1e-9
        safe = np.where(lit, width, 1.0)
        mean = self.constant + self.amplitude * (np.sin(high) - np.sin(low)) / safe
        cosine = np.where(lit, np.maximum(mean, 0.0), 0.0)
        share = np.where(lit, width / (2.0 * self.half_width), 0.0)
        return cosine, np.minimum(share, 1.0)


def sun_path(index: pd.DatetimeIndex, utc_offset: float, step: int, site: tuple[float, float]) -> SunPath:
    """Return the sun over each interval.

    The low-precision formulas of the Astronomical Almanac (good to 0.01 deg over 1950 to 2050; from memory),
    checked against the NREL algorithm in the tests.

    Parameters
    ----------
    index : pd.DatetimeIndex
        Interval starts on the file's clock.
    utc_offset : float
        That clock ahead of UTC [h].
    step : int
        [s].
    site : tuple[float, float]
        Latitude, longitude [deg].

    Examples
    --------
    >>> noon = pd.DatetimeIndex(["2001-03-20 11:37"])
    >>> round(float(sun_path(noon, 0.0, 3600, (0.0, 0.0)).sunlit()[0][0]), 3)
    0.997
    """
    seconds = (
        (index.to_numpy() - np.datetime64("2000-01-01T12:00")).astype("timedelta64[s]").astype(np.float64)
    )
    days = (seconds + 0.5 * step - 3600.0 * utc_offset) / 86400.0
    declination, equation, distance = _ephemeris(days)
    # The days count from noon, so their fraction is the mean sun's hour angle at Greenwich.
    hour_angle = 2.0 * np.pi * (days % 1.0) + np.radians(site[1]) + equation
    latitude = np.radians(site[0])
    constant = np.sin(latitude) * np.sin(declination)
    amplitude = np.cos(latitude) * np.cos(declination)
    half_day = np.arccos(np.clip(-constant / np.maximum(amplitude, 1e-12), -1.0, 1.0))
    return SunPath(
        (hour_angle + np.pi) % (2.0 * np.pi) - np.pi,
        np.pi * step / 86400.0,
        constant,
        amplitude,
        np.where(half_day > np.pi - 1e-9, 2.0 * np.pi, half_day),
        SOLAR_CONSTANT / distance**2,
    )


def _ephemeris(days: Floats) -> tuple[Floats, Floats, Floats]:
    """Return declination, equation of time [rad] and distance [au] for days since noon of 2000-01-01."""
    anomaly = np.radians((357.528 + 0.9856003 * days) % 360.0)
    mean = np.radians((280.460 + 0.9856474 * days) % 360.0)
    longitude = mean + np.radians(1.915 * np.sin(anomaly) + 0.020 * np.sin(2.0 * anomaly))
    tilt = np.radians(23.439 - 4e-7 * days)
    declination = np.arcsin(np.sin(tilt) * np.sin(longitude))
    ascension = np.arctan2(np.cos(tilt) * np.sin(longitude), np.cos(longitude))
    equation = (mean - ascension + np.pi) % (2.0 * np.pi) - np.pi
    return declination, equation, 1.00014 - 0.01671 * np.cos(anomaly) - 0.00014 * np.cos(2.0 * anomaly)
