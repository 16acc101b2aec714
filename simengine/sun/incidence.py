"""Where a direction lies as seen from a tilted plane: angle of incidence and the three components."""

from typing import NamedTuple

import numpy as np

from simengine.sun.calendar import FloatArray


class PlaneDirection(NamedTuple):
    """Unit vector of a direction in the plane's own axes [-].

    `out` along the outward normal (the cosine of the angle of incidence), `up` along the slope upwards,
    `right` along the horizontal edge, to the right of someone who looks out from the plane.
    """

    out: FloatArray
    up: FloatArray
    right: FloatArray


def seen_from_plane(
    elevation: FloatArray, azimuth: FloatArray, tilt: float, plane_azimuth: float
) -> PlaneDirection:
    """Return a direction's components in the axes of a plane.

    Parameters
    ----------
    elevation:
        Angle of the direction above the horizontal [deg], any shape.
    azimuth:
        Direction clockwise from north [deg], same shape.
    tilt:
        Plane from horizontal, face up [deg], 0 to 180.
    plane_azimuth:
        Where the plane faces, clockwise from north [deg].

    Returns
    -------
    PlaneDirection of arrays [-].

    Source: mathematics (rotation of axes).

    >>> bool(abs(seen_from_plane(np.array([30.0]), np.array([180.0]), 60.0, 180.0).out[0] - 1.0) < 1e-12)
    True
    """
    level = np.cos(np.radians(elevation))
    rise = np.sin(np.radians(elevation))
    turn = np.radians(azimuth - plane_azimuth)
    ahead = level * np.cos(turn)
    sin_tilt, cos_tilt = np.sin(np.radians(tilt)), np.cos(np.radians(tilt))
    return PlaneDirection(
        out=sin_tilt * ahead + cos_tilt * rise,
        up=sin_tilt * rise - cos_tilt * ahead,
        right=level * np.sin(turn),
    )


def incidence_angle(zenith: FloatArray, azimuth: FloatArray, tilt: float, plane_azimuth: float) -> FloatArray:
    """Return the angle between the sun's rays and the normal of a plane.

    Parameters
    ----------
    zenith, azimuth:
        The sun's zenith angle and its direction clockwise from north [deg], any shape.
    tilt:
        Plane from horizontal [deg], 0 to 180.
    plane_azimuth:
        Where the plane faces, clockwise from north [deg].

    Returns
    -------
    Angle of incidence [deg], 0 to 180; above 90 the sun is behind the plane.

    Source: mathematics (dot product); Duffie and Beckman, eq. 1.6.3 (from memory).

    >>> round(float(incidence_angle(np.array([60.0]), np.array([180.0]), 90.0, 180.0)[0]), 9)
    30.0
    """
    cosine = seen_from_plane(90.0 - zenith, azimuth, tilt, plane_azimuth).out
    return np.asarray(np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0))))
