"""The years of a result side by side: several in one weather file, or several files, and their spread."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from simengine.constants import ZERO_CELSIUS
from simengine.results import aggregate
from simengine.results.record import Array
from simengine.results.result import Result
from simengine.units.factors import KWH

POWERS = {
    "incident_kwh": "incident",
    "delivered_kwh": "delivered",
    "heating_without_kwh": "heating_without",
    "heating_with_kwh": "heating_with",
    "fan_kwh": "fan_power",
}
"""A year's energy by the hourly quantity that it is the sum of."""

SPREAD = (
    "incident_kwh",
    "delivered_kwh",
    "heating_without_kwh",
    "offset_kwh",
    "fan_kwh",
    "net_saving",
    "simple_payback_a",
)
"""What the spread is told of."""


def over_the_years(results: Sequence[Result]) -> Result:
    """Return the first result, with all years of all results side by side in its summary.

    Parameters
    ----------
    results : one for each weather, of the same scenario; the first is told in full

    Returns
    -------
    The first result as it is where there is but one year in all; else with a block `weather_years`: `rows`, a
    year each, and `spread`, least, mean and most of each figure by house. Money by the year is told where a
    weather holds one year only, since prices count by the year.
    """
    rows = [row for result in results for row in _rows(result)]
    first = results[0]
    if len(rows) == 1:
        return first
    block = {
        "told_in_full": str(first.summary["weather"].get("station") or ""),
        "weathers": len(results),
        "rows": rows,
        "spread": {name: _spread([row["houses"][name] for row in rows]) for name in first.summary["houses"]},
    }
    return Result(first.hours, {**first.summary, "weather_years": block})


def _rows(result: Result) -> list[dict[str, Any]]:
    hours, summary = result.hours, result.summary
    step = float(hours["time"].attrs["interval_s"])
    offset = np.timedelta64(round(float(hours["time"].attrs["utc_offset_h"]) * 3600.0), "s")
    local = hours["time"].to_numpy().astype("datetime64[s]") + offset
    years = local.astype("datetime64[Y]").astype(np.int64) + 1970
    found = np.unique(years)
    names = [str(name) for name in hours["house"].to_numpy()]
    rows = []
    for year in found:
        part = years == year
        sums = {
            key: np.asarray(hours[name].to_numpy())[:, part].sum(axis=1) * step / KWH
            for key, name in POWERS.items()
        }
        sums["offset_kwh"] = sums["heating_without_kwh"] - sums["heating_with_kwh"]
        ambient = hours["ambient_temperature"].to_numpy()[part] - ZERO_CELSIUS
        houses = {
            name: {key: float(values[number]) for key, values in sums.items() if key != "heating_with_kwh"}
            for number, name in enumerate(names)
        }
        if found.size == 1:
            houses = {name: {**year, **_money(summary["houses"][name])} for name, year in houses.items()}
        weather = str(summary["weather"].get("station") or "")
        rows.append(
            {"weather": weather, "year": int(year), "hdd18_kd": _degree_days(ambient, step), "houses": houses}
        )
    return rows


def _degree_days(ambient: Array, step: float) -> float:
    """Return the degree days of a calendar year on the local clock [K d]."""
    whole = ambient[: ambient.size - round(ambient.size * step % aggregate.SECONDS_PER_DAY / step)]
    return aggregate.heating_degree_days(whole, step)


def _money(house: Mapping[str, Any]) -> dict[str, Any]:
    fuel, economics = house.get("fuel") or {}, house.get("economics") or {}
    found = {
        "net_saving": fuel.get("net_saving"),
        "simple_payback_a": economics.get("simple_payback_a"),
    }
    return {key: value for key, value in found.items() if value is not None}


def _spread(years: Sequence[Mapping[str, float]]) -> dict[str, dict[str, float]]:
    """Return least, mean and most of every figure that all years have."""
    return {
        key: {
            "min": min(year[key] for year in years),
            "mean": sum(year[key] for year in years) / len(years),
            "max": max(year[key] for year in years),
        }
        for key in SPREAD
        if all(key in year for year in years)
    }
