"""The best values of a few keys within bounds, for one measure, with every try kept."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from simengine.batch.sample import latin_hypercube
from simengine.batch.tries import Array, Bound, Goal, Trial, Try
from simengine.errors import RunEnded
from simengine.scenario import Scenario
from simengine.scenario.schema.combinations import MEASURES
from simengine.scenario.schema.money_checks import currency_of

Progress = Callable[[int, int], None]

FIRST = 5
"""Tries spread over the bounds for each key before the search goes downhill from the best of them."""

WORST = 1e30
"""What a try without a number counts as."""

NEAR = 0.005
"""The search ends where its simplex is smaller than this share of the bounds."""


@dataclass(frozen=True, slots=True)
class Best:
    """The outcome of a search."""

    measure: str
    currency: str  # of the scenario's money, empty where it holds none
    house: str
    best: Try
    start: Try  # the scenario as it was
    tries: tuple[Try, ...]  # in their order


def best(
    scenario: Scenario,
    bounds: Sequence[Bound],
    goal: Goal,
    *,
    most: int = 60,
    seed: int = 1,
    jobs: int = 0,
    progress: Progress | None = None,
) -> Best:
    """Return the values of some keys that are best for a measure.

    Parameters
    ----------
    scenario : the checked scenario to start from
    bounds : keys and their ends
    goal : what is sought
    most : how many tries at most
    seed : start of the random numbers
    jobs : worker processes, for where there is enough to do at once; 0 does everything in this one
    progress : called with tries done and tries at most

    Returns
    -------
    Best

    Raises
    ------
    InputError
        Unknown measure or house, too many keys; RunEnded if no try has a number.

    Source: McKay, Beckman, Conover 1979 for the first tries; Nelder and Mead 1965 with bounds, by scipy.
    """
    trial = Trial(scenario, bounds, goal)
    search = _Search(trial, most, jobs, progress)
    start = trial.start()
    first = latin_hypercube(len(bounds), min(FIRST * len(bounds) + 1, most), seed)
    values = search.many(first)
    if min(values) >= WORST:
        raise RunEnded(
            f"none of {len(values)} tries has a number, the first because: {search.tries[0].reason}"
        )
    search.downhill(first[int(np.argmin(values))])
    sign = MEASURES[goal.measure]
    good = [one for one in search.tries if one.measure is not None]
    winner = max(good, key=lambda one: sign * float(one.measure or 0.0))
    currency = currency_of(scenario.inputs)
    return Best(goal.measure, currency, trial.house, winner, start, tuple(search.tries))


@dataclass
class _Search:
    trial: Trial
    most: int
    jobs: int
    progress: Progress | None

    def __post_init__(self) -> None:
        self.tries: list[Try] = []
        self.known: dict[tuple[float, ...], float] = {}

    def many(self, points: Array) -> list[float]:
        """Try several points at once, and return what is to be made small."""
        values = []
        for point, tried in zip(points, self.trial.at(points, self.jobs), strict=True):
            self.tries.append(tried)
            self.known[_rounded(point)] = self._small(tried)
            values.append(self._small(tried))
            self._tell()
        return values

    def downhill(self, start: Array) -> None:
        """Go on from one point until the steps are small or the tries are used up."""
        from scipy import optimize

        minimize: Any = optimize.minimize  # its stubs know no simplex to start from

        left = self.most - len(self.tries)
        if left < 1:
            return
        size = start.size
        corners = np.vstack([start, *(self._aside(start, place) for place in range(size))])
        with np.errstate(invalid="ignore"):
            minimize(
                self._one,
                start,
                method="Nelder-Mead",
                bounds=[(0.0, 1.0)] * size,
                options={
                    "initial_simplex": corners,
                    "xatol": NEAR,
                    "fatol": math.inf,
                    "maxfev": left + len(self.known),
                },
                callback=self._enough,
            )

    def _aside(self, start: Array, place: int) -> Array:
        corner = start.copy()
        corner[place] += 0.15 if corner[place] < 0.5 else -0.15
        return corner

    def _enough(self, _: Array) -> None:
        if len(self.tries) >= self.most:
            raise StopIteration

    def _one(self, point: Array) -> float:
        key = _rounded(point)
        if key in self.known:
            return self.known[key]
        if len(self.tries) >= self.most:
            return WORST
        return self.many(np.array([point]))[0]

    def _small(self, tried: Try) -> float:
        return WORST if tried.measure is None else -MEASURES[self.trial.goal.measure] * tried.measure

    def _tell(self) -> None:
        if self.progress is not None:
            self.progress(min(len(self.tries), self.most), self.most)


def _rounded(point: Array) -> tuple[float, ...]:
    return tuple(round(float(share), 9) for share in point)
