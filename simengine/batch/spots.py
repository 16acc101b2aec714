"""Candidate places of one scenario, ranked by the heating they save and by money, beside their bare sun."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from simengine.errors import InputError
from simengine.simulate import resolve, run_resolved

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.weather import WeatherSeries

KEYS = {
    "tilt": "collector.tilt",
    "azimuth": "collector.azimuth",
    "mounting": "collector.mounting",
    "horizon": "site.horizon",
    "horizon_file": "site.horizon_file",
    "declination": "site.declination",
    "trees": "site.trees",
    "overhang": "site.overhang",
    "fins": "site.fins",
    "walls": "site.walls",
}
"""Key of a place -> the scenario's key that it stands for."""

SKYLINE = ("horizon", "horizon_file", "declination")
CLIMATE = ("site.weather", "site.mend_clock", "site.warmer", "site.normals")
AS_IT_STANDS = "as in the file"
"""Name of the scenario itself among its places."""

FIGURES = ("incident_kwh", "delivered_kwh", "offset_kwh", "fan_hours")


@dataclass(frozen=True, slots=True)
class Place:
    """A candidate place as a scenario of its own."""

    name: str
    scenario: "Scenario"
    own_weather: bool


def places(scenario: "Scenario") -> list[Place]:
    """Return the scenario itself and every candidate place that it lists, as scenarios of their own.

    Parameters
    ----------
    scenario : a checked scenario with [[spots]]

    Raises
    ------
    InputError if there is none, if two have one name, or if a place is none; every problem has its line.
    """
    listed = scenario.data.get("spots") or []
    if not listed:
        raise InputError(
            f'{scenario.name}: there are no candidate places; accepted: [[spots]] with name = "..." and what '
            "is different there, one for each"
        )
    names = [str(spot["name"]) for spot in listed]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise InputError(
            *(f"spots: the name {name!r:.80} is there twice; accepted: one each" for name in twice)
        )
    found, problems = [Place(AS_IT_STANDS, scenario, False)], []
    for name, spot in zip(names, listed, strict=True):
        asked = _changes(scenario, spot)
        try:
            found.append(Place(name, scenario.changed(asked), any(key in CLIMATE for key in asked)))
        except InputError as error:
            problems += [
                f"spots.{name:.80}: {problem.removeprefix('(changed): ')}" for problem in error.problems
            ]
    if problems:
        raise InputError(*problems)
    return found


def ranked(scenario: "Scenario", series: "WeatherSeries | None" = None) -> dict[str, Any]:
    """Return the candidate places of a scenario, ranked for every house.

    Parameters
    ----------
    scenario : a checked scenario with [[spots]]
    series : weather to take instead of the one the scenario names; of several the first serves

    Returns
    -------
    Ready for strict JSON: `houses`, each with `spots` from the best by heating saved, `months` (the best of
    each month), `order` by heat, sun and money, `money_by` and `differs`, a sentence where sun and heat
    disagree.

    Raises
    ------
    InputError as `places`; RunEnded where a run came to no finite result.
    """
    shared = series
    summaries: list[tuple[Place, Mapping[str, Any]]] = []
    for place in places(scenario):
        resolved = replace(resolve(place.scenario, None if place.own_weather else shared), others=())
        shared = shared or resolved.series
        summaries.append((place, run_resolved(resolved).summary))
    first = summaries[0][1]
    return {
        "scenario": {"title": scenario.title, "sha256": scenario.sha256},
        "weather": {key: first["weather"].get(key) for key in ("station", "sha256", "warnings")},
        "houses": {name: _house(name, summaries) for name in first["houses"]},
        "cautions": first["cautions"],
    }


