"""Turns what a scenario says of the fan's control and of the damper into numbers for the march."""

import math
from dataclasses import dataclass, replace

from simengine.airflow.spec import PassivePath
from simengine.collector.spec import Collector
from simengine.constants import GAS_CONSTANT_DRY_AIR, ZERO_CELSIUS
from simengine.control.spec import ControlRule, Module
from simengine.scenario.air_path import AirPath
from simengine.scenario.schema import Inputs, loop
from simengine.scenario.schema import control as spoken

NEVER_WARM, ALWAYS_WARM = 1.0e4, 1.0
"""Thresholds [K] that no sensor reaches, and that every sensor has passed."""

JET = 0.6
"""Contraction of air that squeezes past a shut damper [-] (common practice)."""

SLOWEST = 0.03
"""Air that moves by itself is followed down to this share of the fan's flow when its loss is fitted [-]."""


def control(given: spoken.Control, fan_power: float) -> ControlRule:
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
    if isinstance(given, spoken.NoFan):
        return ControlRule(start=NEVER_WARM, stop=NEVER_WARM - 1.0)
    if isinstance(given, spoken.PvModule):
        rule = ControlRule(start=ALWAYS_WARM, stop=0.5 * ALWAYS_WARM, module=_module(given, fan_power))
    else:
        full = given.full_speed_at
        rule = ControlRule(
            start=given.start,
            stop=given.stop,
            reference_weight=1.0 if isinstance(given, spoken.Differential) else 0.0,
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


def _module(given: spoken.PvModule, fan_power: float) -> Module:
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


@dataclass(frozen=True, slots=True)
class Shut:
    """What stands in the way of air while the fan rests."""

    kind: str  # "none", "flap" or "motorised"
    opening_pressure: float  # [Pa] of a flap
    leak: float  # [-] share of the area that it leaves open
    area: float  # [m2] of the place where it sits
    riser: float  # [m] from the box up to the mouth in the room


def shut(inputs: Inputs, path: AirPath) -> Shut | None:
    """Return the damper of a scenario, None for a tight one that follows the fan.

    Parameters
    ----------
    inputs
        A loop told part by part has its damper among its parts, or none. One that leads from outdoors, or
        from one space into another, is taken as shut at rest.
    path
        What the air passes.
    """
    if inputs.air.intake != inputs.air.supply:
        return None
    if not inputs.loop:
        given = inputs.damper
        if given is None:
            return None
        return Shut(given.kind, given.opening_pressure, given.leak, path.narrowest, given.riser)
    riser = next(part.riser for part in inputs.loop if isinstance(part, loop.LoopCollector))
    for number, part in enumerate(inputs.loop):
        if isinstance(part, loop.LoopDamper):
            area = math.pi / 4.0 * (loop.damper_bore(inputs.loop, number) or 0.0) ** 2
            return Shut(part.kind, part.opening_pressure, part.leak, area, riser)
    return Shut("none", 0.0, 0.0, path.narrowest, riser)


def passive_path(
    damper: Shut | None, box: Collector, path: AirPath, mass_flow: float, pressure: float
) -> PassivePath | None:
    """Return the loop while the fan rests, None where a tight damper shuts it then.

    Parameters
    ----------
    damper
        What stands in it; None is a tight one that follows the fan.
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
    closed = _squeeze(damper.leak * damper.area, pressure)
    return PassivePath(
        box_height=box.length * math.sin(math.radians(box.tilt)),
        riser=damper.riser,
        quadratic=square,
        blasius=blasius,
        linear=linear,
        opening_pressure=damper.opening_pressure if damper.kind == "flap" else 0.0,
        extra_forward=closed if damper.kind == "motorised" else 0.0,
        extra_reverse=0.0 if damper.kind == "none" else closed,
    )


def _squeeze(area: float, pressure: float) -> float:
    """Return the loss of air that passes what a shut damper leaves open [Pa s2/kg2]; infinite if nothing."""
    if area == 0.0:
        return math.inf
    density = pressure / (GAS_CONSTANT_DRY_AIR * (ZERO_CELSIUS + 20.0))
    return 1.0 / (2.0 * density * (JET * area) ** 2)
