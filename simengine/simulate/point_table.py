"""Steady operating points side by side, and what the test standards read from them."""

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING, Any

import numpy as np

from simengine.airflow.loop import given_flow_loop
from simengine.airflow.spec import Fan
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table
from simengine.errors import InputError
from simengine.simulate.forcing import absorbed_rows
from simengine.simulate.notes import build_cautions
from simengine.simulate.operating_point import Conditions, Solved, figures, solve
from simengine.simulate.resolve import Resolved, resolve
from simengine.simulate.time_constant import time_constant

if TYPE_CHECKING:
    from simengine.scenario import Scenario

STEPS: dict[str, tuple[float, ...]] = {
    "irradiance": (100.0, 200.0, 400.0, 600.0, 800.0, 1000.0),  # [W/m2]
    "incidence": (0.0, 15.0, 30.0, 45.0, 60.0, 75.0),  # [deg]
    "ambient": (253.15, 263.15, 273.15, 283.15, 293.15),  # [K]
    "inlet": (0.0, 10.0, 20.0, 30.0, 40.0),  # [K] above the outdoor air
    "flow": (0.0, 0.25, 0.5, 0.75, 1.0, 1.25, 1.5, 2.0),  # [-] of the scenario's own flow
    "wind": (0.0, 1.0, 2.0, 4.0, 6.0, 10.0),  # [m/s]
}
"""Steps of a table over a condition."""

TESTED = ("inlet", "incidence")
"""Tables that are read as a test."""

STEEPEST = 60.0
"""Largest angle that counts in b0 [deg]: the relation is a straight line in 1/cos(theta) - 1 up to there."""

Figures = dict[str, float]


def point_table(scenario: "Scenario", over: str, conditions: Conditions) -> dict[str, Any]:
    """Return steady points over one condition.

    Parameters
    ----------
    scenario : the checked scenario
    over : a key of `STEPS`
    conditions : the others, held

    Returns
    -------
    "over": the condition; "points": figures of each, as `point` gives them, with what belongs to the table:
    `reduced_difference` (T_i - T_a)/G [K m2/W] over the inlet, `incidence_modifier` [-] over the incidence;
    "own_flow": of the scenario's fan [kg/s]; "cautions" of this build;
    "fit": what the test standards read from the points, empty where they read nothing

    Raises
    ------
    as `point`; InputError if there is nothing to read a fit from
    """
    if over in TESTED and (conditions.irradiance <= 0.0 or conditions.flow == 0.0):
        raise InputError(f"a table over {over}: without sun or flow there is nothing to test; accepted: both")
    resolved = resolve(scenario)
    made = TABLES.get(over, _plain)(resolved, over, conditions)
    own = {"over": over, "own_flow": resolved.parts.fan.mass_flow}
    return {**own, **made, "cautions": build_cautions(resolved)}


def as_in_a_test(conditions: Conditions) -> Conditions:
    """Return the conditions of a test: a sky as warm as the air where nothing is said of it."""
    return replace(conditions, sky=conditions.ambient if conditions.sky is None else conditions.sky)


def line_fit(points: list[Figures]) -> dict[str, float]:
    """Return the straight line through efficiencies over (T_i - T_a)/G.

    Parameters
    ----------
    points : at least two, with `efficiency` and `reduced_difference`

    Returns
    -------
    `heat_removal_optical` F_R (tau alpha) [-], `heat_removal_loss` F_R U_L [W/m2K], and the largest distance
    of a point from the line, `line_error` [-]

    Source: least squares, eta = F_R (tau alpha) - F_R U_L (T_i - T_a)/G (ASHRAE 93, from memory).

    >>> fit = line_fit([{"reduced_difference": x, "efficiency": 0.6 - 5.0 * x} for x in (0.0, 0.02, 0.04)])
    >>> round(fit["heat_removal_optical"], 9), round(fit["heat_removal_loss"], 9)
    (0.6, 5.0)
    """
    x = np.array([point["reduced_difference"] for point in points])
    eta = np.array([point["efficiency"] for point in points])
    slope, start = np.polyfit(x, eta, 1)
    return {
        "heat_removal_optical": float(start),
        "heat_removal_loss": float(-slope),
        "line_error": float(np.abs(eta - start - slope * x).max()),
    }


