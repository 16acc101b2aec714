"""Turns what a scenario says of the fan's control and of the damper into numbers for the march."""

import math
from dataclasses import replace

from simengine.airflow.spec import PassivePath
from simengine.collector.spec import Collector
from simengine.constants import GAS_CONSTANT_DRY_AIR, ZERO_CELSIUS
from simengine.control.spec import ControlRule, Module
from simengine.scenario.air_path import AirPath
from simengine.scenario.schema import air

NEVER_WARM, ALWAYS_WARM = 1.0e4, 1.0
"""Thresholds [K] that no sensor reaches, and that every sensor has passed."""

JET = 0.6
"""Contraction of air that squeezes past a shut damper [-] (common practice)."""

SLOWEST = 0.03
"""Air that moves by itself is followed down to this share of the fan's flow when its loss is fitted [-]."""


def control(given: air.Control, fan_power: float) -> ControlRule:
    """Return the rule of a control.

    Parameters
    ----------
    given
        As the scenario describes it.
    fan_power
        Electric power of the fan at full speed [W].

    Returns
    -------
    ControlRule
        Thresholds, speeds, least times, season and schedule.
    """
    if isinstance(given, air.NoFan):
        return ControlRule(start=NEVER_WARM, stop=NEVER_WARM - 1.0)
    if isinstance(given, air.PvModule):
        rule = ControlRule(start=ALWAYS_WARM, stop=0.5 * ALWAYS_WARM, module=_module(given, fan_power))
    else:
        full = given.full_speed_at
        rule = ControlRule(
            start=given.start,
            stop=given.stop,
            reference_weight=1.0 if isinstance(given, air.Differential) else 0.0,
            low_speed=given.low_speed,
            second_start=math.inf if given.second_start is None else given.second_start,
            second_stop=math.inf if given.second_stop is None else given.second_stop,
            slope=0.0 if full is None else (1.0 - given.low_speed) / (full - given.stop),
        )
    return replace(
        rule,
        sensor_place=given.sensor,
        sensor_time_constant=given.time_constant,
        room_limit=given.room_limit,
        room_limit_band=given.room_limit_band,
        minimum_on=given.minimum_on,
        minimum_off=given.minimum_off,
        months=given.months,
        hours=given.hours,
    )


def _module(given: air.PvModule, fan_power: float) -> Module:
    return Module(
        short_circuit_current=given.short_circuit_current,
        open_circuit_voltage=given.open_circuit_voltage,
        best_current=given.best_current,
        best_voltage=given.best_voltage,
        cells=given.cells,
        fan_voltage=given.fan_voltage,
        fan_power=fan_power,
        start_share=given.start_share,
        tilt=given.tilt,
        azimuth=given.azimuth,
    )


def passive_path(
    damper: air.Damper | None, box: Collector, path: AirPath, mass_flow: float, pressure: float
) -> PassivePath | None:
    """Return the loop while the fan rests, None where a tight damper shuts it then.

    Parameters
    ----------
    damper
        As the scenario describes it; None is a tight one that follows the fan.
    box
        Its length and tilt count.
    path
        What the air passes; gives the loss.
    mass_flow
        Of the fan at full speed [kg/s]; the loss is fitted up to it.
    pressure
        Of the site's air [Pa].

    Returns
    -------
    PassivePath
        Heights, losses and what the damper adds in either direction.
    """
    if damper is None or (damper.kind == "motorised" and damper.leak == 0.0):
        return None
    from simengine.airflow.circuit import loop_pressure  # loads a library of friction factors
    from simengine.airflow.resistance import fit_resistance

    fitted = fit_resistance(lambda m: loop_pressure(path.parts, m, pressure), mass_flow, SLOWEST * mass_flow)
    square, blasius, linear = (float(value) for value in fitted.coefficients)
    shut = _squeeze(damper.leak, path, pressure)
    return PassivePath(
        box_height=box.length * math.sin(math.radians(box.tilt)),
        riser=damper.riser,
        quadratic=square,
        blasius=blasius,
        linear=linear,
        opening_pressure=damper.opening_pressure if damper.kind == "flap" else 0.0,
        extra_forward=shut if damper.kind == "motorised" else 0.0,
        extra_reverse=0.0 if damper.kind == "none" else shut,
    )


def _squeeze(leak: float, path: AirPath, pressure: float) -> float:
    """Return the loss of air that passes a shut damper [Pa s2/kg2]; infinite through a tight one."""
    if leak == 0.0:
        return math.inf
    density = pressure / (GAS_CONSTANT_DRY_AIR * (ZERO_CELSIUS + 20.0))
    return 1.0 / (2.0 * density * (JET * leak * path.narrowest) ** 2)
