"""The houses of a run in a few numbers each, for a screen."""

from collections.abc import Sequence

from simengine.constants import ZERO_CELSIUS
from simengine.house.spec import House
from simengine.report.shown import Shown
from simengine.report.tables import columns
from simengine.report.words import house_name, sentence


def listing(houses: Sequence[House], systems: Sequence[Shown]) -> str:
    """Return what each house is, a column a house and unit system.

    Parameters
    ----------
    houses : the houses of the run
    systems : unit systems to write in, one column each

    Returns
    -------
    Lines of text.
    """
    pairs = [(house, units) for house in houses for units in systems]
    rows: list[Sequence[str]] = [["", *(sentence(house_name(house.name)) for house, _ in pairs)]]
    lines = (
        ("floor area", "floor_area", "area"),
        ("heated volume", "volume", "volume"),
        ("walls, roof, floor", "opaque_conductance", "conductance"),
        ("windows and doors", "window_conductance", "conductance"),
        ("change of air", "ventilation_conductance", "conductance"),
    )
    for label, name, kind in lines:
        rows.append([f"  {label}", *(units.quantity(getattr(house, name), kind) for house, units in pairs)])
    warmest = ["  heated to", *(units.temperature(max(h.setpoint) - ZERO_CELSIUS) for h, units in pairs)]
    return "\n".join(columns([*rows, warmest]))
