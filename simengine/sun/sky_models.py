"""How the diffuse light of the sky falls on a tilted plane: one named function a model."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np

from simengine.sun.calendar import FloatArray
from simengine.sun.incidence import seen_from_plane

LOWEST_SUN_COSINE: Final = float(np.cos(np.radians(85.0)))
"""Lowest cosine of zenith that anything is divided by [-] (Perez et al. 1990)."""


@dataclass(frozen=True)
class Sky:
    """What the models need to know of intervals in which there is diffuse light and the sun is up.

    Attributes
    ----------
    dhi, dni:
        Diffuse horizontal and beam normal irradiance, means over the interval [W/m2].
    extra_radiation:
        Irradiance outside the air, mean over the interval (that is, times the sunlit share) [W/m2].
    zenith, azimuth:
        The sun [deg].
    tilt, plane_azimuth:
        The plane [deg].
    """

    dhi: FloatArray
    dni: FloatArray
    extra_radiation: FloatArray
    zenith: FloatArray
    azimuth: FloatArray
    tilt: float
    plane_azimuth: float

    def dome_view(self) -> float:
        """Return the share of an even sky that the plane sees, (1 + cos tilt)/2 [-]."""
        return sky_view(self.tilt)

    def projection(self) -> FloatArray:
        """Return the cosine of incidence over that of zenith, held where the sun is low [-]."""
        ahead = seen_from_plane(90.0 - self.zenith, self.azimuth, self.tilt, self.plane_azimuth).out
        return np.maximum(ahead, 0.0) / np.maximum(np.cos(np.radians(self.zenith)), LOWEST_SUN_COSINE)


class Diffuse(NamedTuple):
    """Diffuse light on the plane: from the dome (horizon band included) and from around the sun [W/m2]."""

    dome: FloatArray
    circumsolar: FloatArray


SkyModel = Callable[[Sky], Diffuse]


def sky_view(tilt: float) -> float:
    """Return the view factor of a plane to an unobstructed sky.

    Parameters
    ----------
    tilt:
        From horizontal [deg].

    Returns
    -------
    View factor [-]; source: mathematics.

    >>> round(sky_view(60.0), 6)
    0.75
    """
    return 0.5 * (1.0 + float(np.cos(np.radians(tilt))))


def isotropic(sky: Sky) -> Diffuse:
    """Return the diffuse light of an evenly bright sky.

    Parameters
    ----------
    sky:
        State of the sky, arrays [interval].

    Returns
    -------
    Diffuse [W/m2].

    Underestimates sunny hours on planes that face the sun. Source: Liu and Jordan 1963 (from memory).

    >>> a = np.array([100.0])
    >>> float(isotropic(Sky(a, a, a, a, a, 0.0, 180.0)).dome[0])
    100.0
    """
    return Diffuse(sky.dhi * sky.dome_view(), np.zeros_like(sky.dhi))


def hay_davies(sky: Sky) -> Diffuse:
    """Return the diffuse light as a part around the sun, as large as the air lets beam through, and the rest.

    Parameters
    ----------
    sky:
        State of the sky, arrays [interval].

    Returns
    -------
    Diffuse [W/m2].

    Below a sun elevation of 5 deg the projection is held. Source: Hay and Davies 1980 (from memory).

    >>> sky = Sky(*(np.array([v]) for v in (100.0, 700.0, 1400.0, 60.0, 180.0)), 60.0, 180.0)
    >>> [round(float(part[0]), 6) for part in hay_davies(sky)]
    [37.5, 100.0]
    """
    share = np.clip(sky.dni / sky.extra_radiation, 0.0, 1.0)
    return Diffuse(sky.dhi * (1.0 - share) * sky.dome_view(), sky.dhi * share * sky.projection())


def perez(sky: Sky) -> Diffuse:
    """Return the diffuse light by the eight-bin model with dome, circumsolar part and horizon band.

    Parameters
    ----------
    sky:
        State of the sky, arrays [interval].

    Returns
    -------
    Diffuse [W/m2]; NaN where the model has no answer. The horizon band, which may be negative, is
    inside the dome part.

    Source: Perez, Ineichen, Seals, Michalsky and Stewart, Solar Energy 44 (1990), coefficients "all
    sites composite 1990", through pvlib; airmass of Kasten and Young 1989.

    >>> sky = Sky(*(np.array([v]) for v in (100.0, 0.0, 1400.0, 60.0, 180.0)), 0.0, 180.0)
    >>> round(float(sum(perez(sky))[0]), 6)
    100.0
    """
    from pvlib import atmosphere, irradiance

    parts = irradiance.perez(
        sky.tilt,
        sky.plane_azimuth,
        sky.dhi,
        sky.dni,
        sky.extra_radiation,
        sky.zenith,
        sky.azimuth,
        atmosphere.get_relative_airmass(sky.zenith, model="kastenyoung1989"),
        model="allsitescomposite1990",
        return_components=True,
    )
    total = np.asarray(parts["poa_sky_diffuse"], dtype=np.float64)
    dome = np.maximum(np.asarray(parts["poa_isotropic"]) + np.asarray(parts["poa_horizon"]), 0.0)
    dome = np.minimum(dome, total)
    return Diffuse(dome, total - dome)


SKY_MODELS: Final[dict[str, SkyModel]] = {model.__name__: model for model in (perez, hay_davies, isotropic)}
"""The sky models by name."""