def _changes(scenario: "Scenario", spot: Mapping[str, Any]) -> dict[str, Any]:
    asked: dict[str, Any] = {KEYS[key]: value for key, value in spot.items() if key in KEYS}
    if any(key in spot for key in SKYLINE):  # a place's own skyline replaces the whole of the other one
        asked = {KEYS[key]: None for key in SKYLINE if key not in spot} | asked
    if spot.get("mounting") == "open":
        asked["collector.wall_resistance"] = None
    if "duct_length" in spot:
        count = len(scenario.data.get("ducts") or [])
        if not count:
            raise InputError(
                f"spots.{spot['name']!s:.80}: duct_length: the scenario has no ducts; accepted: [[ducts]]"
            )
        asked |= {f"ducts.{number + 1}.length": spot["duct_length"] for number in range(count)}
    return asked | dict(spot.get("changes") or {}) | {"spots": None}


def _house(name: str, summaries: Sequence[tuple[Place, Mapping[str, Any]]]) -> dict[str, Any]:
    rows = [_row(place, summary, name) for place, summary in summaries]
    by = next((key for key in ("npv", "net_saving") if all(row[key] is not None for row in rows)), None)
    order = {
        "heat": _order(rows, "offset_kwh"),
        "sun": _order(rows, "sun_kwh_m2"),
        "money": [] if by is None else _order(rows, by),
    }
    for row in rows:
        for what, names in order.items():
            row[f"rank_{what}"] = names.index(row["name"]) + 1 if names else None
    rows.sort(key=lambda row: int(row["rank_heat"]))
    return {
        "spots": rows,
        "order": order,
        "money_by": by,
        "months": [_best_of_month(rows, month) for month in range(12)],
        "differs": _differs(rows, order),
    }


def _row(place: Place, summary: Mapping[str, Any], house: str) -> dict[str, Any]:
    year = summary["houses"][house]
    fuel, economics = year.get("fuel") or {}, year.get("economics") or {}
    given = place.scenario.inputs.collector
    aperture = float(summary["collector"]["aperture_m2"])
    return {
        "name": place.name,
        "tilt_deg": given.tilt,
        "azimuth_deg": given.azimuth,
        **{key: year[key] for key in FIGURES},
        "sun_kwh_m2": year["incident_kwh"] / aperture,
        "currency": fuel.get("currency"),
        "net_saving": fuel.get("net_saving"),
        "simple_payback_a": economics.get("simple_payback_a"),
        "npv": economics.get("npv"),
        "months": [
            {"sun_kwh_m2": month["incident_kwh"] / aperture, "offset_kwh": month["offset_kwh"]}
            for month in year["months"]
        ],
    }


def _order(rows: Sequence[Mapping[str, Any]], key: str) -> list[str]:
    """Return the names from the most downwards; the file's order decides between equals."""
    return [str(row["name"]) for row in sorted(rows, key=lambda row: -float(row[key]))]


def _best_of_month(rows: Sequence[Mapping[str, Any]], month: int) -> dict[str, str | None]:
    """Return which place saves most heating, and which has most sun, in one month."""

    def most(key: str) -> str | None:
        best = max(rows, key=lambda row: float(row["months"][month][key]))
        return str(best["name"]) if best["months"][month][key] > 0.0 else None

    return {"heat": most("offset_kwh"), "sun": most("sun_kwh_m2")}


def _differs(rows: Sequence[Mapping[str, Any]], order: Mapping[str, Sequence[str]]) -> str | None:
    """Say that the sun ranks the places otherwise than the heat, or nothing."""
    heat, sun = order["heat"], order["sun"]
    if heat == sun:
        return None
    by_name = {row["name"]: row for row in rows}
    if heat[0] == sun[0]:
        return f"the best place is the same by sun and by heat; behind it the sun's order is {', '.join(sun)}"
    warm, bright = by_name[heat[0]], by_name[sun[0]]
    less = 1.0 - warm["sun_kwh_m2"] / bright["sun_kwh_m2"]
    gap = warm["offset_kwh"] - bright["offset_kwh"]
    more = f"{100.0 * gap / bright['offset_kwh']:.0f} % more" if bright["offset_kwh"] > 0.0 else "more"
    return (
        f"sun and heat disagree: {heat[0]!r} has {100.0 * less:.0f} % less sun in the year than "
        f"{sun[0]!r} and saves {more} heating: sun out of season counts for nothing, nor "
        "does heat that is lost on the way"
    )
