"""Which part of an interval the sun is up, from its hour angle and declination."""

from typing import Final, NamedTuple

import numpy as np

from simengine.sun.calendar import FloatArray

SHORTEST_SHARE: Final = 1e-3
"""A sunlit part shorter than this share of the interval counts as none [-] (3.6 s of an hour)."""


class SunlitPart(NamedTuple):
    """Sunlit part of intervals: its share [-]; its middle minus that of the interval [deg hour angle]."""

    share: FloatArray
    offset: FloatArray


def horizon_dip(pressure: float, temperature: float) -> float:
    """Return the true elevation of the sun when refraction lifts its middle onto a level horizon.

    Parameters
    ----------
    pressure:
        Mean air pressure [Pa].
    temperature:
        Mean air temperature [degC].

    Returns
    -------
    True elevation, negative [deg].

    Source: the refraction formula of Reda and Andreas 2004 (eq. 42), solved for an apparent elevation of 0.

    >>> round(horizon_dip(101325.0, 10.0), 2)
    -0.58
    """
    air = pressure / 101000.0 * 283.0 / (273.0 + temperature)
    dip = -0.5
    for _ in range(30):
        dip = -air * 1.02 / 60.0 / float(np.tan(np.radians(dip + 10.3 / (dip + 5.11))))
    return dip


def sunlit_part(
    declination: FloatArray, hour_angle: FloatArray, width: float, latitude: float, dip: float
) -> SunlitPart:
    """Return how much of each interval the sun is up, and where the middle of that part lies.

    Parameters
    ----------
    declination:
        Of the sun at the middle of the interval [deg], shape [interval].
    hour_angle:
        Of the sun at the middle of the interval [deg], any turn, shape [interval].
    width:
        Hour angle that the sun covers in an interval [deg].
    latitude:
        [deg], north positive.
    dip:
        True elevation at which the sun counts as up [deg].

    Returns
    -------
    SunlitPart of arrays [interval]. Polar day gives 1, polar night 0.

    Source: mathematics (sunset hour angle); the declination is held within the interval, which moves the
    edges by less than 10 s away from the polar circles.

    >>> part = sunlit_part(np.array([0.0]), np.array([90.0]), 15.0, 40.0, 0.0)
    >>> float(part.share[0]), float(part.offset[0])
    (0.5, -3.75)
    """
    middle = np.mod(hour_angle + 180.0, 360.0) - 180.0
    sunset = _sunset_hour_angle(declination, latitude, dip)
    turns = np.array([[-360.0], [0.0], [360.0]])
    low = np.maximum(middle - 0.5 * width, turns - sunset)
    high = np.minimum(middle + 0.5 * width, turns + sunset)
    length = np.maximum(high - low, 0.0)
    longest = np.argmax(length, axis=0)
    rows = np.arange(middle.size)
    share = np.minimum(length.sum(axis=0) / width, 1.0)
    offset = 0.5 * (low + high)[longest, rows] - middle
    whole = (share > 1.0 - SHORTEST_SHARE) | (sunset >= 180.0)
    none = share < SHORTEST_SHARE
    return SunlitPart(np.where(whole, 1.0, np.where(none, 0.0, share)), np.where(whole | none, 0.0, offset))


def _sunset_hour_angle(declination: FloatArray, latitude: float, dip: float) -> FloatArray:
    lat, dec = np.radians(latitude), np.radians(declination)
    # at the very poles cos(latitude) is not quite zero, so the quotient stays finite
    cosine = (np.sin(np.radians(dip)) - np.sin(lat) * np.sin(dec)) / (np.cos(lat) * np.cos(dec))
    return np.asarray(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))))
