"""From layers, areas and air change to the three conductances of a house."""

from collections.abc import Sequence
from typing import Final, NamedTuple

from simengine.constants import STEFAN_BOLTZMANN
from simengine.errors import InputError, RangeError
from simengine.house.spec import Element, Envelope, EnvelopeLayer, Ventilation

INSIDE_FILM: Final = {"up": 0.10, "horizontal": 0.13, "down": 0.17}
"""Surface resistance indoors by the direction of heat flow [m2K/W] (ISO 6946 table, from memory)."""

OUTSIDE_FILM: Final = 0.04
"""Surface resistance outdoors [m2K/W] (ISO 6946 table, from memory)."""

LEAK_DIVISOR: Final = 20.0
"""Air change at 50 Pa over natural air change [-] (rule of a US national laboratory; common practice)."""


class Conductances(NamedTuple):
    """What the network needs of an envelope."""

    opaque: float  # [W/K] H_op
    light: float  # [W/K] H_w
    ventilation: float  # [W/K] H_ve


def film_resistance(convective: float, temperature: float, emittance: float = 0.9) -> float:
    """Return the resistance of a surface film, 1 / (h_c + emittance 4 sigma T^3).

    Parameters
    ----------
    convective : convective coefficient [W/m2K]; 5.0 up, 2.5 horizontal, 0.7 down; 4 + 4 v outdoors
    temperature : mean of the surface and what it faces [K]
    emittance : of the surface [-]

    Returns
    -------
    resistance [m2K/W]

    Source: ISO 6946 annex on surface resistances (from memory).

    >>> round(film_resistance(2.5, 293.15), 2)
    0.13
    """
    return 1.0 / (convective + emittance * 4.0 * STEFAN_BOLTZMANN * temperature**3)


def u_value(
    layers: Sequence[EnvelopeLayer],
    heat_flow: str = "horizontal",
    inside_film: float | None = None,
    outside_film: float | None = None,
) -> float:
    """Return the thermal transmittance of homogeneous layers between two films.

    Parameters
    ----------
    layers : from inside to outside, in any order
    heat_flow : "up" (roof), "horizontal" (wall) or "down" (floor)
    inside_film : resistance in place of the standard's [m2K/W]
    outside_film : resistance in place of the standard's [m2K/W]; 0 where ground lies behind

    Returns
    -------
    U [W/m2K]

    Raises
    ------
    InputError
        Unknown direction.
    RangeError
        A layer without thickness or conductivity.

    Range: plane, homogeneous layers; studs and brackets are thermal bridges and come on top.
    Source: ISO 6946 (films from memory).

    >>> round(u_value([EnvelopeLayer(0.10, 0.04)]), 3)  # 0.13 + 2.5 + 0.04
    0.375
    """
    if heat_flow not in INSIDE_FILM:
        raise InputError(f"envelope: heat flow '{heat_flow:.80}'; accepted: {', '.join(INSIDE_FILM)}")
    if any(layer.thickness <= 0.0 or layer.conductivity <= 0.0 for layer in layers):
        raise RangeError("envelope: a layer's thickness and conductivity must be above zero")
    inside = INSIDE_FILM[heat_flow] if inside_film is None else inside_film
    outside = OUTSIDE_FILM if outside_film is None else outside_film
    return 1.0 / (inside + outside + sum(layer.thickness / layer.conductivity for layer in layers))


def infiltration_from_test(air_change_at_50_pa: float) -> float:
    """Return the natural air change of a house from its fan pressurisation test.

    Parameters
    ----------
    air_change_at_50_pa : n50 [1/h]

    Returns
    -------
    air change through leaks [1/h]

    Range: a yearly mean for a detached house; wind, height and shelter move it by a factor of two.
    Source: division by 20, common practice.

    >>> infiltration_from_test(0.6)
    0.03
    """
    return air_change_at_50_pa / LEAK_DIVISOR


