"""Pressure lost in every part of the air loop at a given flow."""

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import singledispatch

import fluids

from simengine.air.properties import density, dynamic_viscosity
from simengine.airflow.parts import (
    Bend,
    Channel,
    Filter,
    Fitting,
    FlexibleDuct,
    Grille,
    Part,
    PerforatedSheet,
    RectangularDuct,
    Reducer,
    RoundDuct,
)
from simengine.errors import InputError
from simengine.heat_transfer.perforated_plate import in_kutscher_range, kutscher_loss_coefficient

LAMINAR_END = 2300.0
"""Reynolds number up to which friction is laminar [-]."""

TURBULENT_START = 4000.0
"""Reynolds number from which friction in a duct is turbulent [-]; linear between the two."""

CHANNEL_TURBULENT_START = 10000.0
"""The same in the flat air space of a collector [-]: where its heat transfer is turbulent, too."""

_ROUND, _FLAT = 64.0, 96.0  # f Re of laminar flow, tube and wide flat channel
_INCH = 0.0254  # [m]


@dataclass(frozen=True, slots=True)
class _Stream:
    """Air in one part."""

    density: float  # [kg/m3]
    velocity: float  # [m/s]
    reynolds: float  # [-]


@dataclass(frozen=True, slots=True)
class PartLoss:
    """What one part costs at one flow."""

    name: str
    pressure: float  # [Pa]
    velocity: float  # [m/s] on the part's area
    reynolds: float  # [-] on its hydraulic diameter
    note: str = ""  # why the number is unsure, if it is


def losses(parts: Iterable[Part], mass_flow: float, pressure: float) -> tuple[PartLoss, ...]:
    """Return the loss of every part, in the order given.

    Parameters
    ----------
    parts : iterable of parts
        The loop.
    mass_flow : float
        Mass flow through all of them [kg/s], not negative.
    pressure : float
        Air pressure of the site [Pa].

    Returns
    -------
    tuple of PartLoss
        Pressure [Pa], velocity [m/s] and Reynolds number [-] by part.

    Raises
    ------
    InputError
        The flow is negative or not finite.

    Notes
    -----
    dp = zeta rho v^2 / 2; straight parts by Darcy-Weisbach with Colebrook's friction factor, fittings by
    loss coefficients. Every part is taken to see a developed flow.

    Examples
    --------
    >>> round(losses([RoundDuct("duct", 30.48, 0.1524)], 0.0625, 101325.0)[0].pressure, 1)
    24.6
    """
    if not (math.isfinite(mass_flow) and mass_flow >= 0.0):
        raise InputError(f"air flow: {mass_flow} kg/s is not a flow; accepted: 0 or more")
    return tuple(_loss(part, mass_flow, pressure) for part in parts)


def loop_pressure(parts: Iterable[Part], mass_flow: float, pressure: float) -> float:
    """Return the pressure that the whole loop costs.

    Parameters
    ----------
    parts : iterable of parts
        The loop.
    mass_flow : float
        Mass flow [kg/s], not negative.
    pressure : float
        Air pressure of the site [Pa].

    Returns
    -------
    float
        Pressure loss [Pa].

    Examples
    --------
    >>> loop_pressure([Fitting("port", 0.02, 1.5)], 0.0, 101325.0)
    0.0
    """
    return math.fsum(loss.pressure for loss in losses(parts, mass_flow, pressure))


def friction_factor(
    reynolds: float,
    relative_roughness: float,
    laminar: float = _ROUND,
    turbulent_start: float = TURBULENT_START,
) -> float:
    """Return Darcy's friction factor, continuous from laminar to turbulent.

    Parameters
    ----------
    reynolds : float
        Reynolds number on the hydraulic diameter [-], above 0.
    relative_roughness : float
        Roughness over hydraulic diameter [-].
    laminar : float
        f Re of laminar flow [-]: 64 in a tube, 96 between wide plates.
    turbulent_start : float
        Reynolds number from which the flow is turbulent [-].

    Returns
    -------
    float
        Friction factor [-]: laminar to Re 2300, Colebrook from `turbulent_start`, linear in Re between.

    Examples
    --------
    >>> friction_factor(1000.0, 0.0), round(friction_factor(1.0e5, 0.0), 4)
    (0.064, 0.018)
    """
    if reynolds <= LAMINAR_END:
        return laminar / reynolds
    turbulent = float(fluids.friction_factor(max(reynolds, turbulent_start), relative_roughness))
    share = min((reynolds - LAMINAR_END) / (turbulent_start - LAMINAR_END), 1.0)
    return (1.0 - share) * laminar / LAMINAR_END + share * turbulent


