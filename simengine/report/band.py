"""The band of uncertainty as a person reads it: in the verdict, on the screen and on the page."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from simengine.report import shown
from simengine.report.both import SI, US, Both
from simengine.report.layout import columns, wrapped
from simengine.report.lines import MISSING, currency
from simengine.report.shown import Shown
from simengine.report.words import house_name, printable, sentence

House = Mapping[str, Any]
Summary = Mapping[str, Any]

MOST_DRIVERS = 5
"""Drivers that a screen shows; the page shows all."""

INPUTS = {
    "collector.absorber.perforation.effectiveness": "effectiveness of the absorber",
    "collector.dirt_factor": "light through cover, dirt and frame",
    "collector.leak.flow": "leaks of the box",
    "site.wind_shelter": "wind at the collector",
    "builtin_houses.heat_loss_factor": "heat loss of the house",
    "house.heat_loss_factor": "heat loss of the house",
    "heating.price": "fuel price",
    "site.warmer": "warmer or colder year",
    "site.sun_factor": "sunnier or duller year",
    "site.weather": "weather year",
}
"""What the usual inputs are called in a table."""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the table: what it is, its block, and how a number of it is written."""

    label: str
    block: str
    write: Callable[[float, House, Shown], str]


def _fuel(value: float, house: House, _: Shown) -> str:
    return shown.amount(value, str((house.get("fuel") or {}).get("unit") or ""))


ROWS = (
    Row("Heating saved", "offset_kwh", lambda value, _, units: units.heat(value)),
    Row("Fuel saved", "fuel_saved", _fuel),
    Row("Saved a year, fan paid", "net_saving", lambda value, house, _: shown.money(value, currency(house))),
    Row("Simple payback", "simple_payback_a", lambda value, _, __: shown.years(value)),
)


def band_lines(summary: Summary, units: Shown) -> list[str]:
    """Return the band of a run for a screen; nothing where none was asked for."""
    lines: list[str] = []
    for name, house in summary["houses"].items():
        block = house.get("spread")
        if not block:
            continue
        head = (
            f"{sentence(house_name(name))}, {_counted(block)}: one in ten below, the middle, one in ten above"
        )
        table = columns([[row.label, *_cells(row, house, units)] for row in ROWS])
        told = [f"  {line}" for line in table]
        moving = sorted(block["drivers"], key=lambda one: -abs(one["offset_kwh"] or 0.0))[:MOST_DRIVERS]
        moved = [f"{_input(one)} ({_bar(one['offset_kwh'], one['ordered'])['text']})" for one in moving]
        lines += ["", *wrapped("±", [head]), *told]
        lines += wrapped(" ", [f"Heating saved hangs most on: {', '.join(moved)} (rank correlation)."])
        lines += wrapped("!", _troubles(block))
    return lines


def _cells(row: Row, house: House, units: Shown) -> list[str]:
    block = house["spread"].get(row.block) or {}
    values = [block.get(name) for name in ("p10", "p50", "p90")]
    return [MISSING if value is None else printable(row.write(value, house, units)) for value in values]


def _troubles(block: Mapping[str, Any]) -> list[str]:
    told = []
    if block.get("never_paid_back"):
        told.append(
            f"In {block['never_paid_back']} of {block['members']} years drawn the saving never pays back."
        )
    if block.get("failed"):
        first = block["failures"][0]["reason"] if block["failures"] else ""
        told.append(
            f"{block['failed']} of {block['members']} came to no end; the first: {printable(str(first))}"
        )
    return told


def _counted(block: Mapping[str, Any]) -> str:
    return f"{block['members']} years drawn (seed {block['seed']})"


def _input(driver: Mapping[str, Any]) -> str:
    return INPUTS.get(driver["key"], printable(str(driver["key"])))


def band_view(houses: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Return what the page shows of the band: a table and bars for each house that has one."""
    return [
        {
            "house": sentence(house_name(name)),
            "counted": _counted(house["spread"]),
            "rows": [
                (
                    row.label,
                    [
                        Both(*pair)
                        for pair in zip(_cells(row, house, US), _cells(row, house, SI), strict=True)
                    ],
                )
                for row in ROWS
            ],
            "drivers": [_driver(one) for one in house["spread"]["drivers"]],
            "troubles": _troubles(house["spread"]),
        }
        for name, house in houses.items()
        if house.get("spread")
    ]


def _driver(one: Mapping[str, Any]) -> dict[str, Any]:
    ends = "a choice" if one["p10"] is None else f"{one['p10']} to {one['p90']}"
    return {
        "label": _input(one),
        "ends": printable(ends),
        "heat": _bar(one["offset_kwh"], one["ordered"]),
        "payback": _bar(one["simple_payback_a"], one["ordered"]),
    }


def _bar(value: float | None, ordered: bool) -> dict[str, Any]:
    """Return a bar from the middle to the left or the right, in per cent of the track."""
    if value is None:
        return {"text": MISSING, "left": 50.0, "width": 0.0}
    text = f"{value:+.2f}" if ordered else f"{value:.2f}"
    return {"text": text, "left": 50.0 + min(0.0, 50.0 * value), "width": 50.0 * abs(value)}
