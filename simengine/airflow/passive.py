"""The loop as numbers for the march while the fan rests: what drives the air, and what holds it."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.airflow.spec import PassivePath
from simengine.compiled import kernel
from simengine.constants import GAS_CONSTANT_DRY_AIR, GRAVITY
from simengine.heat_transfer.roots import cube_root

Array = NDArray[np.float64]

TINY_LOSS = 1.0e-12  # [Pa]


class Passive(NamedTuple):
    """The numbers of the resting loop; stored as rows [Passive, lane]. All zero: no air moves."""

    forward: float  # [-] 1 where air may pass the right way, else 0
    reverse: float  # [-] 1 where air may flow back
    box_height: float  # [m]
    riser: float  # [m] from the outlet up to the mouth in the room
    opening: float  # [Pa] that a damper takes to open
    quadratic_forward: float  # [Pa] at full flow, of m^2
    quadratic_reverse: float  # [Pa]
    blasius: float  # [Pa] at full flow, of m^1.75
    linear: float  # [Pa] at full flow, of m
    gas: float  # [kg K/m3] density times temperature


@kernel
def read_passive(rows: Array, lane: int) -> Passive:
    """Return the `Passive` of one lane."""
    return Passive(
        rows[0, lane],
        rows[1, lane],
        rows[2, lane],
        rows[3, lane],
        rows[4, lane],
        rows[5, lane],
        rows[6, lane],
        rows[7, lane],
        rows[8, lane],
        rows[9, lane],
    )


def passive_numbers(path: PassivePath | None, full_flow: float, pressure: float) -> Passive:
    """Return the numbers of a resting loop, with its flow counted in shares of full flow.

    Parameters
    ----------
    path : the loop; None where a tight damper shuts it whenever the fan rests
    full_flow : that the shares count on [kg/s]
    pressure : of the air at the site [Pa]

    >>> round(passive_numbers(PassivePath(2.0, 0.5, 400.0), 0.05, 101325.0).quadratic_forward, 9)
    1.0
    """
    if path is None:
        return Passive(*(0.0 for _ in Passive._fields))

    def quadratic(extra: float) -> float:
        return (path.quadratic + extra) * full_flow**2 if math.isfinite(extra) else 0.0

    return Passive(
        forward=float(math.isfinite(path.extra_forward)),
        reverse=float(math.isfinite(path.extra_reverse)),
        box_height=path.box_height,
        riser=path.riser,
        opening=path.opening_pressure,
        quadratic_forward=quadratic(path.extra_forward),
        quadratic_reverse=quadratic(path.extra_reverse),
        blasius=path.blasius * full_flow**1.75,
        linear=path.linear * full_flow,
        gas=pressure / GAS_CONSTANT_DRY_AIR,
    )


@kernel
def column_pressure(passive: Passive, room: float, inverse_box: float, outlet: float) -> float:
    """Return what drives air up through the collector [Pa], negative where it drives it down.

    Parameters
    ----------
    passive : the loop
    room : temperature of the room, whose air stands beside the collector [K]
    inverse_box : mean of 1/T along the air in the collector [1/K]
    outlet : air at the upper end of the collector, as it fills the riser [K]

    Source: weight of two columns of ideal gas.

    >>> loop = passive_numbers(PassivePath(2.0, 0.0, 400.0), 0.05, 101325.0)
    >>> round(column_pressure(loop, 293.15, 1.0 / 313.15, 313.15), 2)  # 1.204 less 1.127 kg/m3, 2 m
    1.51
    """
    here = 1.0 / room
    lift = passive.box_height * (here - inverse_box) + passive.riser * (here - 1.0 / outlet)
    return GRAVITY * passive.gas * lift


@kernel
def share_driven(passive: Passive, pressure: float, share: float) -> float:
    """Return the share of full flow that a pressure asks for, judged from the flow there is.

    Parameters
    ----------
    passive : the loop
    pressure : that drives the air up through the collector [Pa]
    share : flow at which that pressure was found, -1 to 1 of full flow [-]

    Returns
    -------
    share, -1 to 1 [-]; equal to the one given where loss and drive are equal

    Source: the flow of a column heated evenly, m'^3 ~ drive; from rest, half of what the pressure found
    at rest would drive, for it fades as air moves.
    """
    opens = (pressure > passive.opening) & (passive.forward > 0.5)
    falls = (pressure < 0.0) & (passive.reverse > 0.5)
    push = pressure - passive.opening if opens else (-pressure if falls else 0.0)
    quadratic = passive.quadratic_forward if opens else passive.quadratic_reverse
    way = 1.0 if opens else (-1.0 if falls else 0.0)
    moving = share * way > 0.0
    size = abs(share)
    root = math.sqrt(size)
    loss = size * (quadratic * size + passive.blasius * root * math.sqrt(root) + passive.linear)
    whole = max(quadratic + passive.blasius + passive.linear, TINY_LOSS)
    asked = size * cube_root(push / max(loss, TINY_LOSS)) if moving else 0.5 * math.sqrt(push / whole)
    return way * min(asked, 1.0)
