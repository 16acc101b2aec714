"""A cover under the conditions of the glazing standards: solar factor g and thermal transmittance U."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from simengine.air.gases import REFERENCE_PRESSURE, REFERENCE_TEMPERATURE
from simengine.collector.gap_filling import STANDARD_AIR, filling
from simengine.collector.optics import cover_reflectance, cover_transmittance, pane_absorption
from simengine.collector.spec import Pane, SealedGap
from simengine.constants import STEFAN_BOLTZMANN
from simengine.errors import InputError, RangeError

MEAN_TEMPERATURE = 283.0  # [K] of every gap, EN 673
TEMPERATURE_DIFFERENCE = 15.0  # [K] between the outermost and the innermost glass face, EN 673
OUTSIDE_FILM = 25.0  # [W/m2K] EN 673
OUTSIDE_FILM_SOLAR = 23.0  # [W/m2K] EN 410
STANDARD_EMITTANCE = 0.837  # [-] of bare soda-lime glass, EN 673 and EN 410
_GRAVITY = 9.81  # [m/s2] as the standard rounds it

_TILTS = (0.0, 45.0, 90.0)
_FACTORS = (0.16, 0.10, 0.035)
_EXPONENTS = (0.28, 0.31, 0.38)


@dataclass(frozen=True, slots=True)
class CoverRating:
    """What the standards say of a cover; shares of the sun at normal incidence."""

    transmittance: float  # [-] solar, direct
    reflectance: float  # [-] solar
    pane_absorptance: tuple[float, ...]  # [-] outermost first
    secondary_gain: float  # [-] share of the sun that the warm panes give inwards
    g_value: float  # [-] transmittance + secondary gain
    u_value: float  # [W/m2K]


def gap_conductance(
    gap: SealedGap, outer_emittance: float, inner_emittance: float, difference: float, tilt: float = 90.0
) -> float:
    """Return the conductance of a sealed gap, gas and radiation together, at 283 K.

    Parameters
    ----------
    gap : depth and gas
    outer_emittance : of the outer pane's face towards the gap [-]
    inner_emittance : of the inner pane's face towards the gap [-]
    difference : of temperature across the gap [K], at least 0
    tilt : from horizontal [deg], 0 to 90, heat flowing up

    Returns
    -------
    conductance [W/m2K]

    Raises RangeError where the depth is not above 0 or the tilt outside 0 to 90.
    Source: EN 673:2011, Nu = A (Gr Pr)^n with A, n = 0.035, 0.38 upright, 0.10, 0.31 at 45 deg and
    0.16, 0.28 flat, never below 1, linear between the tilts (from memory).

    >>> round(gap_conductance(SealedGap(0.016), 0.837, 0.837, 15.0), 2)
    5.31
    """
    if gap.depth <= 0.0 or not 0.0 <= tilt <= 90.0:
        raise RangeError(
            f"sealed gap: depth {gap.depth:g} m at a tilt of {tilt:g} deg cannot be rated; "
            "a depth above 0 and a tilt of 0 to 90 deg are accepted"
        )
    gas = STANDARD_AIR if gap.gas == "air" else filling(gap)
    density = gas.density(REFERENCE_TEMPERATURE, REFERENCE_PRESSURE)
    viscosity = gas.dynamic_viscosity(REFERENCE_TEMPERATURE)
    conductivity = gas.thermal_conductivity(REFERENCE_TEMPERATURE)
    grashof = _GRAVITY * gap.depth**3 * difference * density**2 / (MEAN_TEMPERATURE * viscosity**2)
    prandtl = viscosity * gas.specific_heat / conductivity
    factor, exponent = np.interp(tilt, _TILTS, _FACTORS), np.interp(tilt, _TILTS, _EXPONENTS)
    nusselt = max(1.0, float(factor * (grashof * prandtl) ** exponent))
    resistance = 1.0 / outer_emittance + 1.0 / inner_emittance - 1.0
    return nusselt * conductivity / gap.depth + 4.0 * STEFAN_BOLTZMANN * MEAN_TEMPERATURE**3 / resistance


def gap_conductances(
    panes: Sequence[Pane], gaps: Sequence[SealedGap], tilt: float = 90.0
) -> tuple[float, ...]:
    """Return the conductance of every gap; together they stand under 15 K.

    Parameters
    ----------
    panes : outermost first
    gaps : one fewer than panes
    tilt : from horizontal [deg]

    Returns
    -------
    conductances, outermost first [W/m2K]

    Raises InputError where panes and gaps do not fit together.
    Source: EN 673:2011, iteration over the gaps' temperature differences (from memory).

    >>> glass = Pane("clear", 0.004, emittance_outside=0.837, emittance_inside=0.837)
    >>> [round(h, 2) for h in gap_conductances([glass] * 2, [SealedGap(0.016)])]
    [5.31]
    """
    if len(panes) < 1 or len(gaps) != len(panes) - 1:
        raise InputError(
            f"cover: {len(panes)} panes with {len(gaps)} sealed gaps; one gap fewer than panes is accepted"
        )
    differences = [TEMPERATURE_DIFFERENCE / max(1, len(gaps))] * len(gaps)
    conductances: list[float] = []
    for _ in range(20):  # four suffice for 1e-3 W/m2K; the map contracts strongly
        conductances = [
            gap_conductance(gap, outer.emittance_inside, inner.emittance_outside, difference, tilt)
            for gap, outer, inner, difference in zip(gaps, panes, panes[1:], differences, strict=False)
        ]
        total = sum(1.0 / conductance for conductance in conductances)
        differences = [TEMPERATURE_DIFFERENCE / (conductance * total) for conductance in conductances]
    return tuple(conductances)


def thermal_transmittance(panes: Sequence[Pane], gaps: Sequence[SealedGap], tilt: float = 90.0) -> float:
    """Return the U-value of a cover's middle, without frame and edge.

    Parameters
    ----------
    panes : outermost first
    gaps : one fewer than panes
    tilt : from horizontal [deg]; the standard rates upright

    Returns
    -------
    U-value [W/m2K]

    Raises InputError where panes and gaps do not fit together.
    Source: EN 673:2011, outside film 25 W/m2K, inside 3.6 + 4.1 e / 0.837 (from memory).

    >>> glass = Pane("clear", 0.004, emittance_outside=0.837, emittance_inside=0.837)
    >>> round(thermal_transmittance([glass], []), 2)
    5.75
    """
    conductances = gap_conductances(panes, gaps, tilt)
    inside_film = 3.6 + 4.1 * panes[-1].emittance_inside / STANDARD_EMITTANCE
    still = sum(1.0 / conductance for conductance in conductances)
    solid = sum(pane.thickness / pane.conductivity for pane in panes)
    return 1.0 / (1.0 / OUTSIDE_FILM + still + solid + 1.0 / inside_film)


def rate_cover(panes: Sequence[Pane], gaps: Sequence[SealedGap], tilt: float = 90.0) -> CoverRating:
    """Return solar factor, thermal transmittance and solar shares of a cover.

    Parameters
    ----------
    panes : outermost first
    gaps : one fewer than panes
    tilt : from horizontal [deg]; the standards rate upright

    Returns
    -------
    the rating

    Raises InputError where panes and gaps do not fit together.
    A figure to hold against a pane's label; the year uses the year's own temperatures and wind.
    Source: EN 410:2011, films 23 and 3.6 + 4.4 e / 0.837 W/m2K, the panes' own resistance left out
    (from memory); EN 673:2011 for U.

    >>> float(round(rate_cover([Pane("clear", 0.006, extinction=22.7)], []).g_value, 2))
    0.83
    """
    conductances = gap_conductances(panes, gaps, tilt)
    inside_film = 3.6 + 4.4 * panes[-1].emittance_inside / STANDARD_EMITTANCE
    outwards = 1.0 / OUTSIDE_FILM_SOLAR + np.concatenate(([0.0], np.cumsum(1.0 / np.array(conductances))))
    inward_share = outwards / (outwards[-1] + 1.0 / inside_film)
    normal = np.zeros(1)
    absorbed = pane_absorption(panes, normal)[:, 0]
    passed = float(cover_transmittance(panes, normal)[0])
    secondary = float(absorbed @ inward_share)
    return CoverRating(
        transmittance=passed,
        reflectance=float(cover_reflectance(panes, normal)[0]),
        pane_absorptance=tuple(absorbed.tolist()),
        secondary_gain=secondary,
        g_value=passed + secondary,
        u_value=thermal_transmittance(panes, gaps, tilt),
    )
