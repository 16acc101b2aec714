"""What a finished sweep says: its best members, the front of cost against heat, and what each key does."""

import math
from collections.abc import Mapping
from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from simengine.batch.rank import rank_correlation, share_between
from simengine.scenario.schema.combinations import MEASURES

Array = NDArray[np.float64]

BEST = 10
MOST_ON_FRONT = 50
MOST_LEVELS = 8
"""A key with more values than these is shown in as many groups of equal size."""


def findings(members: xr.Dataset, house: str | None = None, measure: str | None = None) -> dict[str, Any]:
    """Return what a sweep says for one house, ready for strict JSON.

    Parameters
    ----------
    members : what `open_sweep` returns
    house : its name; the first one if None
    measure : what the best are the best in; the sweep's own if None

    Returns
    -------
    dict with measure, currency, house, members, failed, best, front and effects
    """
    name = str(members["house"].values[0]) if house is None else house
    wanted = str(members.attrs["measure"]) if measure is None else measure
    mine = members.sel(house=name)
    values, cost, offset = (mine[one].values for one in (wanted, "first_cost", "offset_kwh"))
    failed = members["reason"].values != ""
    return {
        "title": members.attrs["title"],
        "house": name,
        "measure": wanted,
        "currency": str(members.attrs.get("currency", "")),
        "members": int(members.sizes["member"]),
        "failed": int(failed.sum()),
        "first_failure": str(members["reason"].values[np.argmax(failed)]) if failed.any() else "",
        "best": [_row(mine, place, wanted) for place in best_of(values, MEASURES[wanted])],
        "front": [_row(mine, place, wanted) for place in front(cost, offset)],
        "effects": _effects(mine, values),
    }


def best_of(values: Array, sign: int, count: int = BEST) -> list[int]:
    """Return the places of the best numbers, the very best first; NaN counts as none.

    Parameters
    ----------
    values : numbers [any unit], array [member]
    sign : 1 where more is better, -1 where less is
    count : how many

    >>> best_of(np.array([3.0, np.nan, 1.0, 2.0]), -1, 2)
    [2, 3]
    """
    known = np.flatnonzero(np.isfinite(values))
    order = np.argsort(-sign * values[known], kind="stable")
    return [int(place) for place in known[order][:count]]


def front(cost: Array, gain: Array) -> list[int]:
    """Return the places that no other one beats in both cost and gain, the cheapest first.

    Parameters
    ----------
    cost : less is better [any unit]; NaN leaves a place out
    gain : more is better [any unit]

    Source: Pareto front by its definition.

    >>> front(np.array([1.0, 2.0, 3.0, 2.0]), np.array([5.0, 9.0, 8.0, 7.0]))
    [0, 1]
    """
    known = np.flatnonzero(np.isfinite(cost) & np.isfinite(gain))
    order = known[np.lexsort((-gain[known], cost[known]))]
    places, most = [], -math.inf
    for place in order:
        if gain[place] > most:
            places.append(int(place))
            most = float(gain[place])
    return places[:MOST_ON_FRONT]


def _row(mine: xr.Dataset, place: int, measure: str) -> dict[str, Any]:
    one = mine.isel(member=place)
    numbers = dict.fromkeys((measure, "offset_kwh", "first_cost", "simple_payback_a", "limit_margin_k"))
    inputs = {key: _plain(one[key].values.item()) for key in _keys(mine)}
    return {"member": place, **{name: _plain(one[name].values.item()) for name in numbers}, "inputs": inputs}


def _plain(value: Any) -> Any:
    """Return a value for strict JSON: None for what is not finite."""
    return None if isinstance(value, float) and not math.isfinite(value) else value


def _keys(mine: xr.Dataset) -> list[str]:
    return [str(name) for name, one in mine.coords.items() if one.attrs.get("role") == "input"]


def _effects(mine: xr.Dataset, values: Array) -> list[dict[str, Any]]:
    """Return what each key does to the measure by itself, the strongest first."""
    good = np.isfinite(values)
    effects = []
    for key in _keys(mine):
        column = mine[key].values[good]
        ordered = column.dtype.kind in "fi"
        groups = _groups(column)
        means = [
            {"value": label, "mean": float(values[good][inside].mean()), "members": int(inside.sum())}
            for label, inside in groups
        ]
        number = sum(place * inside.astype(np.float64) for place, (_, inside) in enumerate(groups))
        moved = (
            rank_correlation(column.astype(np.float64), values[good])
            if ordered
            else share_between(np.asarray(number), values[good])
        )
        effects.append(
            {
                "key": key,
                "unit": str(mine[key].attrs.get("units", "")),
                "ordered": bool(ordered),
                "strength": moved.value,
                "levels": means,
            }
        )
    return sorted(effects, key=_reach, reverse=True)


def _groups(column: NDArray[Any]) -> list[tuple[Any, NDArray[np.bool_]]]:
    levels = np.unique(column)
    if levels.size <= MOST_LEVELS or column.dtype.kind not in "fi":
        return [(_plain(level.item()), column == level) for level in levels]
    edges = np.quantile(column, np.linspace(0.0, 1.0, MOST_LEVELS + 1))
    places = np.clip(np.searchsorted(edges, column, side="right") - 1, 0, MOST_LEVELS - 1)
    return [(float(np.median(column[places == group])), places == group) for group in np.unique(places)]


def _reach(effect: Mapping[str, Any]) -> float:
    means = [level["mean"] for level in effect["levels"]]
    return max(means, default=0.0) - min(means, default=0.0)
