"""The year in one dictionary: what `summary.json` holds, every number finite or null with a reason."""

from collections.abc import Mapping
from typing import Any

import numpy as np

from simengine.constants import ZERO_CELSIUS
from simengine.results import aggregate
from simengine.results.aggregate import Months
from simengine.results.cautions import with_usual
from simengine.results.record import Array, Record
from simengine.results.settle import reason_key, settle

SCHEMA = 1

ENERGIES: dict[str, tuple[str, ...]] = {
    "incident_kwh": ("incident",),
    "reflected_kwh": ("reflected",),
    "cover_loss_kwh": ("cover_convection_loss", "cover_longwave_loss"),
    "back_loss_kwh": ("back_loss",),
    "edge_loss_kwh": ("edge_loss",),
    "leak_loss_kwh": ("leak_loss",),
    "duct_loss_kwh": ("duct_loss",),
    "wall_heat_kwh": ("wall_heat",),
    "absorbed_kwh": ("absorbed",),
    "collected_kwh": ("collected",),
    "fan_heat_kwh": ("fan_heat",),
    "delivered_kwh": ("delivered",),
    "night_loss_kwh": ("night_loss",),
    "opening_loss_kwh": ("opening_loss",),
    "stored_kwh": ("stored",),
    "fan_kwh": ("fan_power",),
    "heating_without_kwh": ("heating_without",),
    "heating_with_kwh": ("heating_with",),
    "vented_kwh": ("vented",),
    "vented_without_kwh": ("vented_without",),
    "held_back_kwh": ("held_back",),
    "carried_kwh": ("carried",),
    "fresh_air_kwh": ("fresh_air",),
    "ventilation_replaced_kwh": ("ventilation_replaced",),
    "house_gain_kwh": ("house_gain",),
    "house_loss_kwh": ("house_loss",),
    "house_stored_kwh": ("house_stored",),
}
"""Every energy of a house's block, and the variables of the dataset that it is the sum of."""

BRIEF = (
    "incident_kwh",
    "delivered_kwh",
    "night_loss_kwh",
    "opening_loss_kwh",
    "fan_kwh",
    "fan_heat_kwh",
    "heating_without_kwh",
    "heating_with_kwh",
    "vented_kwh",
    "vented_without_kwh",
)
"""Those of them that a sweep keeps, or works others out of."""

_MONEY = ("fuel", "economics", "co2_saved_kg")


def summarise(record: Record) -> dict[str, Any]:
    """Return the summary of a run, ready for strict JSON.

    Parameters
    ----------
    record : what the run handed on

    Returns
    -------
    Nested dictionaries of text, finite numbers, None and lists; units are in the keys. A None
    has a sibling `<key>_reason`.
    """
    origin = record.provenance
    whole = {
        "schema": SCHEMA,
        "program": {
            "name": "simengine",
            "version": origin.program_version,
            "sha256": origin.program_sha256,
        },
        "scenario": {"title": record.title, **record.about, "sha256": origin.scenario_sha256},
        "weather": _weather(record),
        "collector": {
            "aperture_m2": float(record.aperture),
            **record.collector,
            "end_reason": record.end_reason,
        },
        "houses": _houses(record, tuple(ENERGIES)),
        "limits": _limits(record),
        "closure": dict(record.closure),
        "cautions": with_usual(record.cautions),
        "inputs": [dict(row) for row in record.inputs],
    }
    settled: dict[str, Any] = settle(whole)
    return settled


def brief(record: Record) -> dict[str, Any]:
    """Return houses and limits of the summary, of the energies only `BRIEF`.

    Parameters
    ----------
    record : what the run handed on; of its facts only houses, hours, money and limits count

    Returns
    -------
    `houses` and `limits` as in `summarise`, but that a number may be NaN or infinite
    """
    return {"houses": _houses(record, BRIEF), "limits": list(record.limits)}


def _weather(record: Record) -> dict[str, Any]:
    facts = dict(record.weather)
    warnings = facts.pop("warnings", [])
    facts["sha256"] = record.provenance.weather_sha256
    if "hdd18_kd" not in facts:
        ambient = record.of_house("ambient_temperature", 0) - ZERO_CELSIUS
        first = _first_midnight(record)
        facts["hdd18_kd"] = aggregate.heating_degree_days(ambient[first:], record.step)
    return {**facts, "warnings": list(warnings)}


def _limits(record: Record) -> list[dict[str, Any]]:
    """Copy the limits; an interval by its number becomes the local standard time of its start."""
    offset = np.timedelta64(round(record.utc_offset * 3600.0), "s")
    rows = []
    for limit in record.limits:
        hour = str(limit.get("hour", ""))
        if hour.isdecimal() and int(hour) < record.times.size:
            start = record.times[int(hour)].astype("datetime64[s]") + offset
            hour = str(start.astype("datetime64[m]")).replace("T", " ")
        rows.append({**limit, "hour": hour})
    return rows


