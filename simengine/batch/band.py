"""The band of a drawn batch: percentiles of heat, fuel, money and payback, and what moves them."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simengine.batch.measures import column
from simengine.batch.rank import Answer, percentile, rank_correlation, share_between
from simengine.batch.sample import Column, Sample
from simengine.batch.task import Outcome
from simengine.errors import RunEnded
from simengine.house.presets import PRESETS

Array = NDArray[np.float64]

PERCENTILES = {"p10": 0.1, "p50": 0.5, "p90": 0.9}
BANDS = {"offset_kwh": "offset_kwh", "fuel_saved": "saved", "net_saving": "net_saving"}
"""Bands of the summary by the number of the year that they are of; payback is a case of its own."""

MOST_FAILURES = 20
"""Failed members whose reasons are told."""

FEWEST = 2
"""A band of fewer members is none."""


def band_blocks(
    houses: Sequence[str], sample: Sample, outcomes: Sequence[Outcome]
) -> dict[str, dict[str, Any]]:
    """Return the block `spread` of every house.

    Parameters
    ----------
    houses : names in the order of the outcomes' rows
    sample : what the members were
    outcomes : what came of them, in their order

    Returns
    -------
    block by house; a number that cannot be had is None, with the reason beside it

    Raises
    ------
    RunEnded
        No two members came to an end.
    """
    good = [outcome for outcome in outcomes if outcome.numbers is not None]
    failures = [{"member": one.member, "reason": one.reason} for one in outcomes if one.numbers is None]
    if len(good) < FEWEST:
        reason = failures[0]["reason"] if failures else "there are none"
        raise RunEnded(
            f"spread: {len(failures)} of {len(outcomes)} members failed, the first because: {reason}"
        )
    places = np.array([outcome.member for outcome in good])
    rows = np.array([outcome.numbers for outcome in good])
    return {
        name: {
            **_bands(rows[:, house]),
            "drivers": _drivers(_of_house(sample, name), places, rows[:, house]),
            "members": sample.count,
            "failed": len(failures),
            "failures": failures[:MOST_FAILURES],
        }
        for house, name in enumerate(houses)
    }


def _of_house(sample: Sample, house: str) -> Sample:
    """Leave out the inputs that only another house has."""
    other = "house." if house in PRESETS else "builtin_houses."
    kept = tuple(one for one in sample.columns if not one.key.startswith(other))
    return Sample(kept, sample.count)


def paybacks(rows: Array) -> tuple[Array, str]:
    """Return simple paybacks [a], infinite where the saving never pays; and why there are none at all.

    Parameters
    ----------
    rows : numbers of one house [member, number]
    """
    values = column(rows, "simple_payback_a").copy()
    saving, cost = column(rows, "net_saving"), column(rows, "first_cost")
    values[np.isnan(values) & (saving <= 0.0) & np.isfinite(cost)] = math.inf
    unknown = np.isnan(values)
    if unknown.any():
        return values, "payback is not known: a fuel price, a fan's price or a first cost is missing"
    return values, ""


def _bands(rows: Array) -> dict[str, Any]:
    blocks: dict[str, Any] = {}
    for name, source in BANDS.items():
        values = column(rows, source)
        known = bool(np.isfinite(values).all())
        blocks[name] = _percentiles(values if known else None, "it is not known in every member")
    values, unknown = paybacks(rows)
    never = int(np.isinf(values).sum())
    beyond = f"in {never} of {values.size} members the saving never pays the first cost back"
    blocks["simple_payback_a"] = _percentiles(None if unknown else values, unknown or beyond)
    if not unknown:
        blocks["never_paid_back"] = never
    return blocks


def _percentiles(values: Array | None, reason: str) -> dict[str, Any]:
    block: dict[str, Any] = {}
    for name, share in PERCENTILES.items():
        found = math.inf if values is None else percentile(values, share)
        block[name] = found if math.isfinite(found) else None
        if not math.isfinite(found):
            block[f"{name}_reason"] = reason
    return block


def _drivers(sample: Sample, places: NDArray[np.int64], rows: Array) -> list[dict[str, Any]]:
    """Return the inputs, that which moves most first."""
    offset = column(rows, "offset_kwh")
    back, unknown = paybacks(rows)
    drivers = []
    for one in sample.columns:
        mine = one.numbers[places]
        driver: dict[str, Any] = {"key": one.key, "ordered": one.ordered, **_ends(one)}
        _put(driver, "offset_kwh", _moved(one, mine, offset))
        _put(driver, "simple_payback_a", Answer(None, unknown) if unknown else _moved(one, mine, back))
        drivers.append(driver)
    return sorted(drivers, key=_size, reverse=True)


def _moved(one: Column, mine: Array, outcome: Array) -> Answer:
    return rank_correlation(mine, outcome) if one.ordered else share_between(mine, outcome)


def _ends(one: Column) -> dict[str, Any]:
    if not one.ordered:
        return {
            "p10": None,
            "p10_reason": "a choice has no order",
            "p90": None,
            "p90_reason": "a choice has no order",
        }
    order = np.argsort(one.numbers, kind="stable")
    ends = {name: order[min(int(share * order.size), order.size - 1)] for name, share in PERCENTILES.items()}
    return {name: _text(one.raws[ends[name]]) for name in ("p10", "p90")}


def _text(raw: Any) -> str:
    if isinstance(raw, list):
        return f"{_text(raw[0])} and on"
    if isinstance(raw, float):
        return f"{raw:.4g}"
    number, _, unit = str(raw).partition(" ")
    try:
        return f"{float(number):.4g} {unit}".strip()
    except ValueError:
        return str(raw)[:80]


def _put(target: dict[str, Any], name: str, answer: Answer) -> None:
    target[name] = answer.value
    if answer.value is None:
        target[f"{name}_reason"] = answer.reason


def _size(driver: Mapping[str, Any]) -> float:
    return max(abs(float(driver[name] or 0.0)) for name in ("offset_kwh", "simple_payback_a"))