def effective_air_change(ventilation: Ventilation) -> float:
    """Return the air change that would lose the same heat with no recovery.

    Parameters
    ----------
    ventilation : the ways in which outdoor air gets in

    Returns
    -------
    air change [1/h]

    Raises
    ------
    RangeError
        Recovery outside 0 to 1 or an air change below zero.

    Source: definition, n (1 - eta) for the recovered part.

    >>> round(effective_air_change(Ventilation(0.03, mechanical=0.4, heat_recovery=0.75)), 2)
    0.13
    """
    if not 0.0 <= ventilation.heat_recovery <= 1.0:
        raise RangeError(f"ventilation: heat recovery {ventilation.heat_recovery:g}; accepted: 0 to 1")
    if min(ventilation.infiltration, ventilation.airing, ventilation.mechanical) < 0.0:
        raise RangeError("ventilation: an air change must not be below zero")
    kept = ventilation.mechanical * ventilation.heat_recovery
    return ventilation.infiltration + ventilation.airing + ventilation.mechanical - kept


def air_conductance(volume: float, air_change: float, air_heat_capacity: float = 1200.0) -> float:
    """Return the heat loss of an air change per kelvin.

    Parameters
    ----------
    volume : heated air [m3]
    air_change : effective [1/h]
    air_heat_capacity : density times specific heat [J/m3K]; 1200 in ISO 13790, less at altitude

    Returns
    -------
    H_ve [W/K]

    Source: definition.

    >>> round(air_conductance(350.0, 0.6), 3)
    70.0
    """
    return air_heat_capacity * volume * air_change / 3600.0


def recovered(volume: float, ventilation: Ventilation, air_heat_capacity: float = 1200.0) -> float:
    """Return what heat recovery keeps of the ventilation air, per kelvin.

    Parameters
    ----------
    volume : heated air [m3]
    ventilation : mechanical air change and heat recovery
    air_heat_capacity : density times specific heat [J/m3K]

    Returns
    -------
    conductance [W/K]; H_ve and this together are all the air that comes in

    Source: definition, n eta of the mechanical part.

    >>> round(recovered(300.0, Ventilation(0.05, mechanical=0.4, heat_recovery=0.75)), 3)
    30.0
    """
    return air_conductance(volume, ventilation.mechanical * ventilation.heat_recovery, air_heat_capacity)


def conductances(envelope: Envelope) -> Conductances:
    """Return the three conductances of an envelope.

    Parameters
    ----------
    envelope : areas, U-values and air change

    Returns
    -------
    H_op with the thermal bridges of all outer areas, H_w, H_ve [W/K]

    Raises
    ------
    RangeError
        An area or a U-value below zero.

    Source: ISO 13789 sums (from memory).

    >>> wall, pane = Element("wall", 100.0, 0.5), Element("windows", 20.0, 2.8)
    >>> conductances(Envelope(250.0, (wall,), (pane,), Ventilation(0.6), thermal_bridge=0.05))
    Conductances(opaque=56.0, light=56.0, ventilation=50.0)
    """
    parts = (*envelope.opaque, *envelope.light)
    if any(part.area < 0.0 or part.u_value < 0.0 for part in parts):
        raise RangeError("envelope: an area and a U-value must not be below zero")
    bridges = sum(part.area * part.temperature_factor for part in parts) * envelope.thermal_bridge
    air_change = effective_air_change(envelope.ventilation)
    return Conductances(
        _conductance(envelope.opaque) + bridges,
        _conductance(envelope.light),
        air_conductance(envelope.volume, air_change, envelope.air_heat_capacity),
    )


def degree_day_loss(conductance: float, degree_days: float) -> float:
    """Return a year's heat loss by degree days.

    Parameters
    ----------
    conductance : of the part or the house [W/K]
    degree_days : heating degree days on the base that the part sees [K d]

    Returns
    -------
    heat [kWh]

    Source: definition. No gains, no storage: an upper bound for the fuel, a check for the network.

    >>> degree_day_loss(100.0, 2500.0)
    6000.0
    """
    return conductance * degree_days * 24.0 / 1000.0


def _conductance(elements: Sequence[Element]) -> float:
    return sum((part.area * part.u_value * part.temperature_factor for part in elements), 0.0)
