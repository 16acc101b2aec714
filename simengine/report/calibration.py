"""A house scaled to its fuel bill, for a screen."""

from collections.abc import Mapping, Sequence
from typing import Any

from simengine.report.shown import Shown
from simengine.report.tables import columns, wrapped
from simengine.report.words import house_name, printable, sentence

LOSSES = (
    ("walls, roof, floor", "opaque_conductance"),
    ("windows and doors", "window_conductance"),
    ("change of air", "ventilation_conductance"),
)


def listing(told: Mapping[str, Any], units: Shown) -> str:
    """Return what was found and what was taken for granted.

    Parameters
    ----------
    told : as `simengine calibrate --json` prints it
    units : the unit system to write in

    Returns
    -------
    Lines of text, the factor first.
    """
    found = told["calibration"]
    rows: list[Sequence[str]] = [["losses", "as described", "by the bill"]]
    for label, key in LOSSES:
        pair = (found[f"{key}_before_w_k"], found[f"{key}_w_k"])
        rows.append([f"  {label}", *(units.quantity(value, "conductance") for value in pair)])
    sums = [sum(found[f"{key}{end}"] for _, key in LOSSES) for end in ("_before_w_k", "_w_k")]
    rows.append(["  together", *(units.quantity(value, "conductance") for value in sums)])
    facts = [
        ["heat in the fuel of the bill", units.heat(found["fuel_heat_kwh"])],
        ["need of the rooms by the bill", units.heat(found["space_heat_kwh"])],
        ["need of the scaled house, simulated", units.heat(found["simulated_need_kwh"])],
        ["degree days times its losses, no gains", units.heat(told["degree_day_loss_kwh"])],
        ["heating degree days", units.degree_days(told["hdd18_kd"])],
    ]
    name = sentence(house_name(str(told["house"])))
    first = f"{name}: losses times {found['factor']:.3f} meet the fuel bill in the weather of"
    return "\n".join(
        [
            f"{first} {printable(str(told['weather']))}.",
            "",
            *columns(rows),
            "",
            *columns(facts),
            "",
            "Taken for granted:",
            *wrapped("-", [sentence(str(text)) for text in found["assumptions"]]),
        ]
    )
