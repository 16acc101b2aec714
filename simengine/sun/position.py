"""Where the sun stands in every interval: the exact algorithm at the middle of the interval's sunlit part."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from simengine.sun.calendar import FloatArray, column, day_of_year, interval_starts
from simengine.sun.sunlit import horizon_dip, sunlit_part

if TYPE_CHECKING:
    from simengine.weather.series import WeatherSeries

REFRACTION_AT_HORIZON: Final = 0.5667
"""Usual refraction of the air at sunrise and sunset [deg] (Reda and Andreas 2008)."""


class Site(NamedTuple):
    """A place, with the yearly mean air that bends its low sun."""

    latitude: float  # [deg], north positive
    longitude: float  # [deg], east positive
    elevation: float  # [m]
    pressure: float  # [Pa]
    temperature: float  # [degC]


class SunAngles(NamedTuple):
    """What the sun algorithm gives for instants: arrays, one number an instant."""

    apparent_zenith: FloatArray  # [deg], with refraction
    zenith: FloatArray  # [deg], without
    azimuth: FloatArray  # [deg], clockwise from north
    equation_of_time: FloatArray  # [min]


@dataclass(frozen=True)
class SunPosition:
    """The sun of every interval, taken at the middle of the part of the interval in which it is up.

    Attributes
    ----------
    zenith:
        Apparent zenith angle, refraction included [deg]; above 90 where the sun stays down.
    azimuth:
        Clockwise from north [deg], 0 to 360.
    extra_radiation:
        Irradiance outside the air at normal incidence [W/m2].
    sunlit_share:
        Share of the interval in which the middle of the sun's disc is above a level horizon [-].
    solar_time:
        True solar time of that instant [h], 0 to 24; 12 when the sun is due south or north.
    """

    zenith: FloatArray
    azimuth: FloatArray
    extra_radiation: FloatArray
    sunlit_share: FloatArray
    solar_time: FloatArray


def sun_angles(unix_seconds: FloatArray, site: Site, delta_t: float = 67.0) -> SunAngles:
    """Return the sun's angles at instants, by the NREL solar position algorithm.

    Parameters
    ----------
    unix_seconds:
        Seconds since 1970-01-01 00:00 UTC [s], shape [instant].
    site:
        Place and mean air.
    delta_t:
        Terrestrial time minus UT1 [s]; 67 s in 2003-2015.

    Returns
    -------
    SunAngles of arrays [instant].

    Valid for the years -2000 to 6000, uncertainty 0.0003 deg.
    Source: Reda and Andreas, Solar Energy 76 (2004) and 81 (2007), NREL/TP-560-34302, through pvlib.

    >>> golden = Site(39.742476, -105.1786, 1830.14, 82000.0, 11.0)
    >>> round(float(sun_angles(np.array([1066419030.0]), golden).apparent_zenith[0]), 4)
    50.1116
    """
    from pvlib import spa

    apparent, true, _, _, azimuth, equation_of_time = spa.solar_position(
        unix_seconds,
        site.latitude,
        site.longitude,
        site.elevation,
        site.pressure / 100.0,
        site.temperature,
        delta_t,
        REFRACTION_AT_HORIZON,
        numthreads=1,
    )
    return SunAngles(apparent, true, azimuth, equation_of_time)


def solar_position(series: "WeatherSeries") -> SunPosition:
    """Return the sun of every interval of a weather series.

    The sun is taken at the middle of the interval; where it rises or sets within the interval, at the
    middle of the sunlit part (the longer one, should it dip below the horizon for less than an interval).

    Parameters
    ----------
    series:
        The weather, whose index holds interval starts on a clock `utc_offset` hours ahead of UTC.

    Returns
    -------
    SunPosition of arrays [interval].

    Source: see `sun_angles`; extraterrestrial irradiance of Spencer 1971 with 1366.1 W/m2, through pvlib.

    A year of 8760 hours takes about 0.04 s.

    >>> from simengine.weather import builtin
    >>> sun = solar_position(builtin("greensboro"))  # latitude 36.1 deg, so 36.1 - 23.4 at its highest
    >>> round(float(sun.zenith.min()))
    13
    """
    from pvlib import irradiance

    site = site_of(series)
    starts = interval_starts(series)
    local = starts.astype("datetime64[s]").astype(np.float64)
    middles: FloatArray = local + (0.5 * series.step - 3600.0 * series.utc_offset)
    delta_t = _delta_t(starts)
    angles = sun_angles(middles, site, delta_t)
    lit = sunlit_part(
        _declination(angles, site.latitude),
        15.0 * (_solar_time(middles, site, angles) - 12.0),
        series.step * 15.0 / 3600.0,
        site.latitude,
        horizon_dip(site.pressure, site.temperature),
    )
    partly = np.flatnonzero((lit.share > 0.0) & (lit.offset != 0.0))
    instants = middles.copy()
    instants[partly] += lit.offset[partly] * 3600.0 / 15.0
    if partly.size:
        better = sun_angles(instants[partly], site, delta_t)
        for whole, part in zip(angles, better, strict=True):
            whole[partly] = part
    return SunPosition(
        zenith=angles.apparent_zenith,
        azimuth=angles.azimuth,
        extra_radiation=np.asarray(irradiance.get_extra_radiation(day_of_year(starts)), dtype=np.float64),
        sunlit_share=lit.share,
        solar_time=_solar_time(instants, site, angles),
    )


def site_of(series: "WeatherSeries") -> Site:
    """Return the place of a series with the mean of its pressure and air temperature."""
    return Site(
        series.latitude,
        series.longitude,
        series.elevation,
        float(column(series, "pressure").mean()),
        float(column(series, "temp_air").mean()),
    )


def _delta_t(starts: np.ndarray) -> float:
    from pvlib import spa

    middle = starts[starts.size // 2].astype("datetime64[Y]").astype(np.int64) + 1970
    return float(spa.calculate_deltat(middle, 7))


def _solar_time(unix_seconds: FloatArray, site: Site, angles: SunAngles) -> FloatArray:
    hours = unix_seconds / 3600.0 + site.longitude / 15.0 + angles.equation_of_time / 60.0
    return np.asarray(np.mod(hours, 24.0))


def _declination(angles: SunAngles, latitude: float) -> FloatArray:
    # taken back from the horizontal angles, so that parallax is in it
    zenith, azimuth, north = np.radians(angles.zenith), np.radians(angles.azimuth), np.radians(latitude)
    sine = np.sin(north) * np.cos(zenith) + np.cos(north) * np.sin(zenith) * np.cos(azimuth)
    return np.asarray(np.degrees(np.arcsin(np.clip(sine, -1.0, 1.0))))
