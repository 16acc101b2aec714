"""Heat that comes by itself: sun through windows, people and appliances, and how far it helps."""

from collections.abc import Sequence
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.errors import InputError, RangeError
from simengine.house.spec import House, Window

Array = NDArray[np.float64]

ANGULAR_FACTOR: Final = 0.9
"""Solar factor over the day against that at normal incidence [-] (ISO 13790 F_w, from memory)."""

RESIDENTIAL_SHAPE: Final = (4.0,) * 7 + (4.5,) * 10 + (10.5,) * 6 + (4.0,)
"""Internal gains by the hour of a day [W/m2], living and other rooms in equal parts (ISO 13790
annex G, from memory: 2 and 6 from 23 to 7 h, 8 and 1 from 7 to 17 h, 20 and 1 from 17 to 23 h).
Only its shape is used."""


class Gains(NamedTuple):
    """The two kinds of gain, arrays [interval]."""

    internal: Array  # [W]
    solar: Array  # [W]


def solar_aperture(window: Window, angular_factor: float = ANGULAR_FACTOR) -> float:
    """Return the area of a hole that lets in as much sun as a group of windows.

    Parameters
    ----------
    window : area, frame, solar factor and shading
    angular_factor : fall-off of the solar factor away from normal incidence [-]

    Returns
    -------
    effective collecting area [m2]

    Raises
    ------
    RangeError
        A share outside 0 to 1 or an area below zero.

    Source: ISO 13790:2008 clause 11.3 (from memory).

    >>> round(solar_aperture(Window(180.0, 10.0, 0.75, frame_share=0.3, shading_factor=0.9)), 3)
    4.253
    """
    shares = (window.solar_factor, window.frame_share, window.shading_factor, angular_factor)
    if window.area < 0.0 or not all(0.0 <= share <= 1.0 for share in shares):
        raise RangeError("window: area 0 or more; solar factor, frame, shading and angular factor 0 to 1")
    glass = window.area * (1.0 - window.frame_share)
    return glass * window.solar_factor * window.shading_factor * angular_factor


def solar_gain(
    windows: Sequence[Window],
    irradiance: Sequence[Array] | Array,
    angular_factor: Sequence[Array] | Array | float = ANGULAR_FACTOR,
) -> Array:
    """Return the sun that comes in through windows.

    Parameters
    ----------
    windows : the groups of windows
    irradiance : total on the plane of each group [W/m2], array [window, interval]
    angular_factor : one number, or array [window, interval] where the angle is followed [-]

    Returns
    -------
    gain [W], array [interval]

    Raises
    ------
    InputError
        Not one row of irradiance for each group of windows.

    Source: ISO 13790:2008 clause 11.3, without the long-wave term (from memory).

    >>> solar_gain([Window(180.0, 10.0, 0.5, 0.2, 1.0)], np.array([[0.0, 500.0]]), 1.0).tolist()
    [0.0, 2000.0]
    """
    planes = np.atleast_2d(np.asarray(irradiance, dtype=float))
    if len(planes) != len(windows):
        raise InputError(f"windows: {len(windows)} groups but {len(planes)} rows of irradiance")
    apertures = np.array([solar_aperture(window, 1.0) for window in windows])
    gain: Array = (apertures[:, np.newaxis] * np.asarray(angular_factor) * planes).sum(axis=0)
    return gain


def internal_profile(mean: float, shape: Sequence[float] = RESIDENTIAL_SHAPE) -> tuple[float, ...]:
    """Return internal gains by the hour of the day with a wanted mean.

    Parameters
    ----------
    mean : mean over the day [W]
    shape : 24 numbers in any unit; only their proportions count

    Returns
    -------
    24 values [W]

    Raises
    ------
    InputError
        Not 24 numbers, one below zero, or all zero.

    >>> profile = internal_profile(420.0)
    >>> round(sum(profile) / 24.0, 9), round(max(profile))
    (420.0, 756)
    """
    if len(shape) != 24 or min(shape) < 0.0 or max(shape) == 0.0:
        raise InputError("internal gains: a shape needs 24 numbers, none below zero, not all zero")
    scale = mean * 24.0 / sum(shape)
    return tuple(scale * value for value in shape)


def by_hour(values: Sequence[float], hour_of_day: NDArray[np.int64]) -> Array:
    """Return a daily schedule laid out over intervals.

    Parameters
    ----------
    values : 24 values by the hour of the day, local standard time
    hour_of_day : hour in which each interval starts [h], 0 to 23, array [interval]

    Returns
    -------
    the value of each interval, array [interval]

    Raises
    ------
    InputError
        Not 24 values, or an hour outside 0 to 23.

    >>> by_hour(tuple(range(24)), np.array([0, 0, 13])).tolist()
    [0.0, 0.0, 13.0]
    """
    hours = np.asarray(hour_of_day)
    if len(values) != 24 or (hours.size and (hours.min() < 0 or hours.max() > 23)):
        raise InputError("schedule: accepted: 24 values, and hours from 0 to 23")
    laid_out: Array = np.asarray(values, dtype=float)[hours]
    return laid_out


def house_gains(house: House, hour_of_day: NDArray[np.int64], irradiance: Sequence[Array] | Array) -> Gains:
    """Return a house's gains over the intervals.

    Parameters
    ----------
    house : windows and internal gains
    hour_of_day : hour in which each interval starts [h], array [interval]
    irradiance : total on each window's plane [W/m2], array [window, interval]

    Returns
    -------
    internal and solar gains [W], arrays [interval]

    Raises
    ------
    InputError
        Rows of irradiance and groups of windows don't match.

    >>> from simengine.house.presets import standard
    >>> gains = house_gains(standard(140.0), np.array([12]), np.zeros((4, 1)))
    >>> round(gains.internal[0]), gains.solar[0]
    (324, np.float64(0.0))
    """
    internal = by_hour(house.internal_gain, hour_of_day)
    solar = solar_gain(house.windows, irradiance) if house.windows else np.zeros_like(internal)
    return Gains(internal, solar)


def gain_utilisation(gain_ratio: float, exponent: float) -> float:
    """Return the share of a month's gains that saves heating.

    Parameters
    ----------
    gain_ratio : gains over losses of the month, gamma [-]
    exponent : 1 + time constant / 15 h [-]

    Returns
    -------
    utilisation [-]

    Raises
    ------
    RangeError
        A ratio or exponent that is not above zero.

    Source: ISO 13790:2008 clause 12.2.1 (from memory). A check on the hourly network, not used by it.

    >>> round(gain_utilisation(0.8, 2.0), 4)
    0.7377
    """
    if gain_ratio <= 0.0 or exponent <= 0.0:
        raise RangeError("gain utilisation: gain ratio and exponent must be above zero")
    if abs(gain_ratio - 1.0) < 1e-9:
        return exponent / (exponent + 1.0)
    return float((1.0 - gain_ratio**exponent) / (1.0 - gain_ratio ** (exponent + 1.0)))
