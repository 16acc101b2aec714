"""The air loop of a fan with a curve: its flow and power at each speed, solved against the parts."""

from collections.abc import Sequence

import numpy as np

from simengine.air.properties import density
from simengine.airflow.circuit import loop_pressure
from simengine.airflow.fan_curve import FanCurve, OperatingPoint, at_speed, operating_point
from simengine.airflow.loop import AirLoop, ducts_in_series
from simengine.airflow.parts import ROOM_TEMPERATURE, Part
from simengine.airflow.spec import Duct
from simengine.errors import InputError


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
    ducts: tuple[Duct | None, Duct | None] = (None, None),
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
    ducts : tuple of two Duct or None
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
        Fan and loop do not meet at one of the speeds.
    InputError
        Nothing is known of the fan's power.

    Notes
    -----
    Fan laws for speed and density; each speed is its own crossing, since laminar channels keep the flow
    from being quite proportional.
    """
    air = density(fan_temperature, pressure)
    flow, power = [0.0], [0.0]
    for step in range(1, speeds):
        point = operating_point(
            at_speed(fan, step / (speeds - 1)), lambda m: loop_pressure(parts, m, pressure), air
        )
        if point.electric_power is None:
            raise InputError("fan: its electric power is not known; accepted: a power curve or an efficiency")
        flow.append(point.mass_flow)
        power.append(point.electric_power)
    supply, back = (() if duct is None else (duct,) for duct in ducts)
    supply_room, return_room = ducts_in_series(supply, flow[-1])[1], ducts_in_series(back, flow[-1])[1]
    return AirLoop(
        np.array(flow),
        np.array(power),
        np.array(power) * heat_to_air,
        np.array([ducts_in_series(supply, m)[0] for m in flow]),
        np.array([ducts_in_series(back, m)[0] for m in flow]),
        supply_room,
        return_room,
    )
