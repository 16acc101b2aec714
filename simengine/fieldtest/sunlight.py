"""Sun on the plane during a test: from the meter, from a horizontal meter, or from a clear sky."""

from typing import NamedTuple

import numpy as np

from simengine.fieldtest.log import Array, TestLog
from simengine.sun.clouds import clear_irradiance
from simengine.sun.incidence import incidence_angle
from simengine.sun.position import Site, sun_angles
from simengine.weather.split import LOWEST_COSINE, erbs_diffuse_fraction

SOLAR_CONSTANT = 1361.0
"""[W/m2] (Kopp and Lean 2011, from memory)."""
HALVINGS = 40
MOST_BRIGHT = 1.6
"""Brightest level of a partly cloudy sky over the clear one [-]."""


class Plane(NamedTuple):
    """How the collector lies."""

    tilt: float  # [deg]
    azimuth: float  # [deg]
    ground: float  # [-] reflectance before it


class Sunlight(NamedTuple):
    """Sun on the plane, by component; all [row]."""

    beam: Array  # [W/m2]
    sky: Array  # [W/m2]
    ground: Array  # [W/m2]
    incidence: Array  # [deg] of the beam

    @property
    def total(self) -> Array:
        """All of it [W/m2]."""
        return self.beam + self.sky + self.ground


class SkyPath(NamedTuple):
    """Where the sun stood, seen from the ground and from the plane; all [row]."""

    cosine: Array  # [-] of the zenith angle
    extraterrestrial: Array  # [W/m2]
    incidence: Array  # [deg]


def sky_path(log: TestLog, site: Site, plane: Plane, shift: float = 0.0) -> SkyPath:
    """Return the sun's path during a log.

    Parameters
    ----------
    log : its instants count
    site : of the collector
    plane : of the collector
    shift : added to the log's clock [s]

    Source: the sun algorithm of `sun.sun_angles`; distance by a cosine of the day (Duffie and
    Beckman; from memory).
    """
    unix = log.unix_seconds + shift
    angles = sun_angles(unix, site)
    zenith, azimuth = np.asarray(angles.apparent_zenith), np.asarray(angles.azimuth)
    day = (unix / 86400.0) % 365.25
    outside = SOLAR_CONSTANT * (1.0 + 0.033 * np.cos(2.0 * np.pi * day / 365.25))
    return SkyPath(
        np.cos(np.radians(zenith)),
        outside,
        np.asarray(incidence_angle(zenith, azimuth, plane.tilt, plane.azimuth)),
    )


def from_horizontal(ghi: Array, path: SkyPath, plane: Plane) -> Sunlight:
    """Return the sun on the plane for a global horizontal irradiance [W/m2].

    Parameters
    ----------
    ghi : [W/m2], array [row]
    path : of the sun
    plane : of the collector

    Source: diffuse share by Erbs et al. (1982), isotropic sky.
    """
    cosine = np.maximum(path.cosine, 0.0)
    outside = path.extraterrestrial * np.maximum(cosine, 1.0e-3)
    share = np.where(cosine > LOWEST_COSINE, erbs_diffuse_fraction(np.clip(ghi / outside, 0.0, 1.0)), 1.0)
    diffuse = share * ghi
    beam = np.minimum((ghi - diffuse) / np.maximum(cosine, LOWEST_COSINE), path.extraterrestrial)
    slant = np.maximum(np.cos(np.radians(path.incidence)), 0.0)
    view = 0.5 * (1.0 + np.cos(np.radians(plane.tilt)))
    return Sunlight(beam * slant, diffuse * view, plane.ground * ghi * (1.0 - view), path.incidence)


def from_plane(total: Array, path: SkyPath, plane: Plane) -> Sunlight:
    """Return the components of a measured irradiance on the plane [W/m2]; they sum to it.

    Parameters
    ----------
    total : on the plane [W/m2], array [row]
    path : of the sun
    plane : of the collector

    Source: the horizontal irradiance that `from_horizontal` turns into it, by halving; where no sky gives
    that much, the rest counts as beam.
    """
    low = np.zeros_like(total)
    high = MOST_BRIGHT * path.extraterrestrial * np.maximum(path.cosine, 0.02)
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        short = from_horizontal(middle, path, plane).total < total
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    parts = from_horizontal(0.5 * (low + high), path, plane)
    rest = total - parts.total
    shines = path.incidence < 88.0
    beam = np.maximum(parts.beam + np.where(shines, rest, 0.0), 0.0)
    return Sunlight(beam, total - beam - parts.ground, parts.ground, path.incidence)


def clear_sky(path: SkyPath, plane: Plane) -> Sunlight:
    """Return the sun on the plane under a cloudless sky; an estimate that no test should rest on.

    Source: see `sun.clouds.clear_irradiance`.
    """
    elevation = np.degrees(np.arcsin(np.clip(path.cosine, -1.0, 1.0)))
    ghi = np.where(elevation > 3.0, np.maximum(clear_irradiance(np.maximum(elevation, 3.0)), 0.0), 0.0)
    return from_horizontal(ghi, path, plane)
