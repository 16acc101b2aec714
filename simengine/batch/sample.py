"""Draws scenarios: a seeded Latin hypercube over the spreads of keys, kept within their physical bounds."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simengine.errors import InputError
from simengine.scenario.schema.at_key import AtKey, Written, at_key
from simengine.scenario.schema.drawn import Drawn, Terms, terms_of
from simengine.scenario.schema.root import Inputs

Array = NDArray[np.float64]

LEAST_SHARE = 1e-6
"""A spread of which less than this share lies within the key's bounds is a mistake [-]."""


@dataclass(frozen=True, slots=True)
class Column:
    """What every member has for one key."""

    key: str
    raws: tuple[Any, ...]  # as the scenario file would hold them
    numbers: Array  # in SI, or factor, or place in the list of a choice
    ordered: bool  # whether more and less mean anything
    unit: str = ""  # of the numbers; "" for factors, shares and places


@dataclass(frozen=True, slots=True)
class Sample:
    """The members of a batch: for each key one value a member."""

    columns: tuple[Column, ...]
    count: int

    def changes(self, member: int) -> dict[str, Any]:
        """Return what one member changes in the scenario, by dotted key."""
        return {column.key: column.raws[member] for column in self.columns}


def draw(inputs: Inputs, spreads: Mapping[str, Drawn], count: int, seed: int) -> Sample:
    """Return members drawn from the spreads of several keys.

    Parameters
    ----------
    inputs : the checked scenario, for the values that factors and shifts act on
    spreads : key to its spread
    count : how many members
    seed : start of the random numbers; the same seed gives the same members

    Returns
    -------
    Sample; in every key each of `count` equally likely strata is met exactly once

    Raises
    ------
    InputError
        Of a spread nothing lies within the bounds of its key.

    Source: McKay, Beckman, Conover 1979 (Latin hypercube), by scipy.stats.qmc.
    """
    shares = latin_hypercube(len(spreads), count, seed)
    columns = [
        _column(key, drawn, inputs, shares[:, place]) for place, (key, drawn) in enumerate(spreads.items())
    ]
    return Sample(tuple(columns), count)


def latin_hypercube(keys: int, count: int, seed: int) -> Array:
    """Return shares of probability [member, key], one in each of `count` strata of every key.

    Parameters
    ----------
    keys : how many keys
    count : how many members
    seed : start of the random numbers

    >>> np.sort(np.floor(latin_hypercube(2, 4, 1)[:, 1] * 4)).tolist()
    [0.0, 1.0, 2.0, 3.0]
    """
    from scipy.stats import qmc

    if keys == 0 or count == 0:
        return np.zeros((count, keys))
    return np.asarray(qmc.LatinHypercube(keys, rng=np.random.default_rng(seed)).random(count))


def quantiles(kind: str, terms: Mapping[str, float], bounds: tuple[float, float], shares: Array) -> Array:
    """Return the values of a spread at shares of its probability, cut off at bounds.

    Parameters
    ----------
    kind : uniform, triangular, normal or lognormal
    terms : from, to, most, mean, deviation, median, factor, as the kind needs them [unit of the key]
    bounds : least and greatest value that is possible; infinite where there is none [unit of the key]
    shares : probabilities within the bounds [-], 0 to 1

    Returns
    -------
    values, the same shape

    Raises
    ------
    InputError
        Nothing of the spread lies within the bounds.

    Source: definitions, by scipy.stats; `factor` of a log-normal spread is its geometric standard
    deviation (84th over 50th percentile).

    >>> quantiles("uniform", {"from": 0.0, "to": 2.0}, (0.0, 1.0), np.array([0.5])).tolist()
    [0.5]
    """
    spread = _FROZEN[kind](terms)
    low, high = (float(spread.cdf(bound)) for bound in bounds)
    if high - low < LEAST_SHARE:
        raise InputError(
            "of the spread nothing lies within what the key accepts; accepted: a spread within it"
        )
    return np.clip(np.asarray(spread.ppf(low + shares * (high - low)), dtype=np.float64), *bounds)


def _uniform(terms: Mapping[str, float]) -> Any:
    from scipy import stats

    return stats.uniform(terms["from"], terms["to"] - terms["from"])


def _triangular(terms: Mapping[str, float]) -> Any:
    from scipy import stats

    width = terms["to"] - terms["from"]
    return stats.triang((terms["most"] - terms["from"]) / width, terms["from"], width)


def _normal(terms: Mapping[str, float]) -> Any:
    from scipy import stats

    return stats.norm(terms["mean"], terms["deviation"])


def _lognormal(terms: Mapping[str, float]) -> Any:
    from scipy import stats

    return stats.lognorm(math.log(terms["factor"]), scale=terms["median"])


_FROZEN = {"uniform": _uniform, "triangular": _triangular, "normal": _normal, "lognormal": _lognormal}


def _column(key: str, drawn: Drawn, inputs: Inputs, shares: Array) -> Column:
    if drawn.kind == "choice":
        return _chosen(key, drawn, shares)
    try:
        held = at_key(inputs, key)
        terms = terms_of(drawn, held)
        numbers = quantiles(drawn.kind, terms.numbers, _bounds(drawn, terms, held), shares)
    except InputError as error:
        raise InputError(*(f"{key}: {problem}" for problem in error.problems)) from None
    raws = tuple(_raw(drawn, terms, held, float(number)) for number in numbers)
    return Column(key, raws, numbers, True, "" if drawn.by == "factor" else terms.unit)


def _chosen(key: str, drawn: Drawn, shares: Array) -> Column:
    values = drawn.term("values")
    weights = np.asarray(drawn.term("weights") or (1.0,) * len(values))
    steps = np.cumsum(weights / weights.sum())
    places = np.minimum(np.searchsorted(steps, shares, side="right"), len(values) - 1)
    plain = all(isinstance(value, int | float) and not isinstance(value, bool) for value in values)
    numbers = np.array([float(values[place]) if plain else float(place) for place in places])
    return Column(key, tuple(values[place] for place in places), numbers, plain)


def _bounds(drawn: Drawn, terms: Terms, held: AtKey) -> tuple[float, float]:
    """Return the least and greatest number that leave every level of the key within its bounds."""
    low, high = (
        math.inf * side if end is None else end for side, end in zip((-1, 1), held.bounds, strict=True)
    )
    if drawn.by == "factor":
        positive = [level.number for level in held.levels() if level.number > 0.0]
        low, high = (
            max((low / n for n in positive), default=0.0),
            min((high / n for n in positive), default=math.inf),
        )
    elif drawn.by == "shift":
        numbers = [level.number for level in held.levels()]
        low, high = low - min(numbers), high - max(numbers)
    return max(low, terms.numbers.get("from", low)), min(high, terms.numbers.get("to", high))


def _raw(drawn: Drawn, terms: Terms, held: AtKey, number: float) -> Any:
    if drawn.by == "value":
        return Written(number, terms.unit).raw
    times, plus = (number, 0.0) if drawn.by == "factor" else (1.0, number)
    raws = [Written(level.number * times + plus, level.unit).raw for level in held.levels()]
    return raws[0] if len(raws) == 1 else raws
