"""The air loop as numbers for the march: flow, fan power and duct losses at each fan speed."""

import math
from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.airflow.spec import Duct, Fan
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.heat_transfer.conduction import duct_conductance

Array = NDArray[np.float64]

DUCT_FILM_INSIDE = 8.0
"""Film inside a duct with moving air [W/m2K] (common practice)."""
DUCT_FILM_OUTSIDE = 10.0
"""Film outside a duct, convection and radiation [W/m2K] (common practice)."""
ROOM_WEIGHT = {"outside": 0.0, "unheated": 0.5, "inside": 1.0}
"""Weight of the room in the temperature round a duct [-]; the rest is outdoor air. An unheated space
is taken half way (common practice)."""


class AirLoop(NamedTuple):
    """Flow, fan and ducts by fan speed; speeds are evenly spaced from 0 to 1."""

    mass_flow: Array  # [speed] kg/s
    fan_power: Array  # [speed] W
    fan_heat: Array  # [speed] W into the air
    supply_kept: Array  # [speed] share of its excess that air keeps along the duct, -
    return_kept: Array  # [speed] -
    supply_room: float  # weight of the room in the temperature round the duct, -
    return_room: float  # -


def given_flow_loop(fan: Fan, supply: Sequence[Duct] = (), back: Sequence[Duct] = ()) -> AirLoop:
    """Return the loop of a fan with given flow and power: at rest and at full speed.

    Parameters
    ----------
    fan : its flow [kg/s] and power [W]
    supply, back : ducts from the collector to the room and from the room to the collector, in the
        order of the flow

    Returns
    -------
    AirLoop with two speeds

    Source: exact exponential along a duct of constant conductance.

    >>> loop = given_flow_loop(Fan(0.05, 20.0))
    >>> loop.mass_flow.tolist(), loop.supply_kept.tolist()
    ([0.0, 0.05], [1.0, 1.0])
    """
    supply_kept, supply_room = ducts_in_series(supply, fan.mass_flow)
    return_kept, return_room = ducts_in_series(back, fan.mass_flow)
    at_rest_and_full = np.array([0.0, 1.0])
    return AirLoop(
        fan.mass_flow * at_rest_and_full,
        fan.electric_power * at_rest_and_full,
        fan.electric_power * fan.heat_to_air * at_rest_and_full,
        np.array([1.0, supply_kept]),
        np.array([1.0, return_kept]),
        supply_room,
        return_room,
    )


def ducts_in_series(ducts: Sequence[Duct], mass_flow: float) -> tuple[float, float]:
    """Return what air keeps along a row of ducts, and how far the room warms their surroundings.

    Parameters
    ----------
    ducts : in the order of the flow
    mass_flow : air flow [kg/s]

    Returns
    -------
    (kept, room) : share of its excess that the air keeps [-]; weight of the room in the temperature
        that takes up the rest [-]

    Source: the exponentials one after the other, T = kept T_in + (1 - kept) (room T_room + ...).

    >>> ducts_in_series((Duct(2.0, 0.15, surroundings="inside"),), 0.05)
    (1.0, 0.0)
    """
    kept, room = 1.0, 0.0
    for duct in ducts:
        share = kept_share(duct, mass_flow)
        kept, room = kept * share, room * share + (1.0 - share) * ROOM_WEIGHT[duct.surroundings]
    return kept, room / (1.0 - kept) if kept < 1.0 else 0.0


def kept_share(duct: Duct, mass_flow: float) -> float:
    """Return the share of its excess over the surroundings that air keeps along a duct [-].

    Parameters
    ----------
    duct : one inside the heated space loses nothing that the space does not gain
    mass_flow : air flow [kg/s]; without flow the share counts for nothing and is given as 1

    Source: exp(-U A / (m c_p)).

    >>> round(kept_share(Duct(2.0, 0.1524), 0.05), 4)
    0.9189
    """
    if duct.surroundings == "inside" or mass_flow <= 0.0:
        return 1.0
    per_length = duct_conductance(
        duct.diameter, DUCT_FILM_INSIDE, duct.insulation_resistance, DUCT_FILM_OUTSIDE
    )
    return math.exp(-per_length * duct.length / (mass_flow * SPECIFIC_HEAT_AIR))
