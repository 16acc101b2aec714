"""One page to read: a single HTML file that needs no network and no other file."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

import jinja2
import markupsafe

from simengine.report import figures, loop, shown
from simengine.report.axis import Axis
from simengine.report.band import band_view
from simengine.report.both import Both, both
from simengine.report.hottest import DESIGN_AIR, limit_rows, limits_title, temperature
from simengine.report.lines import LINES, Line, lines_of, notes, reasons
from simengine.report.money_tables import money_tables
from simengine.report.pictures import pictures
from simengine.report.prices import prices, script, script_digest
from simengine.report.verdict import verdict
from simengine.report.weather_facts import weather_facts
from simengine.report.weather_years import years_block
from simengine.report.words import house_name, printable, sentence
from simengine.units import System

Summary = Mapping[str, Any]

ABOUT = (("client", "for"), ("author", "by"), ("date", "on"))
MONTH_COLUMNS = (
    ("Sun on the aperture", "incident_kwh"),
    ("Brought in", "delivered_kwh"),
    ("Need without", "heating_without_kwh"),
    ("Heating saved", "offset_kwh"),
)


HEAD = ("title", "notes", "client", "author", "date")
GLANCE = ("offset_kwh", "saved", "net_saving", "simple_payback_a")
"""What the first screen shows of each house: heat, fuel, money, years."""

Hours = Mapping[Any, Any]
"""A dataset, or anything else that gives an array for the name of a quantity."""


def page(summary: Summary, system: System | None = None, hours: Hours | None = None) -> str:
    """Return the whole page of a run.

    Parameters
    ----------
    summary : content of `summary.json`
    system : the unit system that is shown first; the scenario's own if None
    hours : the run's dataset of hours; without it the page has no pictures of the hours

    Returns
    -------
    HTML text, complete in itself; everything that came from files is escaped.
    """
    aperture = float(summary["collector"]["aperture_m2"])
    view = _view(summary) | {
        "system": system or shown.preferred(summary),
        "drawn": None if hours is None else pictures(hours, aperture),
        "prices": prices(summary["houses"]),
        "script": markupsafe.Markup(script()),  # our own file, and the policy names its digest
        "script_digest": script_digest(),
    }
    return templates().get_template("page.html").render(**view)


def fragment(summary: Summary) -> str:
    """Return the verdict and the table of the year for a notebook."""
    return templates().get_template("fragment.html").render(**_view(summary), system=shown.preferred(summary))


@cache
def templates() -> jinja2.Environment:
    """Return the templates of every page; what they are given is escaped."""
    folder = Path(__file__).parent / "templates"
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(folder),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=jinja2.StrictUndefined,
    )


def _view(summary: Summary) -> dict[str, Any]:
    houses, about = summary["houses"], summary["scenario"]
    facts = summary["collector"].get("loop", {})
    passed = facts.get("parts", [])
    return {
        "title": printable(str(summary["scenario"]["title"])),
        "about": [(word, printable(str(about[key]))) for key, word in ABOUT if about.get(key)],
        "remarks": printable(str(about.get("notes", ""))),
        "glance": [(sentence(house_name(name)), _glance(house)) for name, house in houses.items()],
        "verdict": both(lambda units: verdict(summary, units)),
        "facts": _facts(summary),
        "bands": band_view(houses),
        "houses": [sentence(house_name(name)) for name in houses],
        "groups": _groups(houses),
        "reasons": [*reasons(houses), *notes(houses)],
        "money": money_tables(houses),
        "ledgers": [
            (sentence(house_name(name)), _ledger(house), _not_burnt(house)) for name, house in houses.items()
        ],
        "years": [(sentence(house_name(name)), *_months(house)) for name, house in houses.items()],
        "months_title": _months_title(houses),
        "month_columns": [label for label, _ in MONTH_COLUMNS],
        "month_names": figures.MONTH_NAMES,
        "loop": loop.rows(passed) if passed else [],
        "costliest": loop.costliest(passed),
        "weather_years": years_block(summary),
        "flow_note": both(lambda units: loop.flow_note(facts, units)) if passed else None,
        "limits": limit_rows(summary),
        "design": temperature(DESIGN_AIR),
        "limits_title": limits_title(summary),
        "weather": weather_facts(summary["weather"]),
        "warnings": summary["weather"].get("warnings", []),
        "cautions": summary["cautions"],
        "inputs": _inputs(summary),
        "origin": _origin(summary),
    }


def _facts(summary: Summary) -> Both:
    station = printable(str(summary["weather"].get("station") or "an unnamed place"))
    area = summary["collector"]["aperture_m2"]
    return both(lambda units: f"{units.area(area)} of aperture, weather of {station}")


def _glance(house: Mapping[str, Any]) -> list[tuple[str, Both]]:
    lines = [line for line in LINES if line.key in GLANCE]
    return [(line.label, _cell(line, house)) for line in lines]


def _groups(houses: Mapping[str, Any]) -> list[tuple[str, list[tuple[str, str, list[Both]]]]]:
    groups: dict[str, list[tuple[str, str, list[Both]]]] = {}
    for line in lines_of(houses.values()):
        cells = [_cell(line, house) for house in houses.values()]
        groups.setdefault(line.group, []).append((line.label, line.meaning, cells))
    return list(groups.items())


def _cell(line: Line, house: Mapping[str, Any]) -> Both:
    return both(lambda units: line.cell(house, units))


def _heat(kwh: float) -> Both:
    return both(lambda units: units.heat(kwh))


def _ledger(house: Mapping[str, Any]) -> list[tuple[figures.Bar, Both, str]]:
    sun = house["incident_kwh"]
    return [
        (bar, _heat(bar.kwh), shown.share(bar.kwh / sun) if sun > 0.0 else "")
        for bar in figures.ledger(house)
    ]


def _not_burnt(house: Mapping[str, Any]) -> str:
    """Return the last step of the ledger: the fuel that the heating saved leaves unburnt."""
    fuel = house.get("fuel") or {}
    if fuel.get("saved") is None or not fuel.get("name"):
        return ""
    saved = shown.amount(float(fuel["saved"]), str(fuel.get("unit") or ""))
    return printable(f"Heating saved leaves {saved} of {fuel['name']} unburnt.")


def _months(house: Mapping[str, Any]) -> tuple[list[figures.Column], list[tuple[str, list[Both], str]], Axis]:
    rows = [
        (name, [_heat(month[key]) for _, key in MONTH_COLUMNS], shown.whole(month["fan_hours"]))
        for name, month in zip(figures.MONTH_NAMES, house["months"], strict=True)
    ]
    return figures.months(house, height=100.0), rows, figures.months_axis(house)


def _months_title(houses: Mapping[str, Any]) -> str:
    best = []
    for name, house in houses.items():
        saved = [month["offset_kwh"] for month in house["months"]]
        best.append(f"the {house_name(name)} most in {figures.MONTH_NAMES[saved.index(max(saved))]}")
    return f"Heating saved month by month: {', '.join(best)}"


def _inputs(summary: Summary) -> list[tuple[str, list[tuple[str, Both]]]]:
    groups: dict[str, list[tuple[str, Both]]] = {}
    for row in summary.get("inputs", []):
        if row["group"] in ("", "scenario") and row["name"] in HEAD:
            continue  # told at the head of the page
        groups.setdefault(row["group"], []).append((row["name"], Both(row["us"], row["si"])))
    return list(groups.items())


def _origin(summary: Summary) -> list[tuple[str, str]]:
    program = summary["program"]
    closure = summary["closure"]
    rows = [
        ("Program", f"{program['name']} {program['version']}"),
        ("Digest of the program", program.get("sha256")),
        ("Digest of the scenario", summary["scenario"]["sha256"]),
        ("Digest of the weather file", summary["weather"]["sha256"]),
        ("The run", summary["collector"]["end_reason"]),
        *(
            (f"Energy balance left open, {name.replace('_', ' ')}", _share(value))
            for name, value in closure.items()
        ),
    ]
    return [(label, str(value)) for label, value in rows if value is not None]


def _share(value: Any) -> str | None:
    return f"{value:.1e} of the sums" if isinstance(value, float) else None
