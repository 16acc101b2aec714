"""Synthetic air: daily means that spread and persist as weather does, the daily wave, humidity and wind."""

from statistics import NormalDist
from typing import Final

import numpy as np

from simengine.air.psychrometrics import relative_humidity
from simengine.constants import ZERO_CELSIUS
from simengine.weather.record import Floats, Integers
from simengine.weather.synthetic_sun import chain, ranks

TEMPERATURE_PERSISTENCE: Final = 0.7
"""Correlation of one day's mean temperature with the next [-] (common practice, 0.6 to 0.8)."""

WIND_PERSISTENCE: Final = 0.85
"""Correlation of one hour's wind with the next [-] (common practice)."""

WAVE: Final = ((0.4632, 3.805), (0.0984, 0.360), (0.0168, 0.822), (0.0138, 3.513))
"""Amplitude [-] and phase [rad] of the daily wave over its range (Erbs et al. 1983; from memory)."""


def spread_of_days(temp_air: Floats, days: Floats) -> Floats:
    """Return the standard deviation of daily mean temperatures within each month [K].

    Erbs, Klein and Beckman (1983), from memory: the spread of a month's mean is 1.45 - 0.029 T + 0.0664
    (standard deviation of the twelve means); their degree days to a base at the mean are 0.2041 of it times
    N^1.5, where normally spread daily means give 0.3989 s N.

    Parameters
    ----------
    temp_air : Floats
        Monthly means [degC].
    days : Floats
        Days of the months [d].
    """
    monthly = 1.45 - 0.0290 * temp_air + 0.0664 * np.std(temp_air, ddof=1)
    return np.maximum(monthly, 0.3) * np.sqrt(days) * 0.2041 / 0.3989


def range_of_days(clearness: Floats) -> Floats:
    """Return the daily maximum less minimum [K] for a monthly clearness index [-].

    Erbs et al. (1983), from memory.

    Examples
    --------
    >>> round(float(range_of_days(np.array([0.5]))[0]), 2)
    7.69
    """
    return np.maximum(25.8 * clearness - 5.21, 2.0)


def day_means(month: Integers, normals: tuple[Floats, Floats], generator: np.random.Generator) -> Floats:
    """Return the year's daily mean temperatures [degC]: normal quantiles in the order of a persistent chain.

    Parameters
    ----------
    month : Integers
        Month of each day, 0 to 11.
    normals : tuple[Floats, Floats]
        Monthly mean [degC] and spread of the daily means [K], twelve each.
    generator : np.random.Generator
        Source of chance.
    """
    weather = chain(month.size, TEMPERATURE_PERSISTENCE, generator)
    means = np.empty(month.size)
    for number in range(12):
        days = month == number
        share = (np.arange(np.count_nonzero(days)) + 0.5) / np.count_nonzero(days)
        quantiles = np.array([NormalDist().inv_cdf(value) for value in share.tolist()])
        quantiles *= normals[1][number] / quantiles.std(ddof=1)
        means[days] = normals[0][number] + quantiles[ranks(weather[days])]
    return means


def hourly_wave(day_mean: Floats, day_range: Floats) -> Floats:
    """Return hourly temperatures [degC] [hour of the year] about each day's mean, over its range [K].

    The mean runs from one day into the next, so that there is no step at midnight; each day's mean is kept.
    """
    angle = 2.0 * np.pi * (np.arange(24) + 0.5 - 1.0) / 24.0
    wave = sum(size * np.cos(order * angle - phase) for order, (size, phase) in enumerate(WAVE, 1))
    days = np.arange(day_mean.size)
    centre = (np.arange(24 * day_mean.size) + 0.5) / 24.0 - 0.5
    base = np.interp(centre, days, day_mean, period=day_mean.size).reshape(-1, 24)
    base += (day_mean - base.mean(axis=1))[:, np.newaxis]
    return np.asarray(base + day_range[:, np.newaxis] * wave).ravel()


def dew_points(temp_air: Floats, month: Integers, wanted: Floats | None) -> Floats:
    """Return hourly dew points [degC] that are steady within a day and give the months' mean humidities.

    Parameters
    ----------
    temp_air : Floats
        Hourly [degC].
    month : Integers
        Month of each hour, 0 to 11.
    wanted : Floats | None
        Monthly mean relative humidity [%]; None: the dew point stays 1 K below the day's minimum
        (within the 0 to 2 K of Allen et al. 1998, FAO paper 56).
    """
    lowest = np.repeat(temp_air.reshape(-1, 24).min(axis=1), 24) - 1.0
    if wanted is None:
        return lowest
    offset = np.zeros(12)
    dew = lowest
    for _ in range(12):
        dew = np.minimum(lowest + offset[month], temp_air)
        ratio = relative_humidity(temp_air + ZERO_CELSIUS, dew + ZERO_CELSIUS)
        mean = np.bincount(month, 100.0 * ratio) / np.bincount(month)
        offset += 16.0 * np.log(np.maximum(wanted, 1.0) / mean)
    return dew


def wind_speeds(month: Integers, mean: Floats, generator: np.random.Generator) -> Floats:
    """Return hourly wind speeds [m/s]: Rayleigh quantiles in the order of a persistent chain, means kept.

    Parameters
    ----------
    month : Integers
        Month of each hour, 0 to 11.
    mean : Floats
        Monthly means [m/s].
    generator : np.random.Generator
        Source of chance.
    """
    weather = chain(month.size, WIND_PERSISTENCE, generator)
    speeds = np.empty(month.size)
    for number in range(12):
        hours = month == number
        count = np.count_nonzero(hours)
        quantiles = np.sqrt(-np.log(1.0 - (np.arange(count) + 0.5) / count))
        speeds[hours] = (quantiles * mean[number] / quantiles.mean())[ranks(weather[hours])]
    return speeds
