"""Steady conduction through layers, edges and duct walls, with the surface films of ISO 6946."""

import math
from collections.abc import Iterable

from simengine.constants import STEFAN_BOLTZMANN
from simengine.errors import InputError

INSIDE_CONVECTION = {"up": 5.0, "horizontal": 2.5, "down": 0.7}
"""Convective coefficient inside by the direction of the heat [W/m2K] (ISO 6946, from memory)."""

_BUILDING_EMITTANCE = 0.9


def layers_resistance(layers: Iterable[tuple[float, float]]) -> float:
    """Return the resistance of layers in series.

    Parameters
    ----------
    layers : iterable of (float, float)
        Thickness [m] and conductivity [W/mK] of each layer.

    Returns
    -------
    float
        Resistance [m2K/W].

    Examples
    --------
    >>> round(layers_resistance([(0.0254, 0.024), (0.012, 0.12)]), 4)
    1.1583
    """
    return math.fsum(thickness / conductivity for thickness, conductivity in layers)


def black_coefficient(temperature: float) -> float:
    """Return the radiative coefficient of a black face, 4 sigma T^3.

    Parameters
    ----------
    temperature : float
        Mean temperature of the face and of what it sees [K].

    Returns
    -------
    float
        Coefficient [W/m2K].

    Examples
    --------
    >>> round(black_coefficient(293.15), 1)
    5.7
    """
    return 4.0 * STEFAN_BOLTZMANN * temperature**3


def inside_resistance(
    direction: str, temperature: float = 293.15, emittance: float = _BUILDING_EMITTANCE
) -> float:
    """Return the inside surface resistance of ISO 6946.

    Parameters
    ----------
    direction : str
        Direction of the heat: "up", "horizontal" or "down".
    temperature : float
        Mean temperature of the face and the room [K].
    emittance : float
        Emittance of the face [-].

    Returns
    -------
    float
        Resistance [m2K/W].

    Raises
    ------
    InputError
        The direction is not one of the three.

    Examples
    --------
    >>> round(inside_resistance("horizontal"), 2)
    0.13
    """
    if direction not in INSIDE_CONVECTION:
        accepted = ", ".join(INSIDE_CONVECTION)
        raise InputError(f"heat direction: '{direction}' is not known; accepted: {accepted}")
    return 1.0 / (INSIDE_CONVECTION[direction] + emittance * black_coefficient(temperature))


def outside_resistance(
    wind_speed: float = 4.0, temperature: float = 273.15, emittance: float = _BUILDING_EMITTANCE
) -> float:
    """Return the outside surface resistance of ISO 6946.

    Parameters
    ----------
    wind_speed : float
        Wind speed near the face [m/s].
    temperature : float
        Mean temperature of the face and the surroundings [K].
    emittance : float
        Emittance of the face [-].

    Returns
    -------
    float
        Resistance 1 / (4 + 4 V + e h_r0) [m2K/W].

    Examples
    --------
    >>> round(outside_resistance(), 2)
    0.04
    """
    return 1.0 / (4.0 + 4.0 * wind_speed + emittance * black_coefficient(temperature))


def edge_conductance(perimeter: float, height: float, resistance: float, films: float) -> float:
    """Return the conductance of the side walls of a flat box.

    Parameters
    ----------
    perimeter : float
        Length of the side walls around the box [m].
    height : float
        Height of the side walls [m].
    resistance : float
        Resistance of the side wall [m2K/W].
    films : float
        Resistance of the films inside and outside, together [m2K/W].

    Returns
    -------
    float
        Conductance [W/K].

    Examples
    --------
    >>> round(edge_conductance(7.2, 0.1, 0.5, 0.17), 3)
    1.075
    """
    return perimeter * height / (resistance + films)


def duct_conductance(diameter: float, h_inside: float, resistance: float, h_outside: float) -> float:
    """Return the conductance of a duct per length, all resistances on the inner surface.

    Parameters
    ----------
    diameter : float
        Inner diameter [m].
    h_inside : float
        Film coefficient inside [W/m2K].
    resistance : float
        Rated resistance of the insulation [m2K/W], 0 for bare sheet metal.
    h_outside : float
        Film coefficient outside [W/m2K].

    Returns
    -------
    float
        Conductance per length [W/mK].

    Examples
    --------
    >>> round(duct_conductance(0.1524, 8.0, 0.0, 10.0) * 2.0 * 50.0, 1)
    212.8
    """
    return math.pi * diameter / (1.0 / h_inside + resistance + 1.0 / h_outside)


def insulated_pipe_conductance(
    diameter: float, thickness: float, conductivity: float, h_inside: float, h_outside: float
) -> float:
    """Return the conductance of a duct per length with the curvature of its insulation.

    Parameters
    ----------
    diameter : float
        Inner diameter [m].
    thickness : float
        Thickness of the insulation [m].
    conductivity : float
        Conductivity of the insulation [W/mK].
    h_inside : float
        Film coefficient inside [W/m2K].
    h_outside : float
        Film coefficient outside [W/m2K].

    Returns
    -------
    float
        Conductance per length [W/mK].

    Examples
    --------
    >>> round(insulated_pipe_conductance(0.1524, 0.0, 0.04, 8.0, 10.0), 3)
    2.128
    """
    outer = diameter + 2.0 * thickness
    wall = math.log(outer / diameter) / (2.0 * conductivity)
    return math.pi / (1.0 / (h_inside * diameter) + wall + 1.0 / (h_outside * outer))
