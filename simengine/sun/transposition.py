"""Sun on a tilted plane, each component by itself: beam, circumsolar, dome, ground."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final, NamedTuple

import numpy as np

from simengine.errors import InputError
from simengine.sun.calendar import FloatArray, column, day_of_year, interval_starts
from simengine.sun.ground import DEFAULT_REFLECTANCE
from simengine.sun.incidence import incidence_angle
from simengine.sun.position import SunPosition
from simengine.sun.shading import Rays, Shade, sky_share
from simengine.sun.sky_models import SKY_MODELS, Diffuse, Sky, hay_davies, isotropic, sky_view

if TYPE_CHECKING:
    from simengine.weather.series import WeatherSeries

SUN_DISC: Final = 0.533
"""Angular diameter of the sun's disc [deg]."""

SMALLEST_SHARE_FOR_SKY: Final = 0.25
"""Floor of the sunlit share where a sky model sets light against the sun outside the air [-].

Diffuse light goes on in twilight: where there is little sun, it can't be put down to the sunlit part alone.
"""


FAINT: Final = 1e-3
"""Diffuse light up to which a sky model isn't asked [W/m2]; it is taken as even."""


class Plane(NamedTuple):
    """How a plane lies: tilt from horizontal and the bearing it faces, clockwise from north [deg]."""

    tilt: float
    azimuth: float


@dataclass(frozen=True)
class PlaneIrradiance:
    """Sun on a plane, interval means.

    Attributes
    ----------
    beam, circumsolar, sky_diffuse, ground_reflected:
        The four components [W/m2], shape [interval], after shade. The horizon band is in `sky_diffuse`.
    incidence_angle:
        Between the sun's rays and the normal [deg]; above 90 the sun is behind the plane.
    filled:
        Number of intervals with diffuse light in which the chosen sky model had no answer; they took
        Hay-Davies, or an even sky where the sun is down.
    """

    beam: FloatArray
    circumsolar: FloatArray
    sky_diffuse: FloatArray
    ground_reflected: FloatArray
    incidence_angle: FloatArray
    filled: int

    @property
    def total(self) -> FloatArray:
        """The sum of the four components [W/m2]."""
        return self.beam + self.circumsolar + self.sky_diffuse + self.ground_reflected


def plane_irradiance(
    series: "WeatherSeries",
    position: SunPosition,
    tilt: float,
    azimuth: float,
    *,
    horizon: Shade | None = None,
    model: str = "perez",
    ground_reflectance: float | FloatArray | None = None,
) -> PlaneIrradiance:
    """Return the sun that falls on a plane in every interval.

    Beam normal irradiance is an interval mean, so it is turned onto the plane with the sun at the middle of
    the sunlit part and is not scaled again; it never exceeds what the sun sends in that part outside the air.

    Parameters
    ----------
    series:
        The weather: ghi, dni, dhi [W/m2].
    position:
        The sun of the same intervals.
    tilt:
        Plane from horizontal [deg], 0 to 180.
    azimuth:
        Where it faces, clockwise from north [deg].
    horizon:
        A `Horizon`, or any other shade or `Surroundings` of several.
    model:
        Name of a sky model in `SKY_MODELS`.
    ground_reflectance:
        Of the ground before the plane [-], a number or an array [interval]; 0.2 if None.

    Returns
    -------
    PlaneIrradiance of arrays [interval].

    Raises
    ------
    InputError
        For an unknown model, a tilt or a reflectance out of range, or arrays of another length.

    Source: see the sky models; ground by its view factor.

    >>> from simengine.sun.position import solar_position
    >>> from simengine.weather import builtin
    >>> year = builtin("greensboro")
    >>> wall = plane_irradiance(year, solar_position(year), 90.0, 180.0, model="isotropic")
    >>> round(float(wall.total.sum()) / 1000.0)
    1085
    """
    ghi, dni, dhi = (np.maximum(column(series, name), 0.0) for name in ("ghi", "dni", "dhi"))
    plane = Plane(tilt, azimuth)
    reflectance = _checked(position, ghi.size, plane, model, ground_reflectance)
    incidence = incidence_angle(position.zenith, position.azimuth, tilt, azimuth)
    dni = np.minimum(dni, position.extra_radiation * position.sunlit_share)
    diffuse, filled = _sky_diffuse(dhi, dni, position, plane, model)
    beam = dni * np.maximum(np.cos(np.radians(incidence)), 0.0)
    circumsolar, dome = diffuse.circumsolar, diffuse.dome
    if horizon is not None:
        day = day_of_year(interval_starts(series))
        lit = _sun_passes(horizon, position, day, plane)
        beam, circumsolar = beam * lit, circumsolar * lit
        dome = dome * sky_share(horizon, tilt, azimuth, day)
    ground = ghi * reflectance * (1.0 - sky_view(tilt))
    return PlaneIrradiance(beam, circumsolar, dome, ground, incidence, filled)