def modifier_fit(points: list[Figures]) -> dict[str, float]:
    """Return b0 of the incidence-angle modifier K = 1 - b0 (1/cos(theta) - 1).

    Parameters
    ----------
    points : with `incidence_angle` [deg] and `incidence_modifier` [-]

    Returns
    -------
    `incidence_b0` [-], from the angles up to 60 deg

    Source: least squares through K(0) = 1 (ASHRAE 93, from memory).

    >>> modifier_fit([{"incidence_angle": 60.0, "incidence_modifier": 0.9}])  # K(60) = 1 - b0
    {'incidence_b0': 0.1}
    """
    used = [point for point in points if 0.0 < point["incidence_angle"] <= STEEPEST + 1e-9]
    x = np.array([1.0 / np.cos(np.radians(point["incidence_angle"])) - 1.0 for point in used])
    lost = np.array([1.0 - point["incidence_modifier"] for point in used])
    return {"incidence_b0": round(float(x @ lost / (x @ x)), 12)}


def settling(resolved: Resolved, conditions: Conditions) -> dict[str, float | None]:
    """Return the time constant [s] of the collector itself, without ducts and leaks, its inlet at ambient."""
    collector = replace(resolved.parts.collector, leak=None)
    at = replace(conditions, inlet=conditions.ambient)
    found: Solved = solve(resolved, at)
    loop = given_flow_loop(Fan(found.steady.mass_flow, 0.0))
    return {
        "time_constant": time_constant(
            build_network(collector, resolved.pressure),
            build_flow_table(collector, loop, resolved.pressure),
            found.weather,
            absorbed_rows(found.sun)[0],
            at.inlet,
        )
    }


def _plain(resolved: Resolved, over: str, conditions: Conditions) -> dict[str, Any]:
    points = [figures(resolved, replace(conditions, **{over: step})) for step in STEPS[over]]
    return {"points": points, "fit": {}}


def _flow(resolved: Resolved, over: str, conditions: Conditions) -> dict[str, Any]:
    own = resolved.parts.fan.mass_flow if not conditions.flow else conditions.flow
    points = [figures(resolved, replace(conditions, flow=share * own)) for share in STEPS[over]]
    return {"points": points, "fit": {}, "own_flow": own}


def _incidence(resolved: Resolved, over: str, conditions: Conditions) -> dict[str, Any]:
    fixed = replace(as_in_a_test(conditions), inlet=conditions.ambient)
    points = [figures(resolved, replace(fixed, incidence=angle)) for angle in STEPS[over]]
    for one in points:
        one["incidence_modifier"] = one["efficiency"] / points[0]["efficiency"]
    return {"points": points, "fit": modifier_fit(points)}


def _inlet(resolved: Resolved, over: str, conditions: Conditions) -> dict[str, Any]:
    fixed = as_in_a_test(conditions)
    points = []
    for above in STEPS[over]:
        one = figures(resolved, replace(fixed, inlet=fixed.ambient + above))
        one["reduced_difference"] = above / fixed.irradiance
        points.append(one)
    slanted = _incidence(resolved, "incidence", replace(fixed, incidence=0.0))["fit"]
    return {"points": points, "fit": {**line_fit(points), **slanted, **settling(resolved, fixed)}}


TABLES: dict[str, Callable[[Resolved, str, Conditions], dict[str, Any]]] = {
    "flow": _flow,
    "inlet": _inlet,
    "incidence": _incidence,
}
"""Conditions whose table is made otherwise than by setting them."""
