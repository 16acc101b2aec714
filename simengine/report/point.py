"""A steady operating point, or several side by side, as a person reads them."""

from collections.abc import Mapping, Sequence
from typing import Any

from simengine.nomenclature import QUANTITIES
from simengine.report.shown import Shown
from simengine.report.tables import columns
from simengine.report.words import part_name, printable, sentence
from simengine.units import KINDS, plain_number, shown_unit, to_unit

Point = Mapping[str, float]

BOTH = (Shown("si"), Shown("us"))
"""Both unit systems, metric first."""

_MORE = {
    "irradiance": ("sun on the collector plane", "irradiance"),
    "efficiency": ("efficiency: heat into the air over sun on the aperture", "fraction"),
    "useful_gain": ("heat into the air", "power"),
    "standard_flow": ("the same flow at standard density", "volume_flow"),
    "temperature_rise": ("rise of the air", "temperature_difference"),
    "hottest_absorber_temperature": ("absorber at its hottest", "temperature"),
    "pressure_drop": ("pressure lost on the way of the air", "pressure"),
    "net_heat_per_fan_watt": ("heat into the air less the fan's watts, over the fan's watts", "fraction"),
    "reduced_difference": ("(T_i - T_a)/G", "thermal_resistance"),
    "incidence_modifier": ("efficiency over that at normal incidence", "fraction"),
    "g_value": ("solar factor g, EN 410", "fraction"),
    "u_value": ("thermal transmittance U, upright, EN 673", "u_value"),
    "solar_transmittance": ("sun that passes straight through", "fraction"),
    "solar_reflectance": ("sun that is thrown back", "fraction"),
}
"""Figures that a year does not have, or means otherwise: meaning, and kind of quantity."""

_TABLE = ("mass_flow", "efficiency", "useful_gain", "outlet_temperature", "absorber_temperature")
"""Columns of a table over one condition, after that condition itself."""

_TABLES = {
    "mass_flow": (
        "efficiency",
        "useful_gain",
        "outlet_temperature",
        "temperature_rise",
        "absorber_temperature",
        "pressure_drop",
        "fan_power",
        "net_heat_per_fan_watt",
    ),
    "inlet_temperature": (
        "reduced_difference",
        "efficiency",
        "useful_gain",
        "outlet_temperature",
        "absorber_temperature",
    ),
    "incidence_angle": ("incidence_modifier", *_TABLE),
}
"""The same where a table has columns of its own."""

_HEADS = {
    "net_heat_per_fan_watt": "net W/fan W",
    "reduced_difference": "(Ti-Ta)/G",
    "incidence_modifier": "K",
    "temperature_rise": "rise",
    "pressure_drop": "pressure",
    "mass_flow": "flow",
}
_HELD = (
    "irradiance",
    "incidence_angle",
    "ambient_temperature",
    "sky_temperature",
    "inlet_temperature",
    "mass_flow",
    "wind_speed",
)
MISSING = "–"


def listing(point: Point, units: Sequence[Shown] = BOTH) -> str:
    """Return one operating point as lines of text.

    Parameters
    ----------
    point : figures by name, in SI
    units : the unit systems to write in, a pair of columns each

    Returns
    -------
    A line a figure, stagnation named as such.
    """
    still = ["Stagnation: no air flows, so this is how hot it gets.", ""] if point["mass_flow"] == 0.0 else []
    return "\n".join([*still, *_lines(point, units)])


def cover(label: Point | None, units: Sequence[Shown] = BOTH) -> str:
    """Return how the standards rate the cover, to be held against its label."""
    if label is None:
        return "There is no cover."
    return "\n".join(["The cover, to hold against its label:", *_lines(label, units)])


def _lines(figures: Point, units: Sequence[Shown]) -> list[str]:
    rows = []
    for name, value in figures.items():
        cells = [written(name, value, system) for system in units]
        told = cells[:1] if len(set(cells)) == 1 else cells
        rows.append([sentence(meaning(name)), *(" ".join(cell).rstrip() for cell in told)])
    label = max(len(row[0]) for row in rows)
    first = max(len(row[1]) for row in rows)
    return [
        "  ".join([row[0].ljust(label), *(cell.rjust(first) for cell in row[1:])]).rstrip() for row in rows
    ]


def hottest(parts: Sequence[Mapping[str, Any]], units: Sequence[Shown] = BOTH) -> str:
    """Return every part at its hottest beside what its material bears, those too hot marked.

    Parameters
    ----------
    parts : rows of part, hottest_c, limit_c, exceeded
    units : the unit systems to write in

    Returns
    -------
    Lines of text, the part nearest to its limit first.
    """
    rows = [["hottest parts", *("" for _ in units), "bears", *("" for _ in units[1:]), ""]]
    for part in parts:
        hot = [system.temperature(part["hottest_c"]) for system in units]
        limit = [system.temperature(part["limit_c"]) for system in units]
        mark = "TOO HOT" if part["exceeded"] else ""
        rows.append([f"  {sentence(part_name(str(part['part'])))}", *hot, *limit, mark])
    return "\n".join(columns(rows))


def held(point: Point, over: str, units: Shown) -> str:
    """Return in words the conditions that a table holds.

    Parameters
    ----------
    point : any of the table
    over : name of the figure that differs from point to point
    units : the unit system to write in
    """
    told = [
        f"{meaning(name)} {' '.join(written(name, point[name], units)).rstrip()}"
        for name in _HELD
        if name in point and name != over
    ]
    return f"Held: {', '.join(told)}."


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
    wanted = dict.fromkeys((over, *_TABLES.get(over, _TABLE)))
    names = [name for name in wanted if any(name in point for point in points)]
    sizes = {name: max(abs(point.get(name, 0.0)) for point in points) for name in names}
    kinds = {name: _unit(name, sizes[name], units) for name in names}
    heads = [_HEADS.get(name, name.removesuffix("_temperature").replace("_", " ")) for name in names]
    rows = [heads, [_spelt(kinds[name]) for name in names]]
    for point in points:
        rows.append([_cell(name, point, kinds[name]) for name in names])
    return "\n".join(columns(rows))


def _cell(name: str, point: Point, unit: str) -> str:
    return _in_unit(name, point[name], unit) if name in point else MISSING


def meaning(name: str) -> str:
    """Return what a figure means.

    >>> meaning("useful_gain"), meaning("wind_speed")
    ('heat into the air', 'wind at the collector')
    """
    if name in _MORE:
        return _MORE[name][0]
    return QUANTITIES[name].meaning if name in QUANTITIES else printable(name.replace("_", " "))


def written(name: str, value: float, units: Shown) -> tuple[str, str]:
    """Return number and unit of a figure.

    Parameters
    ----------
    name : of the figure in the nomenclature
    value : [SI unit of that figure]
    units : the system to write in
    """
    unit = _unit(name, value, units)
    return _in_unit(name, value, unit), _spelt(unit)


def _spelt(unit: str) -> str:
    return {"degC": "°C", "degF": "°F", "deg": "°"}.get(unit, unit)


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
