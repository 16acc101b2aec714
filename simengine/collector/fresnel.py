"""A clear sheet by itself: Fresnel surfaces, inner reflections and absorption, by polarisation."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.errors import RangeError

FloatArray = NDArray[np.float64]

GRAZING_COSINE = 1e-12
"""Light this close to the plane (or behind it) does not enter: all of it is reflected."""


class PaneOptics(NamedTuple):
    """Shares of the light that falls on a sheet, each of shape [2 polarisations, n_angles]."""

    transmittance: FloatArray
    reflectance_outside: FloatArray
    reflectance_inside: FloatArray

    @property
    def absorptance_outside(self) -> FloatArray:
        """Share kept of light from the outside [-]."""
        return 1.0 - self.transmittance - self.reflectance_outside

    @property
    def absorptance_inside(self) -> FloatArray:
        """Share kept of light from the inside [-]."""
        return 1.0 - self.transmittance - self.reflectance_inside


def refracted_cosine(angles: FloatArray, refractive_index: float) -> FloatArray:
    """Return the cosine of the angle inside the sheet, by Snell's law.

    Parameters
    ----------
    angles : incidence from the normal [deg], shape [n_angles]
    refractive_index : of the sheet against air [-], at least 1

    Returns
    -------
    cosine of the angle of refraction [-], shape [n_angles]

    Source: mathematics of Snell's law.

    >>> round(math.degrees(math.acos(refracted_cosine(np.array(60.0), 1.526))), 2)
    34.58
    """
    sine = np.sin(np.radians(angles)) / refractive_index
    return np.sqrt(1.0 - sine * sine)


def surface_reflectance(angles: FloatArray, refractive_index: float) -> FloatArray:
    """Return what a smooth surface between air and a clear sheet reflects (Fresnel).

    Parameters
    ----------
    angles : incidence in the air from the normal, below 90 [deg], shape [n_angles]
    refractive_index : of the sheet against air [-], at least 1

    Returns
    -------
    reflectance [-], perpendicular then parallel polarisation, shape [2, n_angles]

    Source: Fresnel's equations; Duffie and Beckman, Solar Engineering of Thermal Processes, section
    5.1 (from memory).

    >>> surface_reflectance(np.array(0.0), 1.526).round(4).tolist()
    [0.0434, 0.0434]
    """
    outside = np.cos(np.radians(angles))
    inside = refracted_cosine(angles, refractive_index)
    perpendicular = (outside - refractive_index * inside) / (outside + refractive_index * inside)
    parallel = (refractive_index * outside - inside) / (refractive_index * outside + inside)
    return np.stack((perpendicular**2, parallel**2))


def clear_pane(angles: FloatArray, refractive_index: float, absorption: float) -> PaneOptics:
    """Return the optics of a plain sheet: both surfaces, all inner reflections, absorption on the way.

    Parameters
    ----------
    angles : incidence from the normal [deg], shape [n_angles]; 90 and beyond is all reflected
    refractive_index : n [-], at least 1
    absorption : extinction coefficient times thickness, K L [-], at least 0

    Returns
    -------
    shares by polarisation [-], shape [2, n_angles]

    Raises RangeError where the index is below 1 or the absorption below 0.
    Holds for sheets much thicker than the wavelength (no interference) with smooth parallel faces.
    Source: Fresnel, Stokes 1862 (series of inner reflections); absorption exp(-K L / cos theta_2).

    >>> float(clear_pane(np.array([0.0]), 1.526, 0.037).transmittance.mean().round(4))
    0.8835
    """
    if refractive_index < 1.0 or absorption < 0.0:
        raise RangeError(
            f"pane: refractive index {refractive_index:g} and extinction x thickness {absorption:g} "
            "cannot be; an index of at least 1 and an extinction of at least 0 are accepted"
        )
    reached = lit(angles)
    angles = np.where(reached, angles, 0.0)
    surface = surface_reflectance(angles, refractive_index)
    passed = np.exp(-absorption / refracted_cosine(angles, refractive_index))
    transmittance = passed * (1.0 - surface) ** 2 / (1.0 - (surface * passed) ** 2)
    reflectance = surface * (1.0 + passed * transmittance)
    reflectance = np.where(reached, reflectance, 1.0)
    return PaneOptics(np.where(reached, transmittance, 0.0), reflectance, reflectance)


def extinction_from_transmittance(
    transmittance: float, thickness: float, refractive_index: float = 1.526
) -> float:
    """Return the extinction coefficient K of a clear sheet whose normal transmittance is known.

    Parameters
    ----------
    transmittance : solar, normal incidence [-]
    thickness : [m]
    refractive_index : [-]

    Returns
    -------
    extinction coefficient [1/m]

    Raises RangeError where no absorption at all would still pass less, or nothing is passed.
    Source: inverse of the sheet's transmittance at normal incidence (mathematics).

    >>> round(extinction_from_transmittance(0.80, 0.006), 1)
    22.7
    """
    surface = ((refractive_index - 1.0) / (refractive_index + 1.0)) ** 2
    highest = (1.0 - surface) / (1.0 + surface)
    if not 0.0 < transmittance <= highest:
        raise RangeError(
            f"pane: a normal transmittance of {transmittance:g} cannot be had with an index of "
            f"{refractive_index:g}; above 0 and at most {highest:.3f} are accepted"
        )
    middle = (1.0 - surface) ** 2
    root = math.sqrt(middle * middle + 4.0 * (transmittance * surface) ** 2)
    return max(0.0, math.log((middle + root) / (2.0 * transmittance))) / thickness


def lit(angles: FloatArray) -> NDArray[np.bool_]:
    """Return where light reaches the front of a sheet; angles from the normal [deg], shape [n_angles].

    >>> lit(np.array([0.0, 89.9, 90.0, 120.0])).tolist()
    [True, True, False, False]
    """
    # Not-a-number stays lit, so that it shows in the result instead of passing for night.
    return ~(np.cos(np.radians(angles)) <= GRAZING_COSINE)
