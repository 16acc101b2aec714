"""Collectors through which air moves by itself: plain ones with a closed form, and the invented one."""

import math
from dataclasses import replace

import numpy as np

from simengine.airflow.loop import given_flow_loop
from simengine.airflow.passive import passive_numbers
from simengine.airflow.spec import Fan, PassivePath
from simengine.collector.flow_table import build_flow_table
from simengine.collector.spec import Collector
from simengine.constants import GAS_CONSTANT_DRY_AIR, STANDARD_PRESSURE
from simengine.control.spec import ControlRule
from simengine.engine.ledger import Column
from simengine.engine.state import Member
from tests.engine.drive import BOX, FAN, NEVER, Ran, frozen, made_demand, made_forcing, member

ROOM = 293.15
PORT = math.pi / 4.0 * 0.1524**2
"""Area of a 6-in port [m2]."""
SPEEDS = 33
HOUR = 3600.0
EMITTANCE, FACE_LINK, BOX_LINK, OUTER_LINK, EDGE = 1, 3, 4, 5, 7  # rows of network.box
CLOSED = 1.0e-9  # [W/m2K] a link through which next to nothing passes
OPEN = 1.0e4  # [W/m2K] a link that holds two nodes together


def port_loss(loss_coefficient: float, area: float = PORT) -> float:
    """Return the quadratic loss of a sum of loss coefficients on an area [Pa s2/kg2]."""
    density = STANDARD_PRESSURE / (GAS_CONSTANT_DRY_AIR * ROOM)
    return loss_coefficient / (2.0 * density * area * area)


UNDAMPED = PassivePath(box_height=2.4, riser=0.0, quadratic=port_loss(10.0))
"""The invented collector with 6-in ports and no damper."""
FLAP = replace(UNDAMPED, opening_pressure=0.5, extra_forward=port_loss(5.0), extra_reverse=math.inf)
LEAKY = replace(FLAP, extra_reverse=port_loss(2000.0))
PATHS = {"none": UNDAMPED, "tight flap": FLAP, "leaky flap": LEAKY, "motorised": None}


def rested(whole: Member, box: Collector, path: PassivePath | None, fan: Fan = FAN) -> Member:
    """Return a member with the loop that its air takes while the fan rests."""
    table = build_flow_table(box, given_flow_loop(fan, speeds=SPEEDS), STANDARD_PRESSURE)
    rows = np.array(passive_numbers(path, fan.mass_flow, STANDARD_PRESSURE))[:, None].copy()
    return whole._replace(table=table, passive=rows)


def drifting(
    sun: float,
    path: PassivePath | None,
    rule: ControlRule = NEVER,
    ambient: float = ROOM,
    hours: int = 6,
    box: Collector = BOX,
) -> Member:
    """Return the invented collector in steady weather."""
    whole = member(box, made_forcing(np.full(hours, float(sun)), ambient), rule)
    return rested(whole, box, path)


def _plain(sun: float, ambient: float, path: PassivePath, full: float, box: Collector) -> Member:
    forcing = made_forcing(np.full(6, float(sun)), ambient, colder_sky=0.0, wind=0.0)
    forcing.absorbed[:, 0], forcing.absorbed[:, 1] = 0.0, sun
    fan = Fan(full, 0.0, 0.0)
    whole = frozen(member(box, forcing, NEVER, demand=made_demand(6, vent=ROOM), fan=fan))
    whole.network.gas[:, 0, 0] = CLOSED  # a gap at rest passes nothing: the film is what is given
    return rested(whole, box, path, fan)


def heated(heat: float, path: PassivePath, box: Collector) -> Member:
    """Return a collector that loses nothing: so much heat [W] enters its air evenly along the way."""
    whole = _plain(heat / box.aperture, ROOM, path, 0.05, box)
    whole.network.box[FACE_LINK] = whole.network.box[EDGE] = CLOSED
    whole.table.film[:] = 10.0
    whole.network.capacity[:] *= 0.02  # it settles in a fraction of an hour
    return whole


def cooled(conductance: float, outside: float, path: PassivePath, box: Collector) -> Member:
    """Return a collector whose walls stand at the temperature outside, by its air's own film [W/K]."""
    whole = _plain(0.0, outside, path, 0.02, box)
    for row in (FACE_LINK, BOX_LINK, OUTER_LINK, EDGE):
        whole.network.box[row] = OPEN
    whole.table.film[:] = conductance / (2.0 * box.aperture)
    return whole


def flow_of(ran: Ran) -> float:
    """Return the flow of the last hour [kg/s]."""
    return float(ran.hours[-1, Column.AIR_MASS, 0]) / HOUR


def power_of(ran: Ran, column: Column) -> float:
    """Return a heat flow of the last hour [W]."""
    return float(ran.hours[-1, column, 0]) / HOUR
