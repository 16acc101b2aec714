"""What a sweep found, on a screen: the best members, the front of cost against heat, what each key does."""

from collections.abc import Mapping, Sequence
from typing import Any

from simengine.report.layout import columns, wrapped
from simengine.report.measures import measure_name, measure_text, value_text
from simengine.report.shown import Shown
from simengine.report.words import house_name, printable, sentence

MOST_FRONT = 12


def sweep_text(found: Mapping[str, Any], units: Shown) -> str:
    """Return the text of a finished sweep.

    Parameters
    ----------
    found : what `findings` returns
    units : the unit system to write in
    """
    head = f"{printable(found['title'])}: {found['members']} members, {sentence(house_name(found['house']))}"
    measure = found["measure"]
    name = measure_name(measure).lower()
    lines = [head, "", f"Best by {name} ({measure})", *_table(found["best"], found, units)]
    if len(found["front"]) > 1:
        lines += ["", "Cost against heat: none is both cheaper and better than these"]
        lines += _table(found["front"][:MOST_FRONT], found, units)
    lines += ["", f"What each key does to {name} by itself (mean over the others)"]
    for effect in found["effects"]:
        pairs = [
            (_input(effect["key"], one["value"], found, units), _number(measure, one["mean"], found, units))
            for one in effect["levels"]
        ]
        levels = ", ".join(f"{value}: {mean}" for value, mean in pairs)
        lines += wrapped("-", [f"{effect['key']}: {levels}"])
    if found["failed"]:
        members = "1 member" if found["failed"] == 1 else f"{found['failed']} members"
        lines += ["", *wrapped("!", [f"{members} failed; the first: {found['first_failure']}"])]
    hot = sum(1 for one in found["best"] if (one["limit_margin_k"] or 0.0) < 0.0)
    if hot:
        lines += wrapped("!", [f"In {hot} of the best a part passes its temperature limit with the fan off."])
    return "\n".join(line.rstrip() for line in lines)


def _table(rows: Sequence[Mapping[str, Any]], found: Mapping[str, Any], units: Shown) -> list[str]:
    if not rows:
        return ["  none has a number"]
    names = dict.fromkeys((found["measure"], "offset_kwh", "first_cost", "simple_payback_a"))
    keys = list(rows[0]["inputs"])
    cells = [["  member", *map(measure_name, names), *keys]]
    for row in rows:
        numbers = [_number(name, row[name], found, units) for name in names]
        inputs = [_input(key, row["inputs"][key], found, units) for key in keys]
        cells.append([f"  {row['member']}", *numbers, *inputs])
    return columns(cells)


def _number(name: str, value: float | None, found: Mapping[str, Any], units: Shown) -> str:
    return measure_text(name, value, found["currency"], units)


def _input(key: str, value: Any, found: Mapping[str, Any], units: Shown) -> str:
    if isinstance(value, str) or value is None:
        return printable(str(value))
    unit = next((one["unit"] for one in found["effects"] if one["key"] == key), "")
    return value_text(value, "" if unit == "1" else unit, units)
