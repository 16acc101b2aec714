"""The air loop of a fan with a curve: its flow and power at each speed, solved against the parts."""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from simengine.air.properties import density
from simengine.airflow.circuit import loop_pressure
from simengine.airflow.fan_curve import FanCurve, OperatingPoint, at_density, operating_point
from simengine.airflow.loop import AirLoop, ducts_in_series
from simengine.airflow.parts import ROOM_TEMPERATURE, Part
from simengine.airflow.spec import Duct
from simengine.errors import InputError

Array = NDArray[np.float64]

SLOWEST = 0.02
"""Share of full flow down to which the loss of the loop is tabulated [-]; below, its slope goes on."""
POINTS, GRID = 48, 480
"""Flows of that table, and places on the fan's curve that are tried."""


def full_speed_point(
    fan: FanCurve, parts: Sequence[Part], pressure: float, fan_temperature: float = ROOM_TEMPERATURE
) -> OperatingPoint:
    """Return where a fan at full speed meets its loop.

    Parameters
    ----------
    fan : FanCurve
        The fan.
    parts : sequence of parts
        Everything the air passes.
    pressure : float
        Air pressure of the site [Pa].
    fan_temperature : float
        Temperature of the air at the fan's inlet [K].

    Returns
    -------
    OperatingPoint
        Flow [m3/s and kg/s], pressure [Pa], power [W] and notes.

    Raises
    ------
    RangeError
        Fan and loop do not meet on the fan's curve.

    Examples
    --------
    >>> from simengine.airflow.fan_curve import shut_off_curve
    >>> from simengine.airflow.parts import Fitting
    >>> fan = shut_off_curve(150.0, 0.1)
    >>> round(full_speed_point(fan, [Fitting("loop", 0.018, 8.0)], 101325.0).volume_flow, 4)
    0.0709
    """
    return operating_point(
        fan, lambda flow: loop_pressure(parts, flow, pressure), density(fan_temperature, pressure)
    )


def solve_loop(
    fan: FanCurve,
    parts: Sequence[Part],
    pressure: float,
    ducts: tuple[Sequence[Duct], Sequence[Duct]] = ((), ()),
    speeds: int = 2,
    fan_temperature: float = ROOM_TEMPERATURE,
    heat_to_air: float = 1.0,
) -> AirLoop:
    """Return the loop of a fan with a curve, at evenly spaced speeds from rest to full.

    Parameters
    ----------
    fan : FanCurve
        The fan at full speed, with a power curve or an efficiency.
    parts : sequence of parts
        Everything the air passes.
    pressure : float
        Air pressure of the site [Pa].
    ducts : tuple of two sequences of Duct
        From the collector to the room, and back, for their heat loss.
    speeds : int
        Number of speeds with rest, at least 2.
    fan_temperature : float
        Temperature of the air at the fan's inlet [K].
    heat_to_air : float
        Share of the electric power that ends in the air stream [-].

    Returns
    -------
    AirLoop
        Flow [kg/s], power [W] and duct shares [-] by speed.

    Raises
    ------
    RangeError
        Fan and loop do not meet at full speed.
    InputError
        Nothing is known of the fan's power.

    Notes
    -----
    Fan laws for speed and density; each speed is its own crossing, since laminar channels keep the flow
    from being quite proportional: n^2 p(x) = loss(n x), x the flow over the speed. A curve that does not
    begin at rest is taken to be level before its first point, where slow air asks for it.
    """
    full = full_speed_point(fan, parts, pressure, fan_temperature)
    if full.electric_power is None:
        raise InputError("fan: its electric power is not known; accepted: a power curve or an efficiency")
    air = density(fan_temperature, pressure)
    local = at_density(fan, air)
    speed = np.linspace(0.0, 1.0, speeds)
    part = _part_speeds(local, _tabulated(parts, full.mass_flow, pressure), speed[1:-1] * air, air)
    volume = np.array([0.0, *part, full.volume_flow])
    power = np.array([0.0, *(local.electric_power(float(x)) or 0.0 for x in part), full.electric_power])
    power *= speed**3
    flow = volume * speed * air
    supply, back = ducts
    supplied = [ducts_in_series(supply, float(m)) for m in flow]
    returned = [ducts_in_series(back, float(m)) for m in flow]
    return AirLoop(
        flow,
        power,
        power * heat_to_air,
        np.array([kept for kept, _ in supplied]),
        np.array([kept for kept, _ in returned]),
        supplied[-1][1],
        returned[-1][1],
    )


def _tabulated(parts: Sequence[Part], full: float, pressure: float) -> tuple[Array, Array]:
    """Return the logarithms of some flows up to full flow, and of what the loop costs at them."""
    flows = full * np.geomspace(SLOWEST, 1.0, POINTS)
    costs = np.array([loop_pressure(parts, float(flow), pressure) for flow in flows])
    return np.log(flows), np.log(np.maximum(costs, 1e-30))


def _part_speeds(fan: FanCurve, system: tuple[Array, Array], mass_speed: Array, air: float) -> Array:
    """Return the flow over the speed [m3/s] at which fan and loop meet, for each speed times density."""
    if not mass_speed.size:
        return mass_speed
    log_flow, log_cost = system
    # by the fan laws the loop is no cheaper than at full speed: the crossing lies left of that one
    widest = math.exp(float(log_flow[-1])) / air
    flows = np.linspace(widest / GRID, widest, GRID)
    pressures = np.array([fan.pressure_at(max(float(x), fan.flow[0])) for x in flows])
    places = np.log(mass_speed[:, None] * flows)
    slope = (log_cost[1] - log_cost[0]) / (log_flow[1] - log_flow[0])
    cost = np.interp(places, log_flow, log_cost) + slope * np.minimum(places - log_flow[0], 0.0)
    surplus = pressures - np.exp(cost) * (air / mass_speed[:, None]) ** 2
    met = [int(np.flatnonzero(row > 0.0)[-1]) if (row > 0.0).any() else 0 for row in surplus]
    last = np.minimum(np.array(met), GRID - 2)
    row = np.arange(mass_speed.size)
    begin, end = surplus[row, last], surplus[row, last + 1]
    share = np.clip(begin / np.where(begin == end, 1.0, begin - end), 0.0, 1.0)
    return np.asarray(flows[last] + share * (flows[last + 1] - flows[last]))