def _first_midnight(record: Record) -> int:
    start = int(record.times[0].astype("datetime64[s]").astype(np.int64))
    local = start + round(record.utc_offset * 3600.0)
    return round(-local % aggregate.SECONDS_PER_DAY / record.step)


def _houses(record: Record, energies: tuple[str, ...]) -> dict[str, Any]:
    months = record.months or Months(aggregate.local_months(record.times, record.utc_offset))
    return {
        name: {**_house(record, index, energies), "months": _months(record, index, months)}
        for index, name in enumerate(record.houses)
    }


def _house(record: Record, index: int, energies: tuple[str, ...]) -> dict[str, Any]:
    year = {
        key: sum(aggregate.energy(record.of_house(part, index), record.step) for part in ENERGIES[key])
        for key in energies
    }
    year["net_kwh"] = year["delivered_kwh"] - year["night_loss_kwh"] - year["opening_loss_kwh"]
    year["offset_kwh"] = year["heating_without_kwh"] - year["heating_with_kwh"]
    year["vented_added_kwh"] = year["vented_kwh"] - year["vented_without_kwh"]
    money = record.money.get(record.houses[index], {})
    return {
        **year,
        **_shares(year),
        **_fan(record, index),
        "overheating_hours_added": _overheating(record, index),
        **_second_space(record, index),
        **{key: money.get(key) for key in _MONEY},
        **{key: item for key, item in money.items() if key not in _MONEY},
    }


def _shares(year: Mapping[str, float]) -> dict[str, Any]:
    nothing_delivered = "no heat was delivered"
    no_need = "the house needs no heating"
    no_sun = "no sun reached the aperture"
    useful = year["delivered_kwh"] - year["fan_heat_kwh"]
    return {
        **_ratio("useful_share", year["offset_kwh"], year["delivered_kwh"], nothing_delivered),
        **_ratio("solar_fraction", year["offset_kwh"], year["heating_without_kwh"], no_need),
        **_ratio("efficiency", useful, year["incident_kwh"], no_sun),
    }


def _ratio(key: str, above: float, below: float, reason: str) -> dict[str, Any]:
    if below > 0.0:
        return {key: above / below}
    return {key: None, reason_key(key): reason}


def _fan(record: Record, index: int) -> dict[str, Any]:
    on = record.of_house("fan_on", index)
    starts = float(np.sum(record.of_house("fan_starts", index)))
    fan: dict[str, Any] = {
        "fan_hours": aggregate.hours(on, record.step),
        "passive_hours": aggregate.hours(record.of_house("passive_on", index), record.step),
        "fan_starts": round(starts / aggregate.years(on.size, record.step)),
    }
    peaks = record.of_house("peak_supply_temperature", index)[on > 0.0]
    peaks = peaks[np.isfinite(peaks)]
    if peaks.size:
        return {**fan, "peak_supply_c": float(peaks.max()) - ZERO_CELSIUS}
    return {**fan, "peak_supply_c": None, "peak_supply_reason": "the fan never ran"}


def _overheating(record: Record, index: int) -> float:
    """Hours in which the house has to be vented, with the collector less without it."""
    warm_with = (record.of_house("vented", index) > 0.0).astype(np.float64)
    warm_without = (record.of_house("vented_without", index) > 0.0).astype(np.float64)
    return aggregate.hours(warm_with - warm_without, record.step)


def _second_space(record: Record, index: int) -> dict[str, float]:
    """Mean temperature of the second space in the colder half of all hours, where there is one."""
    if "second_space_temperature" not in record.hourly:
        return {}
    ambient = record.of_house("ambient_temperature", index)
    cold = ambient <= np.median(ambient)
    keys = {"": "second_space_temperature", "_without": "second_space_temperature_without"}
    return {
        f"second_space{ending}_c": float(record.of_house(name, index)[cold].mean()) - ZERO_CELSIUS
        for ending, name in keys.items()
    }


def _months(record: Record, index: int, months: Months) -> list[dict[str, float]]:
    to_hours = record.step / 3600.0 / aggregate.years(record.times.size, record.step)
    to_kwh = to_hours / 1000.0
    offset = record.of_house("heating_without", index) - record.of_house("heating_with", index)
    columns: dict[str, Array] = {
        "incident_kwh": record.of_house("incident", index) * to_kwh,
        "delivered_kwh": record.of_house("delivered", index) * to_kwh,
        "heating_without_kwh": record.of_house("heating_without", index) * to_kwh,
        "offset_kwh": offset * to_kwh,
        "fan_hours": record.of_house("fan_on", index) * to_hours,
    }
    sums = {key: months.sums(column) for key, column in columns.items()}
    return [{key: float(values[month]) for key, values in sums.items()} for month in range(12)]
