"""The years of several weathers side by side: a row a year, then the least, the mean and the most."""

from collections.abc import Mapping, Sequence
from typing import Any

from simengine.report.both import SI, US, Both, both
from simengine.report.shown import Shown
from simengine.report.words import house_name, printable, sentence

Summary = Mapping[str, Any]

ENDS = (("least", "min"), ("mean", "mean"), ("most", "max"))
WIDEST = 24
"""Letters of a weather's name in the table."""


def years_title(summary: Summary, units: Shown) -> str:
    """Return what the years show, one sentence for each house; empty where there is one year only."""
    block = summary.get("weather_years")
    if not block:
        return ""
    told = []
    for name, spread in block["spread"].items():
        saved = spread["offset_kwh"]
        low, mean, high = (units.heat(saved[end]) for _, end in (ENDS[0], ENDS[1], ENDS[2]))
        told.append(f"{house_name(name)} {low} to {high}, mean {mean}")
    return f"Heating saved over {len(block['rows'])} weather years: {'; '.join(told)}"


def years_rows(summary: Summary, units: Shown) -> list[Sequence[str]]:
    """Return the table's rows, head first: weather, year, degree days, and heating saved by house."""
    block = summary.get("weather_years")
    if not block:
        return []
    names = list(block["spread"])
    heads = [sentence(house_name(name)) for name in names]
    rows: list[Sequence[str]] = [["Heating saved", "Year", "Degree days", *heads]]
    for row in block["rows"]:
        saved = [units.heat(row["houses"][name]["offset_kwh"]) for name in names]
        rows.append([_short(row["weather"]), str(row["year"]), _degree_days(row, units), *saved])
    for word, end in ENDS:
        rows.append([word, "", "", *(units.heat(block["spread"][name]["offset_kwh"][end]) for name in names)])
    return rows


def years_note(summary: Summary) -> str:
    """Return which weather the rest of the result is told for."""
    block = summary.get("weather_years")
    if not block:
        return ""
    if block["weathers"] > 1:
        return (
            f"Everything else here is told for the first weather alone: {printable(block['told_in_full'])}."
        )
    return "Everything else here is the mean of these years."


def years_block(summary: Summary) -> tuple[Both, str, list[list[Both]]] | None:
    """Return title, note and table for the page; None where there is one year only."""
    if not summary.get("weather_years"):
        return None
    pairs = zip(years_rows(summary, US), years_rows(summary, SI), strict=True)
    cells = [[Both(a, b) for a, b in zip(*pair, strict=True)] for pair in pairs]
    return both(lambda units: years_title(summary, units)), years_note(summary), cells


def _short(name: str) -> str:
    text = printable(name) or "unnamed"
    return text if len(text) <= WIDEST else f"{text[: WIDEST - 1]}…"


def _degree_days(row: Mapping[str, Any], units: Shown) -> str:
    days, _, _ = units.degree_days(row["hdd18_kd"]).partition(" below")
    return days
