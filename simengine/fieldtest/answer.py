"""What a test tells, as plain numbers and sentences for JSON and for the report."""

from typing import Any

from simengine.constants import ZERO_CELSIUS
from simengine.fieldtest.outcome import FieldTestResult
from simengine.fieldtest.told_apart import sentences

COVERAGE = 2.0
"""Coverage factor of every band [-]: about 95 %."""

CAUTIONS = (
    "A test holds for the day, the wind, the flow and the sun of its log; it certifies nothing.",
    "The bands hold what sensors, weather and held figures may be off by, not what the model's own "
    "relations may "
    "be: respected relations for a cover's still air differ by a third.",
    "Glass, hot sheets, ladders and mains voltage hurt: fit thermometers with the fan off and the sun "
    "off the "
    "glass, keep logger cables out of the air stream, and leave wiring to licensed people. Local code "
    "decides.",
)


def band(quantity: Any) -> dict[str, float]:
    """Return value and band (k = 2) of a quantity with its uncertainty."""
    return {"value": float(quantity.nominal_value), "band": COVERAGE * float(quantity.std_dev)}


def answer(result: FieldTestResult) -> dict[str, Any]:
    """Return what a test tells.

    Parameters
    ----------
    result : of `field_test`

    Returns
    -------
    plain numbers, texts and lists; bands are k = 2
    """
    fit = result.fit
    return {
        "log": result.log.name,
        "date": result.log.date,
        "hours": result.log.hours,
        "step_s": result.log.step,
        "notes": [*result.log.notes, *(fault.sentence for fault in result.faults)],
        "relaxed_limits": result.relaxed,
        "periods": [_period(period) for period in result.periods],
        "line": _line(result),
        "incidence_angle_modifier": _modifier(result),
        "time_constant_s": None if result.time_constant is None else result.time_constant[0],
        "quasi_dynamic": _regression(result),
        "leakage_of_two_flows": None if result.tightness is None else band(result.tightness.share),
        "fit": {
            "factors": {
                name: {"value": fit.values[name], "band": COVERAGE * fit.deviation(name)} for name in fit.told
            },
            "held": dict(fit.held),
            "scatter_k": {name: float(value) for name, value in fit.scatter.items()},
            "blocks": fit.blocks,
            "correlation": _correlations(result),
        },
        "not_told": sentences(fit),
        "hours_of_heat": [
            {"start": h.start, "measured_wh": h.measured, "model_wh": h.model, "fitted_wh": h.fitted}
            for h in result.hours
        ],
        "cautions": list(CAUTIONS),
    }


def _period(period: Any) -> dict[str, Any]:
    return {
        "start": period.start,
        "irradiance_w_m2": band(period.irradiance),
        "ambient_c": float(period.ambient.nominal_value) - ZERO_CELSIUS,
        "inlet_c": float(period.inlet.nominal_value) - ZERO_CELSIUS,
        "outlet_c": float(period.outlet.nominal_value) - ZERO_CELSIUS,
        "mass_flow_kg_s": band(period.mass_flow),
        "gain_w": band(period.gain),
        "efficiency": band(period.efficiency),
        "reduced_temperature": band(period.reduced_temperature),
        "incidence_deg": period.incidence,
    }


def _line(result: FieldTestResult) -> dict[str, Any] | None:
    line = result.line
    if line is None:
        return None
    return {
        "intercept": band(line.intercept),
        "loss_w_m2k": band(line.loss),
        "periods": line.periods,
        "reduced_chi_squared": line.scatter,
    }


def _modifier(result: FieldTestResult) -> dict[str, Any] | None:
    found = result.modifier
    return None if found is None else {"b0": band(found.b0), "from_deg": found.least, "to_deg": found.most}


def _regression(result: FieldTestResult) -> dict[str, Any] | None:
    found = result.regression
    if found is None:
        return None
    return {
        "intercept": band(found.intercept),
        "loss_w_m2k": band(found.loss),
        "capacity_j_m2k": band(found.capacity),
        "b0": None if found.b0 is None else band(found.b0),
        "blocks": found.blocks,
        "rms_w_m2": found.rms,
    }


def _correlations(result: FieldTestResult) -> dict[str, float]:
    told = result.fit.told
    return {
        f"{first}, {second}": result.fit.correlation(first, second)
        for place, first in enumerate(told)
        for second in told[place + 1 :]
    }
