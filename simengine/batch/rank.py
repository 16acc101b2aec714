"""Percentiles and rank correlations of numbers some of which lie beyond every number."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


class Answer(NamedTuple):
    """A number, or None and the reason in words."""

    value: float | None
    reason: str = ""


def percentile(values: Array, share: float) -> float:
    """Return a percentile, infinite where it falls among values that are.

    Parameters
    ----------
    values : numbers, infinite ones among them where something lies beyond every number [any unit]
    share : [-], 0 to 1

    Returns
    -------
    the value, in a straight line between neighbours in rank

    Source: Hazen 1914, plotting position (rank - 0.5)/count: each number stands in the middle of its share.

    >>> percentile(np.array([1.0, 2.0, 3.0, 4.0, 5.0]), 0.5), percentile(np.array([1.0, np.inf]), 0.9)
    (3.0, inf)
    """
    ranked = np.sort(values)
    place = min(max(share * ranked.size - 0.5, 0.0), ranked.size - 1.0)
    low, weight = math.floor(place), place - math.floor(place)
    if weight == 0.0 or ranked[low] == ranked[min(low + 1, ranked.size - 1)]:
        return float(ranked[low])
    return float(ranked[low] + weight * (ranked[low + 1] - ranked[low]))


def rank_correlation(one: Array, other: Array) -> Answer:
    """Return Spearman's rank correlation of two columns [-1 to 1]; infinite values rank as the largest.

    >>> rank_correlation(np.array([1.0, 2.0, 5.0]), np.array([9.0, 4.0, -np.inf])).value
    -1.0

    Source: Spearman 1904; ties share their mean rank.
    """
    from scipy import stats

    if one.size < 3:
        return Answer(None, "fewer than three members show no trend")
    a, b = stats.rankdata(one), stats.rankdata(other)
    a, b = a - a.mean(), b - b.mean()
    size = math.sqrt(float(a @ a) * float(b @ b))
    if size == 0.0:
        return Answer(None, "it is the same in all members")
    return Answer(max(-1.0, min(1.0, float(a @ b) / size)))


def share_between(groups: Array, other: Array) -> Answer:
    """Return how much of the spread of ranks lies between groups without an order: the correlation ratio.

    Parameters
    ----------
    groups : number of each member's group [-], array [member]
    other : numbers [any unit], array [member]

    Returns
    -------
    0 to 1, without a sign; comparable with the size of a rank correlation

    Source: Pearson 1905 (correlation ratio), on ranks as Kruskal and Wallis 1952.

    >>> share_between(np.array([0.0, 0.0, 1.0, 1.0]), np.array([1.0, 1.0, 7.0, 7.0])).value
    1.0
    """
    from scipy import stats

    ranks = stats.rankdata(other)
    ranks = ranks - ranks.mean()
    whole = float(ranks @ ranks)
    if ranks.size < 3 or whole == 0.0 or np.unique(groups).size < 2:
        return Answer(None, "it is the same in all members")
    between = sum(
        float(np.count_nonzero(groups == group)) * float(ranks[groups == group].mean()) ** 2
        for group in np.unique(groups)
    )
    return Answer(min(1.0, math.sqrt(between / whole)))
