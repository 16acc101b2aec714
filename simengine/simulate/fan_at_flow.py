"""What a flow costs: pressure along the way of the air, and the fan's power at another flow than its own."""

from typing import TYPE_CHECKING

from simengine.errors import InputError
from simengine.simulate.resolve import Resolved, resolve

if TYPE_CHECKING:
    from simengine.scenario import Scenario

GIVEN_FLOW = {
    **dict.fromkeys(("fan.curve", "fan.shut_off_pressure", "fan.free_flow", "fan.efficiency")),
    "fan.power": "1 W",
}
"""What a scenario's fan is changed by so that a flow can be given in the place of its curve."""


def pressure_drop(resolved: Resolved, mass_flow: float) -> float:
    """Return the pressure that the air loses from room to room.

    Parameters
    ----------
    resolved : the scenario; its ducts and the spaces of its collector count
    mass_flow : of the air [kg/s]

    Returns
    -------
    pressure [Pa]: a lower bound, since bends, grilles, dampers, filters and plenums are not in a scenario

    Source: see `airflow.circuit`.
    """
    from simengine.airflow.circuit import loop_pressure  # loads a library of friction factors

    return loop_pressure(resolved.parts.air_path.parts, mass_flow, resolved.pressure)


def fan_power(resolved: Resolved, mass_flow: float) -> float:
    """Return the electric power of the scenario's fan at another flow.

    Parameters
    ----------
    resolved : the scenario, with the fan's flow and power
    mass_flow : of the air [kg/s]

    Returns
    -------
    power [W]

    Source: a fan of the same efficiency on the same loop, P ~ m' dp(m'), which for fittings and ducts is
    about the third power of the flow (fan laws, common practice).
    """
    fan = resolved.parts.fan
    if mass_flow <= 0.0:
        return 0.0
    rated = pressure_drop(resolved, fan.mass_flow) * fan.mass_flow
    if mass_flow == fan.mass_flow or rated <= 0.0:
        return fan.electric_power
    return fan.electric_power * mass_flow * pressure_drop(resolved, mass_flow) / rated


def flow_of(scenario: "Scenario", text: str) -> float:
    """Return a flow as a person writes it, as a mass flow [kg/s].

    Parameters
    ----------
    scenario : a volume flow is meant at its fan, at the pressure of its site
    text : such as "110 cfm", "0.06 kg/s", "3 cfm/ft2"; any zero is no flow

    Raises
    ------
    InputError if it is no flow of air.
    """
    if _is_zero(text):
        return 0.0
    try:
        changed = scenario.changed({"fan.flow": text, **GIVEN_FLOW})
    except InputError as error:
        told = (problem.partition("fan.flow: ")[2] or problem for problem in error.problems)
        raise InputError(*told) from None
    return resolve(changed).parts.fan.mass_flow


def _is_zero(text: str) -> bool:
    head = text.split()[0] if text.split() else ""
    try:
        return float(head) == 0.0
    except ValueError:
        return False
