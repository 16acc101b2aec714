"""Candidate places and the best orientation as a person reads them."""

from collections.abc import Mapping, Sequence
from typing import Any

from simengine.report import shown
from simengine.report.figures import MONTH_NAMES
from simengine.report.shown import KBTU_FT2, Shown
from simengine.report.tables import columns, wrapped
from simengine.report.words import house_name, printable, sentence
from simengine.units import to_unit

LONGEST = 28
"""Letters of a place's name in a table."""

SMALL_HEAT = {"si": "kWh", "us": "kBtu"}
"""Unit of a month's heat."""

NO_MONEY = "without prices the places are ranked by heat alone"
ESTIMATE = "An estimate, not an approval; `simengine run` on the place you choose lists the cautions."


def listing(found: Mapping[str, Any], units: Shown) -> str:
    """Return the ranking of every house as lines of text.

    Parameters
    ----------
    found : what `simengine.batch.spots.ranked` returns
    units : the unit system to write in
    """
    lines = [f"{printable(found['scenario']['title'])}: {printable(str(found['weather']['station']))}"]
    for name, house in found["houses"].items():
        lines += ["", sentence(f"{house_name(name)}: {_finding(house, units)}"), ""]
        lines += columns(_year(house, units))
        told = [house["differs"]] if house["differs"] else []
        told += [NO_MONEY] if house["money_by"] is None else [_money_order(house)]
        lines += ["", *wrapped("-", [sentence(printable(text)) for text in told]), ""]
        lines += columns(_months(house, "offset_kwh", f"Heating saved, {_unit(units)}", _factor(units)))
        sun, per_area = ("kWh/m²", 1.0) if units.system == "si" else ("kBtu/ft²", KBTU_FT2)
        lines += ["", *columns(_months(house, "sun_kwh_m2", f"Bare sun, {sun}", per_area))]
    warnings = [f"Weather file: {warning}" for warning in found["weather"].get("warnings") or []]
    return "\n".join([*lines, "", *wrapped("!", warnings), *wrapped("-", [ESTIMATE])])


def orientation(found: Mapping[str, Any], units: Shown) -> str:
    """Return the best orientation and the curves through it as lines of text.

    Parameters
    ----------
    found : what `simengine.batch.orientation.best_orientation` returns
    units : the unit system to write in
    """
    best, here, near = found["best"], found["as_it_stands"], found["near"]
    more = best["offset_kwh"] - here["offset_kwh"]
    gain = f" ({100.0 * more / here['offset_kwh']:+.0f} %)" if here["offset_kwh"] > 0.0 else ""
    tilts, turns = ((near[key][0], near[key][1]) for key in ("tilt_deg", "azimuth_deg"))
    lines = [
        sentence(
            f"{house_name(found['house'])} saves most at a tilt of {best['tilt_deg']:.0f} deg and an azimuth "
            f"of {best['azimuth_deg']:.0f} deg: {units.heat(best['offset_kwh'])} a year."
        ),
        f"As in the file, {here['tilt_deg']:.0f} deg and {here['azimuth_deg']:.0f} deg, it saves "
        f"{units.heat(here['offset_kwh'])}; turning it brings {units.heat(more)}{gain}.",
        f"Within {100.0 * (1.0 - near['share']):.0f} % of the best: tilt {tilts[0]:.0f} to {tilts[1]:.0f} "
        f"deg, azimuth {turns[0]:.0f} to {turns[1]:.0f} deg.",
        "",
        *_curve(found, "tilt", units),
        "",
        *_curve(found, "azimuth", units),
        "",
        *wrapped("-", [sentence(printable(note)) for note in found["notes"]]),
    ]
    return "\n".join(lines)


def _curve(found: Mapping[str, Any], key: str, units: Shown) -> list[str]:
    points, other = found[f"{key}_curve"], {"tilt": "azimuth", "azimuth": "tilt"}[key]
    most = max(point["offset_kwh"] for point in points)
    rows: list[Sequence[str]] = [
        [sentence(key), *(f"{point[f'{key}_deg']:.0f}" for point in points)],
        [_unit(units), *(f"{point['offset_kwh'] * _factor(units):.0f}" for point in points)],
        ["of the most", *(f"{100.0 * point['offset_kwh'] / most:.0f} %" for point in points)],
    ]
    held = found["best"][f"{other}_deg"]
    return [f"Heating saved over the {key} [deg], {other} held at {held:.0f} deg", *columns(rows)]


def _finding(house: Mapping[str, Any], units: Shown) -> str:
    best = house["spots"][0]
    return f"{printable(best['name'])} saves most, {units.heat(best['offset_kwh'])} a year"


def _year(house: Mapping[str, Any], units: Shown) -> list[Sequence[str]]:
    money = {"npv": "Net present value", "net_saving": "Saved a year", None: "Money"}[house["money_by"]]
    heads = ["Place", "Tilt", "Azimuth", "Bare sun", "by sun", "Heating saved", "by heat", money, "by money"]
    rows: list[Sequence[str]] = [heads]
    for spot in house["spots"]:
        by = house["money_by"]
        value = "–" if by is None else shown.money(spot[by], spot["currency"] or "")
        rows.append(
            [
                _short(spot["name"]),
                f"{spot['tilt_deg']:.0f}°",
                f"{spot['azimuth_deg']:.0f}°",
                units.per_area(spot["sun_kwh_m2"]),
                f"{spot['rank_sun']}.",
                units.heat(spot["offset_kwh"]),
                f"{spot['rank_heat']}.",
                value,
                "–" if spot["rank_money"] is None else f"{spot['rank_money']}.",
            ]
        )
    return rows


def _months(house: Mapping[str, Any], key: str, title: str, factor: float) -> list[Sequence[str]]:
    rows: list[Sequence[str]] = [[title, *MONTH_NAMES]]
    for spot in house["spots"]:
        rows.append([_short(spot["name"]), *(f"{month[key] * factor:.0f}" for month in spot["months"])])
    return rows


def _money_order(house: Mapping[str, Any]) -> str:
    money, heat = house["order"]["money"], house["order"]["heat"]
    by = {"npv": "net present value", "net_saving": "what is saved a year"}[house["money_by"]]
    if money == heat:
        return f"money, by {by}, ranks them like heat"
    return f"money, by {by}, ranks them otherwise than heat: {', '.join(money)}"


def _unit(units: Shown) -> str:
    return SMALL_HEAT[units.system]


def _factor(units: Shown) -> float:
    return float(to_unit(3.6e6, "energy", _unit(units)))


def _short(name: str) -> str:
    text = printable(name)
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 1]}…"
