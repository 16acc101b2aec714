"""A synthetic typical year from twelve monthly normals, by published methods, from a seed."""

import hashlib
from typing import Final

import numpy as np

from simengine.errors import WeatherError
from simengine.weather import synthetic_air, synthetic_sun
from simengine.weather.finish import finish
from simengine.weather.geometry import sun_path
from simengine.weather.normals import DAYS, Normals, Place, typical_index
from simengine.weather.record import Floats, Record
from simengine.weather.series import Finding, WeatherSeries
from simengine.weather.site import standard_pressure
from simengine.weather.split import beam_and_diffuse

MONTH_OF_DAY: Final = np.repeat(np.arange(12), DAYS)
MONTH_OF_HOUR: Final = np.repeat(MONTH_OF_DAY, 24)
RANGE_BY_CLEARNESS: Final = 0.6
"""Share of a day's temperature range that follows its clearness [-] (common practice)."""


def synthetic_year(place: Place, normals: Normals, seed: int = 0) -> WeatherSeries:
    """Return a synthetic typical year; the same place, normals and seed give the same year.

    Monthly irradiation, temperature, humidity and wind are those of the normals; the hours are made up. Days'
    clearness and its order after Bendt et al. (1981) and Graham et al. (1988), hours after Aguiar and
    Collares-Pereira (1992), beam and diffuse after Erbs et al. (1982), temperatures after Erbs et al. (1983);
    all from memory.

    Parameters
    ----------
    place : Place
        Where.
    normals : Normals
        Twelve months.
    seed : int
        Start of the chance, 0 or more.

    Returns
    -------
    WeatherSeries
        8760 hours, labelled synthetic.

    Raises
    ------
    WeatherError
        When the normals hold more sun than there is.
    """
    generator = np.random.default_rng(seed)
    index = typical_index()
    sun = sun_path(index, place.utc_offset, 3600, (place.latitude, place.longitude))
    cosine, share = sun.sunlit()
    outside = sun.normal * cosine * share
    clearness = _monthly_clearness(np.array(normals.ghi), outside)
    days = synthetic_sun.day_clearness(MONTH_OF_DAY, clearness, generator)
    hours = synthetic_sun.hour_clearness(days, outside.reshape(-1, 24), generator).ravel()
    ghi = _with_monthly_means(hours * outside, np.array(normals.ghi) / 0.024)
    dni, dhi = beam_and_diffuse(ghi, sun)
    air = _temperatures(normals, clearness, days, generator)
    moisture = None if normals.relative_humidity is None else np.array(normals.relative_humidity)
    columns = {
        "ghi": ghi,
        "dni": dni,
        "dhi": dhi,
        "temp_air": air,
        "temp_dew": synthetic_air.dew_points(air, MONTH_OF_HOUR, moisture),
        "pressure": np.full(index.size, standard_pressure(place.elevation)),
        "wind_speed": synthetic_air.wind_speeds(MONTH_OF_HOUR, np.array(normals.wind_speed), generator),
    }
    digest = hashlib.sha256(repr((place, normals, seed)).encode()).hexdigest()
    return finish(_record(place, columns, index.to_numpy(), seed), digest)


def _monthly_clearness(ghi: Floats, outside: Floats) -> Floats:
    """Return each month's clearness index [-] from its daily irradiation [kWh/m2]."""
    most = np.bincount(MONTH_OF_HOUR, outside) / DAYS / 1000.0
    clearness = np.where(most > 0.01, ghi / np.maximum(most, 0.01), 0.0)
    wrong = np.flatnonzero((clearness > synthetic_sun.HIGHEST_DAY) | ((most <= 0.01) & (ghi > 0.05)))
    if wrong.size:
        month = int(wrong[0])
        limit = synthetic_sun.HIGHEST_DAY * most[month]
        raise WeatherError(
            f"ghi: {ghi[month]:g} kWh/m2 a day in month {month + 1}; at most {limit:.2f} is accepted there"
        )
    return clearness


def _with_monthly_means(values: Floats, means: Floats) -> Floats:
    now = np.bincount(MONTH_OF_HOUR, values) / np.bincount(MONTH_OF_HOUR)
    factor = np.where(now > 0.0, means / np.maximum(now, 1e-9), 1.0)
    return np.asarray(values * factor[MONTH_OF_HOUR])


def _temperatures(
    normals: Normals, clearness: Floats, days: Floats, generator: np.random.Generator
) -> Floats:
    mean = np.array(normals.temp_air)
    spread = (
        synthetic_air.spread_of_days(mean, DAYS)
        if normals.temp_spread is None
        else np.array(normals.temp_spread)
    )
    swing = (
        synthetic_air.range_of_days(clearness) if normals.temp_range is None else np.array(normals.temp_range)
    )
    day_mean = synthetic_air.day_means(MONTH_OF_DAY, (mean, spread), generator)
    relative = days / np.maximum(clearness, 0.01)[MONTH_OF_DAY]
    day_range = swing[MONTH_OF_DAY] * (1.0 - RANGE_BY_CLEARNESS + RANGE_BY_CLEARNESS * relative)
    return synthetic_air.hourly_wave(day_mean, day_range)


def _record(place: Place, columns: dict[str, Floats], starts: np.ndarray, seed: int) -> Record:
    return Record(
        name=f"synthetic year of {place.name}",
        station=place.name,
        format="synthetic",
        latitude=place.latitude,
        longitude=place.longitude,
        elevation=place.elevation,
        utc_offset=place.utc_offset,
        wind_height=10.0,
        columns=columns,
        starts=starts.astype("datetime64[s]"),
        step=3600,
        first_line=0,
        typical=True,
        findings=(
            Finding(
                "warning", f"synthetic: generated from twelve monthly normals (seed {seed}), not measured"
            ),
        ),
        synthetic=True,
    )