def flexible_factor(diameter: float, stretch: float) -> float:
    """Return how much more pressure a flexible duct costs that is not pulled straight.

    Parameters
    ----------
    diameter : float
        Diameter [m], 0.15 to 0.25 in the source.
    stretch : float
        Length as laid over length when pulled straight [-], 0.7 to 1.

    Returns
    -------
    float
        Factor on the pressure per length as laid [-], 1 at full length.

    Notes
    -----
    1 + 0.58 K exp(-0.126 D), K the slack in per cent, D in inches (Abushakra, Walker and Sherman 2004;
    from memory).

    Examples
    --------
    >>> round(flexible_factor(0.1524, 0.96), 1)
    2.1
    """
    slack = 100.0 * max(1.0 - stretch, 0.0)
    return 1.0 + 0.58 * slack * math.exp(-0.126 * diameter / _INCH)


def _loss(part: Part, mass_flow: float, pressure: float) -> PartLoss:
    air = density(part.temperature, pressure)
    velocity = mass_flow / (air * part.area)
    reynolds = air * velocity * part.hydraulic_diameter / dynamic_viscosity(part.temperature)
    if mass_flow == 0.0:
        return PartLoss(part.name, 0.0, 0.0, 0.0)
    note = ""
    if isinstance(part, PerforatedSheet) and not in_kutscher_range(reynolds, part.porosity):
        note = "outside the range of the perforated-sheet relation (Re 100 to 2000, up to 5 % open)"
    loss = _pressure(part, _Stream(air, velocity, reynolds))
    return PartLoss(part.name, loss, velocity, reynolds, note)


@singledispatch
def _pressure(part: Part, stream: _Stream) -> float:
    """Return the pressure loss of a part [Pa]."""
    raise InputError(f"air loop: a part of kind {type(part).__name__} is not known")


def _head(loss_coefficient: float, stream: _Stream) -> float:
    return loss_coefficient * stream.density * stream.velocity * stream.velocity / 2.0


@_pressure.register(RoundDuct)
@_pressure.register(RectangularDuct)
def _straight(part: RoundDuct | RectangularDuct, stream: _Stream) -> float:
    diameter = part.hydraulic_diameter
    return _head(friction_factor(stream.reynolds, part.roughness / diameter) * part.length / diameter, stream)


@_pressure.register
def _flexible(part: FlexibleDuct, stream: _Stream) -> float:
    friction = friction_factor(stream.reynolds, part.roughness / part.diameter) * part.length / part.diameter
    return _head(friction * flexible_factor(part.diameter, part.stretch), stream)


@_pressure.register
def _channel(part: Channel, stream: _Stream) -> float:
    diameter = part.hydraulic_diameter
    friction = friction_factor(stream.reynolds, part.roughness / diameter, _FLAT, CHANNEL_TURBULENT_START)
    return _head(friction * part.length / diameter, stream)


@_pressure.register
def _bend(part: Bend, stream: _Stream) -> float:
    if part.radius <= 0.0:
        return _head(float(fluids.bend_miter(angle=part.angle)), stream)
    factor = friction_factor(stream.reynolds, part.roughness / part.diameter)
    bend = fluids.bend_rounded(Di=part.diameter, angle=part.angle, bend_diameters=part.radius, fd=factor)
    return _head(float(bend), stream)


@_pressure.register
def _reducer(part: Reducer, stream: _Stream) -> float:
    narrows = part.diameter_after <= part.diameter_before
    law = fluids.contraction_sharp if narrows else fluids.diffuser_sharp
    return _head(float(law(part.diameter_before, part.diameter_after)), stream)


@_pressure.register
def _grille(part: Grille, stream: _Stream) -> float:
    return _head(float(fluids.square_edge_grill(part.free_share)), stream)


@_pressure.register
def _fitting(part: Fitting, stream: _Stream) -> float:
    return _head(part.loss_coefficient, stream)


@_pressure.register
def _sheet(part: PerforatedSheet, stream: _Stream) -> float:
    return _head(kutscher_loss_coefficient(stream.reynolds, part.porosity), stream)


@_pressure.register
def _filter(part: Filter, stream: _Stream) -> float:
    return float(part.rated_pressure * (stream.velocity / part.rated_velocity) ** part.exponent)
