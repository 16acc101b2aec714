"""Temperature of the ground round a basement: the yearly wave of the outdoor air, damped and late."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

SECONDS_PER_YEAR = 365.0 * 86400.0


class YearlyWave(NamedTuple):
    """First harmonic of a year, T = mean - amplitude cos(2 pi (t - coldest))."""

    mean: float  # [K]
    amplitude: float  # [K]
    coldest: float  # [-] share of the year that has passed then


def yearly_wave(temperature: Array, share: Array) -> YearlyWave:
    """Return the first harmonic of a year's temperatures.

    Parameters
    ----------
    temperature : interval means over whole years [K]
    share : share of the year that has passed in the middle of each interval [-]

    Returns
    -------
    YearlyWave

    Source: Fourier sums.

    >>> share = (np.arange(8760) + 0.5) / 8760
    >>> wave = yearly_wave(283.15 - 12.0 * np.cos(2.0 * np.pi * (share - 0.05)), share)
    >>> [round(float(value), 6) for value in wave]
    [283.15, 12.0, 0.05]
    """
    angle = 2.0 * np.pi * share
    cosine = -2.0 * float(np.mean(temperature * np.cos(angle)))
    sine = -2.0 * float(np.mean(temperature * np.sin(angle)))
    coldest = math.atan2(sine, cosine) / (2.0 * math.pi) % 1.0
    return YearlyWave(float(np.mean(temperature)), math.hypot(cosine, sine), coldest)


def ground_temperature(wave: YearlyWave, share: Array, depth: float, diffusivity: float) -> Array:
    """Return the temperature of undisturbed ground.

    Parameters
    ----------
    wave : of the surface, taken as that of the outdoor air
    share : share of the year that has passed [-]
    depth : below the surface [m]
    diffusivity : of the ground [m2/s]; 0.3e-6 (dry sand) to 1e-6 (wet clay, rock)

    Returns
    -------
    temperature [K]

    Range: homogeneous ground, no house above it: a heated basement warms its own ground.
    Source: Kusuda and Achenbach 1965 (from memory): amplitude exp(-z/d), delay z/d, d = sqrt(2 a/omega).

    >>> wave = YearlyWave(283.15, 12.0, 0.05)
    >>> deep = ground_temperature(wave, np.array([0.05]), 40.0, 0.6e-6)
    >>> round(float(deep[0]), 3)  # far down it is the yearly mean
    283.15
    """
    omega = 2.0 * math.pi / SECONDS_PER_YEAR
    damped = depth / math.sqrt(2.0 * diffusivity / omega)
    angle = 2.0 * np.pi * (share - wave.coldest) - damped
    found: Array = wave.mean - wave.amplitude * math.exp(-damped) * np.cos(angle)
    return found