def _sun_passes(shade: Shade, position: SunPosition, day: np.ndarray, plane: Plane) -> FloatArray:
    passes = np.zeros(position.zenith.size)
    up = np.flatnonzero(position.sunlit_share > 0.0)
    rays = Rays(
        90.0 - position.zenith[up], position.azimuth[up], SUN_DISC, day[up], plane.tilt, plane.azimuth
    )
    passes[up] = shade.transmittance(rays)
    return passes


def _sky_diffuse(
    dhi: FloatArray, dni: FloatArray, position: SunPosition, plane: Plane, model: str
) -> tuple[Diffuse, int]:
    dome = dhi * sky_view(plane.tilt)  # the even sky, which twilight keeps
    circumsolar = np.zeros_like(dhi)
    rows = np.flatnonzero((dhi > FAINT) & (position.sunlit_share > 0.0) & (position.zenith < 90.0))
    sky = Sky(
        dhi[rows],
        dni[rows],
        position.extra_radiation[rows] * np.maximum(position.sunlit_share[rows], SMALLEST_SHARE_FOR_SKY),
        position.zenith[rows],
        position.azimuth[rows],
        plane.tilt,
        plane.azimuth,
    )
    answer, substitute = SKY_MODELS[model](sky), hay_davies(sky)
    sound = np.isfinite(answer.dome) & np.isfinite(answer.circumsolar)
    dome[rows] = np.where(sound, answer.dome, substitute.dome)
    circumsolar[rows] = np.where(sound, answer.circumsolar, substitute.circumsolar)
    if SKY_MODELS[model] is isotropic:
        return Diffuse(dome, circumsolar), 0
    return Diffuse(dome, circumsolar), int(np.count_nonzero(dhi > FAINT) - np.count_nonzero(sound))


def _checked(
    position: SunPosition, size: int, plane: Plane, model: str, reflectance: float | FloatArray | None
) -> FloatArray:
    problems = []
    if model not in SKY_MODELS:
        problems.append(f"sky model '{model:.40}' is unknown; accepted: {', '.join(SKY_MODELS)}")
    if not 0.0 <= plane.tilt <= 180.0:
        problems.append(
            f"a tilt of {plane.tilt:g} deg is out of range; accepted: 0 (level) to 180 (face down)"
        )
    if not abs(plane.azimuth) <= 720.0:
        problems.append(f"a plane facing {plane.azimuth:g}; accepted: degrees clockwise from north")
    if position.zenith.size != size:
        problems.append(f"the sun has {position.zenith.size} intervals, the weather {size}; they must agree")
    ground = np.asarray(DEFAULT_REFLECTANCE if reflectance is None else reflectance, dtype=np.float64)
    if ground.shape not in ((), (size,)):
        problems.append(f"a ground reflectance of shape {ground.shape}; accepted: one number or [interval]")
    if not np.all((ground >= 0.0) & (ground <= 1.0)):
        problems.append("a ground reflectance is out of range; accepted: 0 to 1")
    if problems:
        raise InputError(*problems)
    return ground
