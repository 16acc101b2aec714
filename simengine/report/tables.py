"""The summary as it stands on a screen: verdict first, then the table, then what to look out for."""

from collections.abc import Mapping, Sequence
from typing import Any

from simengine.report.band import band_lines
from simengine.report.layout import WIDTH, columns, wrapped
from simengine.report.lines import lines_of, notes, reasons
from simengine.report.shown import Shown
from simengine.report.verdict import too_hot, verdict
from simengine.report.weather_years import years_note, years_rows, years_title
from simengine.report.words import house_name, part_name, printable, sentence
from simengine.results.cautions import USUAL

__all__ = ["WIDTH", "columns", "console", "wrapped", "year_table"]

Summary = Mapping[str, Any]

MOST_WARNINGS = 3


def console(summary: Summary, units: Shown) -> str:
    """Return the text of a run for a screen.

    Parameters
    ----------
    summary : content of `summary.json`
    units : the unit system to write in

    Returns
    -------
    Lines of text, the verdict first.
    """
    parts = [
        [verdict(summary, units), ""],
        _heading(summary, units),
        year_table(summary, units),
        wrapped(
            "-",
            [
                *reasons(summary["houses"], screen=True),
                *notes(summary["houses"]),
                *_compared(summary["houses"]),
            ],
        ),
        _weather_years(summary, units),
        band_lines(summary, units),
        _limits(summary, units),
        _warnings(summary),
        _cautions(summary),
    ]
    return "\n".join(line.rstrip() for part in parts for line in part)


def _compared(houses: Mapping[str, Any]) -> list[str]:
    """Return how the two built-in houses' needs compare, where both are there."""
    needs = [houses.get(name, {}).get("heating_without_kwh_m2") for name in ("standard", "low_energy")]
    if None in needs or not needs[0]:
        return []
    return [
        f"The low-energy house needs {needs[1] / needs[0]:.2f} of the standard one's heat per floor area."
    ]


def year_table(summary: Summary, units: Shown) -> list[str]:
    """Return the table of the year, a column a house."""
    houses = summary["houses"]
    rows: list[Sequence[str]] = [["", *(sentence(house_name(name)) for name in houses)]]
    group = ""
    for line in lines_of(houses.values(), screen=True):
        if line.group != group:
            group = line.group
            rows.append([group, *([""] * len(houses))])
        rows.append([f"  {line.label}", *(line.cell(house, units) for house in houses.values())])
    return columns(rows)


def _heading(summary: Summary, units: Shown) -> list[str]:
    weather = summary["weather"]
    title = printable(str(summary["scenario"]["title"]))
    station = printable(str(weather.get("station") or "weather of an unnamed place"))
    aperture = units.area(summary["collector"]["aperture_m2"])
    return [f"{title}: {aperture} aperture, {station}", ""]


def _weather_years(summary: Summary, units: Shown) -> list[str]:
    rows = years_rows(summary, units)
    if not rows:
        return []
    return ["", *wrapped("-", [years_title(summary, units), years_note(summary)]), *columns(rows)]


def _limits(summary: Summary, units: Shown) -> list[str]:
    texts = [
        f"{sentence(part_name(str(limit['part'])))} reaches {units.temperature(limit['hottest_c'])} with the "
        f"fan off, its limit is {units.temperature(limit['limit_c'])} ({limit['hour']})"
        for limit in too_hot(summary)
    ]
    return ["", *wrapped("!", texts)] if texts else []


def _warnings(summary: Summary) -> list[str]:
    warnings = [f"Weather file: {warning}" for warning in summary["weather"].get("warnings", [])]
    more = len(warnings) - MOST_WARNINGS
    if more > 0:
        warnings[MOST_WARNINGS:] = [f"and {more} more about the weather file; the report lists them"]
    return ["", *wrapped("!", warnings)] if warnings else []


def _cautions(summary: Summary) -> list[str]:
    if not summary["cautions"]:
        return []
    special = [caution for caution in summary["cautions"] if caution not in USUAL]
    return [
        *(["", *wrapped("!", special)] if special else []),
        "",
        "An estimate, not an approval: heat, fire, glass, wiring and fumes can hurt. The",
        "report lists the cautions; local code and licensed people decide.",
    ]
