"""A steady operating point, or several side by side, as a person reads them."""

from collections.abc import Mapping, Sequence

from simengine.nomenclature import QUANTITIES
from simengine.report.shown import Shown
from simengine.report.tables import columns
from simengine.report.words import sentence
from simengine.units import KINDS, plain_number, shown_unit, to_unit

Point = Mapping[str, float]

_MORE = {
    "useful_gain": ("heat into the air", "power"),
    "standard_flow": ("the same flow at standard density", "volume_flow"),
    "hottest_absorber_temperature": ("absorber at its hottest", "temperature"),
}
"""Figures of a point that a year does not have: meaning, and kind of quantity."""

_TABLE = ("mass_flow", "efficiency", "useful_gain", "outlet_temperature", "absorber_temperature")
"""Columns of a table over one condition, after that condition itself."""


def listing(point: Point, units: Shown) -> str:
    """Return one operating point as lines of text.

    Parameters
    ----------
    point : figures by name, in SI
    units : the unit system to write in

    Returns
    -------
    A line a figure, stagnation named as such.
    """
    rows = [(sentence(meaning(name)), *written(name, value, units)) for name, value in point.items()]
    width = max(len(row[0]) for row in rows)
    numbers = max(len(row[1]) for row in rows)
    lines = [f"{label.ljust(width)}  {number.rjust(numbers)} {unit}".rstrip() for label, number, unit in rows]
    still = ["Stagnation: no air flows, so this is how hot it gets.", ""] if point["mass_flow"] == 0.0 else []
    return "\n".join([*still, *lines])


def table(points: Sequence[Point], over: str, units: Shown) -> str:
    """Return several operating points as a table, a line a point.

    Parameters
    ----------
    points : figures by name, in SI
    over : name of the figure that differs from point to point
    units : the unit system to write in

    Returns
    -------
    Lines of text, with the units in the second line.
    """
    names = list(dict.fromkeys((over, *_TABLE)))
    kinds = {name: _unit(name, max(abs(point[name]) for point in points), units) for name in names}
    heads = [name.removesuffix("_temperature").replace("_", " ") for name in names]
    rows = [heads, [kinds[name] for name in names]]
    for point in points:
        rows.append([_in_unit(name, point[name], kinds[name]) for name in names])
    return "\n".join(columns(rows))


def meaning(name: str) -> str:
    """Return what a figure means.

    >>> meaning("useful_gain"), meaning("wind_speed")
    ('heat into the air', 'wind at the collector')
    """
    if name in _MORE:
        return _MORE[name][0]
    return QUANTITIES[name].meaning if name in QUANTITIES else name.replace("_", " ")


def written(name: str, value: float, units: Shown) -> tuple[str, str]:
    """Return number and unit of a figure."""
    unit = _unit(name, value, units)
    return _in_unit(name, value, unit), unit.replace("deg", "°") if unit in ("degC", "degF") else unit


def _kind(name: str) -> str:
    if name in _MORE:
        return _MORE[name][1]
    kind = QUANTITIES[name].kind if name in QUANTITIES else ""
    return kind if kind in KINDS else ""


def _unit(name: str, value: float, units: Shown) -> str:
    kind = _kind(name)
    return shown_unit(value, kind, units.system).name if kind else ""


def _in_unit(name: str, value: float, unit: str) -> str:
    number = to_unit(value, _kind(name), unit) if unit else value
    if "temperature" in name:
        return f"{number:.1f}"
    return plain_number(number, 3)
