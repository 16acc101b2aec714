"""A field test as a person reads it on a screen."""

from collections.abc import Mapping
from typing import Any

from simengine.constants import ZERO_CELSIUS
from simengine.report.shown import Shown
from simengine.report.tables import columns, wrapped

Answer = Mapping[str, Any]

FACTORS = {
    "cover_transmittance": "sun through the cover",
    "back_loss": "loss of back and edges",
    "effectiveness": "exchange absorber to air",
    "leakage": "leak, share of the flow",
    "duct_loss": "loss of the supply duct",
}


STANDARD_INLETS, STANDARD_POINTS = 4, 16
"""What the test standards ask for (ISO 9806, ASHRAE 93)."""


def listing(found: Answer, units: Shown) -> str:
    """Return the text of a test.

    Parameters
    ----------
    found : what `fieldtest.answer` returns
    units : the unit system to write in
    """
    parts = [
        [_verdict(found), ""],
        _periods(found, units),
        _standard(found, units),
        _fit(found),
        _heat(found),
        wrapped("-", [*found["not_told"], *found["notes"], *found["cautions"]]),
    ]
    return "\n".join(line.rstrip() for part in parts for line in part)


def _verdict(found: Answer) -> str:
    heat = found["hours_of_heat"]
    measured, model = (sum(hour[key] for hour in heat) for key in ("measured_wh", "model_wh"))
    if model <= 0.0:
        return f"Test of {found['date']}: the fan ran too little to hold the model against it."
    share = 100.0 * measured / model
    return (
        f"Test of {found['date']}: in {len(heat)} hours the air took up {measured / 1000.0:.2f} kWh, "
        f"{share:.0f} % of what the scenario promises for that sun."
    )


def _value(found: Mapping[str, float], digits: int, factor: float = 1.0) -> str:
    return f"{factor * found['value']:.{digits}f} ± {factor * found['band']:.{digits}f}"


def _periods(found: Answer, units: Shown) -> list[str]:
    limits = [f"Limits wider than the standards': {', '.join(found['relaxed_limits'])}."]
    told = limits if found["relaxed_limits"] else ["Limits of the test standards (ISO 9806, ASHRAE 93)."]
    if not found["periods"]:
        none = "No steady periods: the log is read by the regression and by the model."
        return [none, *(part for line in told for part in wrapped("-", [line])), ""]
    rows = [["steady period", "sun", "outdoors", "inlet", "outlet", "efficiency (k = 2)"]]
    for period in found["periods"]:
        rows.append(
            [
                period["start"],
                f"{period['irradiance_w_m2']['value']:.0f} W/m²",  # what sun meters show everywhere
                *(_level(period[key], units) for key in ("ambient_c", "inlet_c", "outlet_c")),
                _value(period["efficiency"], 3),
            ]
        )
    told.append(
        f"{len(found['periods'])} points; the standards ask for {STANDARD_POINTS} or more: {STANDARD_INLETS} "
        f"inlet temperatures, {STANDARD_POINTS // STANDARD_INLETS} points at each."
    )
    return [*columns(rows), *(part for line in told for part in wrapped("-", [line])), ""]


def _level(celsius: float, units: Shown) -> str:
    return units.quantity(celsius + ZERO_CELSIUS, "temperature")


def _standard(found: Answer, units: Shown) -> list[str]:
    lines = []
    if found["line"] is not None:
        line = found["line"]
        lines.append(
            f"Line through {line['periods']} periods: F_R(τα) {_value(line['intercept'], 3)}, "
            f"F_R U_L {_value(line['loss_w_m2k'], 2)} W/m2K."
        )
    elif found["periods"]:
        lines.append("No line: the periods lie too close together in (T_i - T_a)/G.")
    if found["quasi_dynamic"] is not None:
        r = found["quasi_dynamic"]
        lines.append(
            f"Regression over {r['blocks']} blocks: intercept {_value(r['intercept'], 3)}, loss "
            f"{_value(r['loss_w_m2k'], 2)} W/m2K, capacity {_value(r['capacity_j_m2k'], 1, 1e-3)} kJ/m2K"
            + (f", b0 {_value(r['b0'], 2)}." if r["b0"] is not None else ".")
        )
    if found["incidence_angle_modifier"] is not None:
        m = found["incidence_angle_modifier"]
        lines.append(
            f"b0 {_value(m['b0'], 2)} from {m['from_deg']:.0f} to {m['to_deg']:.0f} deg of incidence."
        )
    if found["time_constant_s"] is not None:
        lines.append(
            f"Time constant {found['time_constant_s'] / 60.0:.1f} min (63.2 % of a step of the sun)."
        )
    if found["leakage_of_two_flows"] is not None:
        lines.append(f"Leak by the two flows alone: {_value(found['leakage_of_two_flows'], 1, 100.0)} %.")
    return [*(part for line in lines for part in wrapped("-", [line])), ""]


def _fit(found: Answer) -> list[str]:
    rows = [["fitted, as a factor on the scenario's figure", "value (k = 2)"]]
    for name, quantity in found["fit"]["factors"].items():
        rows.append([FACTORS[name], _value(quantity, 3)])
    return [*columns(rows), ""]


def _heat(found: Answer) -> list[str]:
    rows = [["hour", "measured", "scenario", "left over", "fitted", "left over"]]
    for hour in found["hours_of_heat"]:
        measured, model, fitted = (hour[key] for key in ("measured_wh", "model_wh", "fitted_wh"))
        rows.append(
            [
                hour["start"],
                f"{measured:.0f} Wh",
                f"{model:.0f} Wh",
                f"{measured - model:+.0f}",
                f"{fitted:.0f} Wh",
                f"{measured - fitted:+.0f}",
            ]
        )
    return [*columns(rows), ""]
