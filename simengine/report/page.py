"""One page to read: a single HTML file that needs no network, no script and no other file."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import jinja2

from simengine.report import figures, shown
from simengine.report.lines import LINES, notes, reasons
from simengine.report.shown import Shown
from simengine.report.verdict import too_hot, verdict
from simengine.report.words import house_name, part_name, printable, sentence
from simengine.units import System

Summary = Mapping[str, Any]

US, SI = Shown("us"), Shown("si")
MONTH_COLUMNS = (
    ("Sun on the aperture", "incident_kwh"),
    ("Brought in", "delivered_kwh"),
    ("Need without", "heating_without_kwh"),
    ("Heating saved", "offset_kwh"),
)


@dataclass(frozen=True, slots=True)
class Both:
    """A text in both unit systems; the page shows the one that its reader picks."""

    us: str
    si: str


def page(summary: Summary, system: System | None = None) -> str:
    """Return the whole page of a run.

    Parameters
    ----------
    summary : content of `summary.json`
    system : the unit system that is shown first; the scenario's own if None

    Returns
    -------
    HTML text, complete in itself; everything that came from files is escaped.
    """
    return (
        _templates()
        .get_template("page.html")
        .render(**_view(summary), system=system or shown.preferred(summary))
    )


def fragment(summary: Summary) -> str:
    """Return the verdict and the table of the year for a notebook."""
    return (
        _templates().get_template("fragment.html").render(**_view(summary), system=shown.preferred(summary))
    )


@cache
def _templates() -> jinja2.Environment:
    folder = Path(__file__).parent / "templates"
    return jinja2.Environment(
        loader=jinja2.FileSystemLoader(folder),
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        undefined=jinja2.StrictUndefined,
    )


def _view(summary: Summary) -> dict[str, Any]:
    houses = summary["houses"]
    return {
        "title": printable(str(summary["scenario"]["title"])),
        "verdict": Both(verdict(summary, US), verdict(summary, SI)),
        "facts": _facts(summary),
        "houses": [sentence(house_name(name)) for name in houses],
        "groups": _groups(houses),
        "reasons": [*reasons(houses), *notes(houses)],
        "ledgers": [(sentence(house_name(name)), _ledger(house)) for name, house in houses.items()],
        "years": [(sentence(house_name(name)), *_months(house)) for name, house in houses.items()],
        "tallest": [_heat(_tallest(house)) for house in houses.values()],
        "month_columns": [label for label, _ in MONTH_COLUMNS],
        "month_names": figures.MONTH_NAMES,
        "limits": _limits(summary),
        "weather": _weather(summary["weather"]),
        "warnings": summary["weather"].get("warnings", []),
        "cautions": summary["cautions"],
        "inputs": _inputs(summary),
        "origin": _origin(summary),
    }


def _facts(summary: Summary) -> Both:
    station = printable(str(summary["weather"].get("station") or "an unnamed place"))
    area = summary["collector"]["aperture_m2"]
    texts = [f"{units.area(area)} of aperture, weather of {station}" for units in (US, SI)]
    return Both(*texts)


def _groups(houses: Mapping[str, Any]) -> list[tuple[str, list[tuple[str, str, list[Both]]]]]:
    groups: dict[str, list[tuple[str, str, list[Both]]]] = {}
    for line in LINES:
        cells = [Both(line.cell(house, US), line.cell(house, SI)) for house in houses.values()]
        groups.setdefault(line.group, []).append((line.label, line.meaning, cells))
    return list(groups.items())


def _heat(kwh: float) -> Both:
    return Both(US.heat(kwh), SI.heat(kwh))


def _ledger(house: Mapping[str, Any]) -> list[tuple[figures.Bar, Both, str]]:
    sun = house["incident_kwh"]
    return [
        (bar, _heat(bar.kwh), shown.share(bar.kwh / sun) if sun > 0.0 else "")
        for bar in figures.ledger(house)
    ]


def _months(house: Mapping[str, Any]) -> tuple[list[figures.Column], list[tuple[str, list[Both], str]]]:
    rows = [
        (name, [_heat(month[key]) for _, key in MONTH_COLUMNS], shown.whole(month["fan_hours"]))
        for name, month in zip(figures.MONTH_NAMES, house["months"], strict=True)
    ]
    return figures.months(house), rows


def _tallest(house: Mapping[str, Any]) -> float:
    """Return the largest amount of heat among the bars of the months [kWh]."""
    return float(max(max(month["delivered_kwh"], month["offset_kwh"]) for month in house["months"]))


def _limits(summary: Summary) -> list[dict[str, Any]]:
    hot = too_hot(summary)
    return [
        {
            "part": part_name(str(limit["part"])),
            "hottest": _temperature(limit.get("hottest_c")),
            "limit": _temperature(limit.get("limit_c")),
            "hour": str(limit.get("hour") or ""),
            "hot": limit in hot,
        }
        for limit in summary["limits"]
    ]


def _temperature(celsius: float | None) -> Both:
    if celsius is None:
        return Both("–", "–")
    return Both(US.temperature(celsius), SI.temperature(celsius))


def _weather(weather: Mapping[str, Any]) -> list[tuple[str, Both]]:
    """Return the facts of the weather that are known, each with its label."""
    height = weather.get("elevation_m")
    plain = {
        "Latitude": _number(weather.get("latitude"), "{:.2f}°"),
        "Longitude": _number(weather.get("longitude"), "{:.2f}°"),
        "Heating degree days": _degree_days(weather.get("hdd18_kd")),
        "Sun on a horizontal plane": _number(weather.get("ghi_kwh_m2"), "{:.0f} kWh/m² a year"),
        "Misfit of the file's three sun columns": _number(weather.get("closure_rmse_w_m2"), "{:.1f} W/m²"),
        "Shift of its time labels": _number(weather.get("closure_shift_h"), "{:+.2f} h"),
        "Elevation": None if height is None else Both(US.quantity(height, "length"), f"{height:.0f} m"),
    }
    return [(label, text) for label, text in plain.items() if text is not None]


def _number(value: float | None, form: str) -> Both | None:
    return None if value is None else Both(form.format(value), form.format(value))


def _degree_days(kelvin_days: float | None) -> Both | None:
    if kelvin_days is None:
        return None
    return Both(US.degree_days(kelvin_days), SI.degree_days(kelvin_days))


def _inputs(summary: Summary) -> list[tuple[str, list[tuple[str, Both]]]]:
    groups: dict[str, list[tuple[str, Both]]] = {}
    for row in summary.get("inputs", []):
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
        *((f"Energy balance left open, {name}", _share(value)) for name, value in closure.items()),
    ]
    return [(label, str(value)) for label, value in rows if value is not None]


def _share(value: Any) -> str | None:
    return f"{value:.1e} of the sums" if isinstance(value, float) else None
