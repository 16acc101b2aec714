"""What is kept of every member: the numbers of its year, by house, and of its months."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Summary = Mapping[str, Any]

YEAR = {
    "incident_kwh": "",
    "delivered_kwh": "",
    "net_kwh": "",
    "heating_without_kwh": "",
    "heating_with_kwh": "",
    "offset_kwh": "",
    "night_loss_kwh": "",
    "opening_loss_kwh": "",
    "vented_kwh": "",
    "fan_kwh": "",
    "fan_hours": "",
    "fan_starts": "",
    "peak_supply_c": "",
    "efficiency": "",
    "useful_share": "",
    "solar_fraction": "",
    "overheating_hours_added": "",
    "co2_saved_kg": "",
    "saved": "fuel",
    "money_saved": "fuel",
    "fan_cost": "fuel",
    "net_saving": "fuel",
    "first_cost": "economics",
    "simple_payback_a": "economics",
    "discounted_payback_a": "economics",
    "npv": "economics",
    "saving_to_investment": "economics",
    "irr": "economics",
    "levelised_heat_cost": "economics",
    "break_even_price": "economics",
}
"""Numbers of the year by name, with the block of the summary's house that holds them."""

MONTHS = ("incident_kwh", "delivered_kwh", "heating_without_kwh", "offset_kwh", "fan_hours")
"""Numbers of every month."""

MARGIN = "limit_margin_k"
"""How far the part nearest to its temperature limit stays below it [K]; below zero it is too hot."""

COLUMNS = (*YEAR, MARGIN)
WIDTH = len(COLUMNS) + 12 * len(MONTHS)
"""Numbers kept of one house of one member."""


def numbers_of(summary: Summary) -> Array:
    """Return what is kept of a summary [house, number]: the year's columns, then the months.

    Parameters
    ----------
    summary : content of `summary.json`, or a brief of it

    Returns
    -------
    array; NaN where the summary holds null
    """
    margin = _margin(summary["limits"])
    rows = []
    for house in summary["houses"].values():
        year = [_number((house.get(block) if block else house) or {}, name) for name, block in YEAR.items()]
        months = [_number(month, name) for name in MONTHS for month in house["months"]]
        rows.append([*year, margin, *months])
    return np.array(rows, dtype=np.float64)


def column(rows: Array, name: str) -> Array:
    """Return one number of the year out of the last axis of kept numbers.

    Parameters
    ----------
    rows : kept numbers, the last axis as `COLUMNS` [each in its own unit]
    name : of the number

    >>> column(np.arange(WIDTH, dtype=float), "delivered_kwh").item()
    1.0
    """
    return rows[..., COLUMNS.index(name)]


def months(rows: Array, name: str) -> Array:
    """Return the twelve months of one number out of the last axis of kept numbers.

    Parameters
    ----------
    rows : kept numbers, the last axis as `COLUMNS` [each in its own unit]
    name : of the number
    """
    first = len(COLUMNS) + 12 * MONTHS.index(name)
    return rows[..., first : first + 12]


def _number(block: Mapping[str, Any], name: str) -> float:
    value = block.get(name)
    return float(value) + 0.0 if value is not None and math.isfinite(value) else math.nan  # never -0.0


def _margin(limits: Sequence[Mapping[str, Any]]) -> float:
    known = [
        limit["limit_c"] - limit["hottest_c"]
        for limit in limits
        if limit.get("limit_c") is not None and limit.get("hottest_c") is not None
    ]
    return min(known, default=math.nan)
