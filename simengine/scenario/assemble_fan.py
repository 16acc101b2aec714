"""Turns what a scenario says of its fan into the air that it moves, and the power it takes."""

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from simengine.constants import GAS_CONSTANT_DRY_AIR, STANDARD_AIR_DENSITY, ZERO_CELSIUS
from simengine.scenario.air_path import AirPath
from simengine.scenario.schema import air

if TYPE_CHECKING:
    from simengine.airflow.fan_curve import FanCurve

INLET_TEMPERATURES = {"room_side": ZERO_CELSIUS + 20.0, "hot_side": ZERO_CELSIUS + 45.0}
"""Air at a fan that pushes room air, and at one that pulls from the collector [K] (common practice)."""


@dataclass(frozen=True, slots=True)
class Moved:
    """What the fan does at full speed."""

    mass_flow: float  # [kg/s]
    volume_flow: float  # [m3/s] at the fan's inlet
    inlet_temperature: float  # [K]
    electric_power: float  # [W]
    notes: tuple[str, ...] = ()  # what the user should know of the operating point
    curve: "FanCurve | None" = None  # None: the flow is given, and the fan's pressure is not known


def moved(fan: air.Fan, place: str, aperture: float, path: AirPath, pressure: float) -> Moved:
    """Return what the fan moves: its given flow, or where its curve meets the loop.

    Parameters
    ----------
    fan
        As the scenario describes it.
    place
        "room_side" or "hot_side".
    aperture
        Of the collector [m2], for a flow per area.
    path
        What the air passes.
    pressure
        Of the site's air [Pa].

    Returns
    -------
    Moved
        Flow, power and notes.

    Raises
    ------
    RangeError
        Fan and loop do not meet on the fan's curve.
    """
    inlet = INLET_TEMPERATURES[place] if fan.inlet_temperature is None else fan.inlet_temperature
    density = pressure / (GAS_CONSTANT_DRY_AIR * inlet)
    if fan.flow is None:
        return _met(fan, path, inlet, pressure)
    given = fan.flow.value * (aperture if fan.flow.kind in ("volume_flux", "mass_flux") else 1.0)
    mass_flow = given * density if fan.flow.kind in ("volume_flow", "volume_flux") else given
    return Moved(mass_flow, mass_flow / density, inlet, fan.power or 0.0)


def _met(fan: air.Fan, path: AirPath, inlet: float, pressure: float) -> Moved:
    from simengine.airflow.solved_loop import full_speed_point  # loads the compiler

    curve = _curve(fan, pressure / (GAS_CONSTANT_DRY_AIR * inlet))
    point = full_speed_point(curve, path.parts, pressure, inlet)
    return Moved(point.mass_flow, point.volume_flow, inlet, point.electric_power or 0.0, point.notes, curve)


def _curve(fan: air.Fan, density: float) -> "FanCurve":
    """Return the fan at full speed in standard air; a given power is that of every point in its own air."""
    from simengine.airflow.fan_curve import FanCurve, shut_off_curve

    even = None if fan.power is None else fan.power * STANDARD_AIR_DENSITY / density
    if fan.curve is None:
        assert fan.shut_off_pressure is not None and fan.free_flow is not None  # the schema holds this
        drawn = shut_off_curve(fan.shut_off_pressure, fan.free_flow.value, fan.efficiency)
        return drawn if even is None else replace(drawn, power=(even, even))
    flows = tuple(point.flow for point in fan.curve)
    measured = tuple(point.power for point in fan.curve if point.power is not None)
    given = None if even is None else (even,) * len(flows)
    return FanCurve(
        flows,
        tuple(point.pressure for point in fan.curve),
        measured or given,
        fan.efficiency,
        STANDARD_AIR_DENSITY,
    )
