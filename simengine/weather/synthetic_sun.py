"""Synthetic radiation: days of the right clearness in a likely order, hours within them, beam and diffuse."""

from typing import Final

import numpy as np

from simengine.weather.record import Floats, Integers

DAY_PERSISTENCE: Final = 0.29
"""Correlation of one day's clearness with the next [-] (Graham, Hollands and Brunger 1988; from memory)."""

LOWEST: Final = 0.05
"""Clearness of the darkest day [-] (as in Bendt et al. 1981)."""

HIGHEST_DAY: Final = 0.8
"""Clearness that no day exceeds [-] (common practice)."""


def day_clearness(month: Integers, mean: Floats, generator: np.random.Generator) -> Floats:
    """Return the clearness index of each day of the year [-], each month's mean kept.

    The order of the days within a month is that of a chain with the persistence of Graham et al. (1988).

    Parameters
    ----------
    month : Integers
        Month of each day, 0 to 11.
    mean : Floats
        Monthly mean clearness index [-], twelve.
    generator : np.random.Generator
        Source of chance.
    """
    weather = chain(month.size, DAY_PERSISTENCE, generator)
    clearness = np.empty(month.size)
    for number in range(12):
        days = month == number
        quantiles = clearness_quantiles(float(mean[number]), int(np.count_nonzero(days)))
        clearness[days] = quantiles[ranks(weather[days])]
    return clearness


def clearness_quantiles(mean: float, count: int) -> Floats:
    """Return the days of a month from the dullest to the clearest, as clearness indices [-].

    Exponential distribution of Bendt, Collares-Pereira and Rabl (1981) with the fit of Herzog (1985), as
    Duffie and Beckman give them (from memory).

    Parameters
    ----------
    mean : float
        Monthly mean clearness index [-]; the fit is for 0.3 to 0.7.
    count : int
        Days.

    Examples
    --------
    >>> round(float(clearness_quantiles(0.5, 31).mean()), 6)
    0.5
    """
    if mean <= LOWEST + 0.02 or mean >= HIGHEST_DAY - 0.02:
        return np.full(count, mean)
    highest = max(0.6313 + 0.267 * mean - 11.9 * (mean - 0.75) ** 8, mean + 0.02)
    xi = (highest - LOWEST) / (highest - mean)
    gamma = -1.498 + (1.184 * xi - 27.182 * np.exp(-1.5 * xi)) / (highest - LOWEST)
    share = (np.arange(count) + 0.5) / count
    low, high = np.exp(gamma * LOWEST), np.exp(gamma * highest)
    values = np.log((1.0 - share) * low + share * high) / (gamma if abs(gamma) > 1e-6 else 1e-6)
    for _ in range(20):
        values = np.clip(values + (mean - values.mean()), 0.03, min(highest + 0.03, HIGHEST_DAY))
    return np.asarray(values)


def chain(count: int, persistence: float, generator: np.random.Generator) -> Floats:
    """Return a first-order chain of standard normal values with a correlation from one to the next [-].

    Parameters
    ----------
    count : how many values
    persistence : the correlation [-], 0 to 1
    generator : of random numbers
    """
    noise = generator.standard_normal(count)
    fresh = np.sqrt(1.0 - persistence**2)
    last = float(generator.standard_normal())
    values = []
    for step in (fresh * noise).tolist():
        last = persistence * last + step
        values.append(last)
    return np.array(values)


def ranks(values: Floats) -> np.ndarray:
    """Return the rank of each value, 0 the least [-]."""
    order = np.empty(values.size, dtype=np.int64)
    order[np.argsort(values)] = np.arange(values.size)
    return order


def hour_clearness(days: Floats, outside: Floats, generator: np.random.Generator) -> Floats:
    """Return the clearness index of each hour [-], the days' totals kept.

    Time-dependent autoregressive Gaussian model of Aguiar and Collares-Pereira (1992), from memory.

    Parameters
    ----------
    days : Floats
        Clearness index of each day [-].
    outside : Floats
        Extraterrestrial irradiance on the horizontal [day, hour] [W/m2].
    generator : np.random.Generator
        Source of chance.
    """
    sine = outside / 1361.0
    kt = days[:, np.newaxis]
    level = -0.19 + 1.12 * kt + 0.24 * np.exp(-8.0 * kt)
    rise = 0.32 - 1.6 * (kt - 0.5) ** 2
    fall = 0.19 + 2.27 * kt**2 - 2.51 * kt**3
    lit = outside > 1.0
    mean = level + rise * np.exp(-fall / np.maximum(sine, 0.02))
    spread = 0.14 * np.exp(-20.0 * (kt - 0.35) ** 2)
    spread = spread * np.exp(3.0 * ((kt - 0.45) ** 2 + 16.0 * kt**5) * (1.0 - sine))
    persistence = 0.38 + 0.06 * np.cos(7.4 * days - 2.5)
    state = generator.standard_normal(days.size)
    noise = generator.standard_normal(outside.shape)
    hours = np.zeros(outside.shape)
    for hour in range(outside.shape[1]):
        state = persistence * state + np.sqrt(1.0 - persistence**2) * noise[:, hour]
        hours[:, hour] = mean[:, hour] + np.minimum(spread[:, hour], 0.2) * state
    highest = clear_sky(sine)
    hours = np.where(lit, np.clip(hours, 0.02, highest), 0.0)
    return _with_totals(hours, days, (outside, highest))


def clear_sky(sine: Floats) -> Floats:
    """Return the clearness index that a clear sky gives [-] for the sine of the sun's height [-].

    Haurwitz (1945), from memory: 1098 sin(h) exp(-0.057 / sin(h)) W/m2.

    Examples
    --------
    >>> round(float(clear_sky(np.array([1.0]))[0]), 2)
    0.76
    """
    return 1098.0 / 1361.0 * np.exp(-0.057 / np.maximum(sine, 0.02))


def _with_totals(hours: Floats, days: Floats, limits: tuple[Floats, Floats]) -> Floats:
    """Scale each day's hours to the day's clearness, without passing the clear sky while it is enough."""
    outside, highest = limits
    wanted = days * outside.sum(axis=1)
    for _ in range(8):
        total = (hours * outside).sum(axis=1)
        scale = np.where(total > 0.0, wanted / np.maximum(total, 1e-9), 1.0)
        hours = np.minimum(hours * scale[:, np.newaxis], highest)
    return hours
