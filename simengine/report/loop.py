"""What the air passes on its way, part by part, as a person reads it."""

from collections.abc import Mapping, Sequence
from typing import Any

from simengine.report.both import SI, US, Both, both
from simengine.report.shown import Shown
from simengine.report.tables import columns
from simengine.report.words import printable, sentence
from simengine.units import to_unit

Part = Mapping[str, Any]


def listing(parts: Sequence[Part], systems: Sequence[Shown]) -> str:
    """Return the loop as a table for a screen.

    Parameters
    ----------
    parts : "part", "pressure_pa" [Pa] and "velocity_m_s" [m/s] of each
    systems : unit systems to write in, two columns each

    Returns
    -------
    Lines of text; the last one is the sum.
    """
    table: list[Sequence[str]] = [["What the air passes", *("pressure", "velocity") * len(systems)]]
    for part in parts:
        cells = [cell for units in systems for cell in _cells(part, units)]
        table.append([f"  {sentence(printable(str(part['part'])))}", *cells])
    whole = sum(float(part["pressure_pa"]) for part in parts)
    sums = [cell for units in systems for cell in (units.quantity(whole, "pressure"), "")]
    return "\n".join(line.rstrip() for line in columns([*table, ["  Together", *sums]]))


def rows(parts: Sequence[Part]) -> list[tuple[str, Both, Both]]:
    """Return name, pressure and velocity of every part in both unit systems, and their sum."""
    table = []
    for part in parts:
        us, si = _cells(part, US), _cells(part, SI)
        table.append((sentence(printable(str(part["part"]))), Both(us[0], si[0]), Both(us[1], si[1])))
    whole = sum(float(part["pressure_pa"]) for part in parts)
    summed = both(lambda units: units.quantity(whole, "pressure"))
    return [*table, ("Together", summed, Both("", ""))]


def flow_note(facts: Mapping[str, Any], units: Shown) -> str:
    """Return where the flow is from: solved against the fan's curve, or given and not asked of the fan."""
    pressure = units.quantity(float(facts["pressure_pa"]), "pressure")
    flow = units.quantity(float(facts["volume_flow_m3_s"]), "volume_flow")
    if facts["flow_from"] == "fan curve":
        return f"The fan's curve meets the loop at {flow} and {pressure}."
    return (
        f"The flow of {flow} is given; the fan has no curve here, so nothing says whether it holds that flow "
        f"against {pressure}."
    )


def costliest(parts: Sequence[Part]) -> str:
    """Return the name of the part that costs most, empty where there is none."""
    if not parts:
        return ""
    return printable(str(max(parts, key=lambda part: float(part["pressure_pa"]))["part"]))


def _cells(part: Part, units: Shown) -> tuple[str, str]:
    pressure = units.quantity(float(part["pressure_pa"]), "pressure")
    velocity = float(part["velocity_m_s"])
    if units.system == "us":  # the trade counts air in ducts by the minute
        return pressure, f"{to_unit(velocity, 'speed', 'fpm'):.0f} ft/min"
    return pressure, f"{velocity:.1f} m/s"
