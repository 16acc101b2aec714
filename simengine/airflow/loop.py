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


def given_flow_loop(
    fan: Fan, supply: Sequence[Duct] = (), back: Sequence[Duct] = (), speeds: int = 2
) -> AirLoop:
    """Return the loop of a fan with given flow and power, from rest to full speed.

    Parameters
    ----------
    fan : its flow [kg/s] and power [W] at full speed
    supply, back : ducts from the collector to the room and from the room to the collector, in the
        order of the flow
    speeds : number of speeds [-], at least 2: rest, full speed, and evenly spaced between

    Returns
    -------
    AirLoop

    Source: fan laws, flow ~ n and power ~ n^3 (common practice); exact exponential along a duct of
    constant conductance.

    >>> loop = given_flow_loop(Fan(0.05, 20.0), speeds=3)
    >>> loop.mass_flow.tolist(), loop.fan_power.tolist()
    ([0.0, 0.025, 0.05], [0.0, 2.5, 20.0])
    """
    speed = np.linspace(0.0, 1.0, speeds)
    flow = fan.mass_flow * speed
    power = fan.electric_power * speed**3
    supplied = [ducts_in_series(supply, float(m)) for m in flow]
    returned = [ducts_in_series(back, float(m)) for m in flow]
    return AirLoop(
        flow,
        power,
        power * fan.heat_to_air,
        np.array([kept for kept, _ in supplied]),
        np.array([kept for kept, _ in returned]),
        supplied[-1][1],
        returned[-1][1],
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
