"""Heat that a duct loses on the way: the exact exponential along it."""

import math

from simengine.air.properties import dynamic_viscosity, prandtl, thermal_conductivity
from simengine.compiled import kernel
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.heat_transfer.conduction import duct_conductance
from simengine.heat_transfer.roots import exp_negative

STILL_AIR_FILM = 10.0
"""Film outside a duct, convection and radiation, in an attic or outdoors [W/m2K] (common practice)."""

_LAMINAR_TUBE = 3.66  # [-] wall at one temperature
_TINY = 1e-12


@kernel
def duct_transmission(conductance: float, capacity_rate: float) -> float:
    """Return the share of its excess over the surroundings that air keeps along a duct.

    Parameters
    ----------
    conductance : float
        Conductance of the whole duct wall [W/K].
    capacity_rate : float
        Capacity rate of the air, m' c_p [W/K]; its sign is dropped.

    Returns
    -------
    float
        exp(-U A / (m' c_p)) [-], below 1e-26 without flow.

    Notes
    -----
    Exact for a wall of constant conductance and surroundings of one temperature.

    Examples
    --------
    >>> round(duct_transmission(4.26, 50.0), 4)
    0.9183
    """
    return exp_negative(conductance / max(abs(capacity_rate), _TINY))


@kernel
def inside_film(mass_flow: float, diameter: float, temperature: float) -> float:
    """Return the film coefficient of air inside a round duct.

    Parameters
    ----------
    mass_flow : float
        Mass flow [kg/s]; its sign is dropped.
    diameter : float
        Inner diameter [m].
    temperature : float
        Air temperature [K].

    Returns
    -------
    float
        Coefficient [W/m2K].

    Notes
    -----
    Nu = 0.0214 (Re^0.8 - 100) Pr^0.4 from Re 10000 (Gnielinski's short form for gases, from memory), 3.66
    to Re 2300, linear between. Long ducts; entries transfer more.

    Examples
    --------
    >>> round(inside_film(0.05, 0.1524, 318.15), 1)
    9.6
    """
    reynolds = 4.0 * abs(mass_flow) / (math.pi * diameter * dynamic_viscosity(temperature))
    gas = prandtl(temperature) ** 0.4
    turbulent = 0.0214 * (max(reynolds, 10000.0) ** 0.8 - 100.0) * gas
    share = min(max((reynolds - 2300.0) / 7700.0, 0.0), 1.0)
    nusselt = (1.0 - share) * _LAMINAR_TUBE + share * turbulent
    film: float = nusselt * thermal_conductivity(temperature) / diameter
    return film


def duct_loss(
    length: float,
    diameter: float,
    insulation: float,
    mass_flow: float,
    inlet: float,
    surroundings: float,
    film_outside: float = STILL_AIR_FILM,
) -> tuple[float, float]:
    """Return what a duct loses and at which temperature the air leaves it.

    Parameters
    ----------
    length : float
        Length [m].
    diameter : float
        Inner diameter [m].
    insulation : float
        Rated resistance of the insulation [m2K/W], 0 for bare metal.
    mass_flow : float
        Mass flow [kg/s].
    inlet : float
        Temperature of the air that enters [K].
    surroundings : float
        Temperature round the duct [K].
    film_outside : float
        Film coefficient outside [W/m2K].

    Returns
    -------
    tuple of float
        Heat lost [W] and outlet temperature [K].

    Examples
    --------
    >>> heat, outlet = duct_loss(2.0, 0.1524, 0.0, 0.05, 318.15, 268.15)
    >>> round(heat, 1), round(outlet - 273.15, 2)
    (223.6, 40.56)
    """
    per_length = duct_conductance(diameter, inside_film(mass_flow, diameter, inlet), insulation, film_outside)
    capacity = abs(mass_flow) * SPECIFIC_HEAT_AIR
    outlet = surroundings + (inlet - surroundings) * duct_transmission(per_length * length, capacity)
    return capacity * (inlet - outlet), outlet
