"""Turns a test of tightness into the cracks of the box and the pressure that drives air through them."""

from simengine.collector import spec
from simengine.constants import GAS_CONSTANT_DRY_AIR, ZERO_CELSIUS
from simengine.scenario.air_path import AirPath
from simengine.scenario.schema import box

TEST_AIR = ZERO_CELSIUS + 20.0
"""Air in a test of tightness [K] (common practice)."""

PLACES = {"room_side": "before", "hot_side": "after"}
"""Where the fan stands, seen from the box."""


def leak(
    cracks: box.Leak | None, path: AirPath, mass_flow: float, pressure: float, fan_place: str
) -> spec.Leak | None:
    """Return the leak of a box, None where it is tight.

    Parameters
    ----------
    cracks
        As the scenario describes them.
    path
        What the air passes; gives the pressure in the box where the scenario says nothing of it.
    mass_flow
        Of the fan at full speed [kg/s].
    pressure
        Of the site's air [Pa].
    fan_place
        "room_side" or "hot_side".

    Returns
    -------
    simengine.collector.spec.Leak
        Flow at 1 Pa, exponent, and the pressure in the box at full speed, positive where the fan blows.
    """
    if cracks is None:
        return None
    from simengine.airflow.leakage import leak_coefficient  # loads the compiler

    flow = cracks.flow.value
    if cracks.flow.kind == "volume_flow":
        flow *= pressure / (GAS_CONSTANT_DRY_AIR * TEST_AIR)
    driven = cracks.box_pressure
    if driven is None:
        driven = _worked_out(path, mass_flow, pressure, fan_place)
    return spec.Leak(leak_coefficient(flow, cracks.pressure, cracks.exponent), cracks.exponent, driven)


def _worked_out(path: AirPath, mass_flow: float, pressure: float, fan_place: str) -> float:
    from simengine.airflow.circuit import loop_pressure  # loads a library of friction factors
    from simengine.airflow.leakage import box_pressure

    before, box, after = (
        loop_pressure(parts, mass_flow, pressure) for parts in (path.before, path.box, path.after)
    )
    return box_pressure(before, box, after, PLACES[fan_place])
