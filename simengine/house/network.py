"""A house as the five conductances and one capacity of ISO 13790, with its closed forms."""

import math
from typing import Final, NamedTuple

from simengine.constants import SPECIFIC_HEAT_AIR, STANDARD_AIR_DENSITY
from simengine.errors import RangeError
from simengine.house.spec import House

AIR_TO_SURFACE: Final = 3.45
"""Heat transfer between room air and surfaces, h_is [W/m2K] (ISO 13790:2008 annex C, from memory)."""

SURFACE_TO_MASS: Final = 9.1
"""Heat transfer between surfaces and mass, h_ms [W/m2K] (ISO 13790:2008 annex C, from memory)."""


class Network(NamedTuple):
    """The nodes air, surface and mass, and what joins them."""

    ventilation: float  # [W/K] H_ve, air to outdoors
    surface: float  # [W/K] H_is, air to surfaces
    window: float  # [W/K] H_w, surfaces to outdoors
    inner: float  # [W/K] H_ms, surfaces to mass
    outer: float  # [W/K] H_em, mass to outdoors
    mass_capacity: float  # [J/K] C_m
    air_capacity: float  # [J/K] air and light furnishings
    surface_area: float  # [m2] A_t
    mass_area: float  # [m2] A_m


class GainSplit(NamedTuple):
    """Where gains enter the network; numbers or arrays [interval]."""

    air: float  # [W] phi_ia
    surface: float  # [W] phi_st
    mass: float  # [W] phi_m


def network(house: House) -> Network:
    """Return the network of a house.

    Parameters
    ----------
    house : conductances, floor area and mass class

    Returns
    -------
    Network; H_em is what is left of H_op behind H_ms, 1/(1/H_op - 1/H_ms)

    Raises
    ------
    RangeError
        The opaque parts lose more than the mass can take up (H_op at or above H_ms), or an area or a
        capacity is not above zero.

    Source: ISO 13790:2008 annex C (from memory).

    >>> from simengine.house.presets import standard
    >>> round(network(standard(140.0)).surface, 1)  # 3.45 x 4.5 x 140
    2173.5
    """
    surface_area = house.surface_area_ratio * house.floor_area
    mass_area = house.mass_area_ratio * house.floor_area
    mass_capacity = house.heat_capacity_per_area * house.floor_area
    if min(surface_area, mass_area, mass_capacity) <= 0.0:
        raise RangeError(f"house '{house.name:.80}': floor area, mass area and capacity must be above zero")
    inner = SURFACE_TO_MASS * mass_area
    return Network(
        ventilation=house.ventilation_conductance,
        surface=AIR_TO_SURFACE * surface_area,
        window=house.window_conductance,
        inner=inner,
        outer=_outer(house, inner),
        mass_capacity=mass_capacity,
        air_capacity=house.air_capacity_factor * STANDARD_AIR_DENSITY * SPECIFIC_HEAT_AIR * house.volume,
        surface_area=surface_area,
        mass_area=mass_area,
    )


def _outer(house: House, inner: float) -> float:
    opaque = house.opaque_conductance
    if not 0.0 < opaque < inner:
        raise RangeError(
            f"house '{house.name:.80}': opaque conductance {opaque:.4g} W/K; accepted: above 0, "
            f"below {inner:.4g} W/K, what the mass of this floor area can take up"
        )
    return 1.0 / (1.0 / opaque - 1.0 / inner)


def split_gains(net: Network, internal: float, solar: float) -> GainSplit:
    """Return how gains are shared out among air, surfaces and mass.

    Parameters
    ----------
    net : the network
    internal : internal gains [W], number or array [interval]
    solar : gains through windows [W], number or array [interval]

    Returns
    -------
    GainSplit; it sums to all gains less H_w / (9.1 A_t) (internal / 2 + solar), the part that the
    standard sends straight out through the windows

    Source: ISO 13790:2008 annex C (from memory).

    >>> from simengine.house.presets import standard
    >>> round(split_gains(network(standard(140.0)), 420.0, 1000.0).mass, 1)  # 2.5/4.5 x 1210
    672.2
    """
    half = 0.5 * internal
    radiant = half + solar
    mass_share = net.mass_area / net.surface_area
    lost_share = net.window / (SURFACE_TO_MASS * net.surface_area)
    return GainSplit(half, (1.0 - mass_share - lost_share) * radiant, mass_share * radiant)


def steady_need(net: Network, difference: float) -> float:
    """Return the steady heating need with no gains.

    Parameters
    ----------
    net : the network
    difference : room air less outdoor air [K]

    Returns
    -------
    need [W]; less than the sum of the conductances times the difference, since heat must pass H_is

    Source: closed form, [H_ve + H_is (H_w + H_op)/(H_is + H_w + H_op)] dT.

    >>> from simengine.house.presets import low_energy
    >>> need = steady_need(network(low_energy(140.0)), 30.0)
    >>> 1000.0 < need < 3000.0
    True
    """
    fabric = net.window + _series(net.inner, net.outer)
    return (net.ventilation + _series(net.surface, fabric)) * difference


def cooling_time_constant(net: Network) -> float:
    """Return the time constant with which the mass cools when nothing heats it.

    Parameters
    ----------
    net : the network; its air node taken without capacity

    Returns
    -------
    time constant [s], C_m / (H_3 + H_em)

    Source: closed form of the network; H_3 = [((H_ve in series with H_is) + H_w) in series with H_ms].

    >>> from simengine.house.presets import standard
    >>> 15.0 < cooling_time_constant(network(standard(140.0))) / 3600.0 < 35.0
    True
    """
    to_air = _series(net.ventilation, net.surface)
    return net.mass_capacity / (_series(to_air + net.window, net.inner) + net.outer)


def free_cooling(net: Network, excess: float, duration: float) -> float:
    """Return what is left of the mass's excess over a constant outdoor temperature.

    Parameters
    ----------
    net : the network; its air node taken without capacity
    excess : mass less outdoor air at the start [K]
    duration : time without any heat [s]

    Returns
    -------
    excess at the end [K]

    Source: closed form of the network.

    >>> from simengine.house.presets import standard
    >>> net = network(standard(140.0))
    >>> round(free_cooling(net, 20.0, cooling_time_constant(net)), 3)  # 20 / e
    7.358
    """
    return excess * math.exp(-duration / cooling_time_constant(net))


def building_time_constant(house: House) -> float:
    """Return the time constant that the monthly utilisation of gains hangs on.

    Parameters
    ----------
    house : conductances and mass class

    Returns
    -------
    time constant [s], C_m over the plain sum of the conductances

    Source: ISO 13790:2008 clause 12.2 (from memory).

    >>> from simengine.house.presets import low_energy
    >>> building_time_constant(low_energy(140.0)) > 48.0 * 3600.0
    True
    """
    total = house.opaque_conductance + house.window_conductance + house.ventilation_conductance
    return house.heat_capacity_per_area * house.floor_area / total


def _series(first: float, second: float) -> float:
    return first * second / (first + second)
