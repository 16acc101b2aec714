"""The best values of a few keys within bounds, for one measure, with every try kept."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simengine.batch.execute import execute
from simengine.batch.measures import column
from simengine.batch.sample import latin_hypercube
from simengine.batch.task import Base, Outcome, Task
from simengine.errors import InputError, RunEnded
from simengine.scenario import Scenario
from simengine.scenario.schema.at_key import Written, at_key
from simengine.scenario.schema.combinations import MEASURES
from simengine.simulate import resolve

Array = NDArray[np.float64]
Progress = Callable[[int, int], None]

MOST_KEYS = 8
FIRST = 5
"""Tries spread over the bounds for each key before the search goes downhill from the best of them."""

WORST = 1e30
"""What a try without a number counts as."""

NEAR = 0.005
"""The search ends where its simplex is smaller than this share of the bounds."""


@dataclass(frozen=True, slots=True)
class Bound:
    """A key and the ends between which it is varied, in one unit."""

    key: str
    low: float
    high: float
    unit: str  # as it is written after the number

    def raw(self, share: float) -> Any:
        """Return the value at a share of the way from low to high, as a scenario file holds it."""
        return Written(self.low + share * (self.high - self.low), self.unit).raw


@dataclass(frozen=True, slots=True)
class Try:
    """One try: the values, the measure in each weather year, and why there is none."""

    changes: Mapping[str, Any]
    measure: float | None  # mean over the weather years
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Best:
    """The outcome of a search."""

    measure: str
    house: str
    best: Try
    start: Try  # the scenario as it was
    tries: tuple[Try, ...]  # in their order


def bound_of(scenario: Scenario, key: str, low: Any, high: Any) -> Bound:
    """Return a bound whose ends are values of a key.

    Raises
    ------
    InputError
        The key is none of the scenario, or the ends don't belong to it.
    """
    try:
        held = at_key(scenario.inputs, key)
        first, last = held.read(low), held.read(high)
    except InputError as error:
        raise InputError(f"{key}: {error.problems[0]}") from None
    if first.unit != last.unit or not first.number < last.number:
        raise InputError(f"{key}: the ends make no range; accepted: low and high of one unit, low < high")
    return Bound(key, first.number, last.number, first.unit)


def best(
    scenario: Scenario,
    bounds: Sequence[Bound],
    measure: str,
    *,
    years: Sequence[str] = (),
    house: str | None = None,
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
    measure : a key of `MEASURES`
    years : weather files or built-in years; the measure is their mean. Empty: the scenario's own
    house : name; the first one if None
    most : how many tries at most
    seed : start of the random numbers
    jobs : worker processes; 0 does everything in this one
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
    if measure not in MEASURES:
        raise InputError(f"{measure[:80]!r} is no measure; accepted: {', '.join(MEASURES)}")
    if not 1 <= len(bounds) <= MOST_KEYS or len({bound.key for bound in bounds}) < len(bounds):
        raise InputError(f"{len(bounds)} keys are varied; accepted: 1 to {MOST_KEYS} different ones")
    search = _Search(
        scenario, tuple(bounds), measure, tuple(years), _place(scenario, house), most, jobs, progress
    )
    start = search.at_start()
    first = latin_hypercube(len(bounds), min(FIRST * len(bounds) + 1, most), seed)
    values = search.many(first)
    if min(values) >= WORST:
        raise RunEnded(
            f"none of {len(values)} tries has a number, the first because: {search.tries[0].reason}"
        )
    search.downhill(first[int(np.argmin(values))])
    sign = MEASURES[measure]
    good = [one for one in search.tries if one.measure is not None]
    winner = max(good, key=lambda one: sign * float(one.measure or 0.0))
    return Best(measure, search.house[1], winner, start, tuple(search.tries))


def _place(scenario: Scenario, house: str | None) -> tuple[int, str]:
    names = [one.name for one in resolve(scenario).houses]
    if house is not None and house not in names:
        raise InputError(f"there is no house {house[:80]!r}; accepted: {', '.join(names)}")
    name = names[0] if house is None else house
    return names.index(name), name


@dataclass
class _Search:
    scenario: Scenario
    bounds: tuple[Bound, ...]
    measure: str
    years: tuple[str, ...]
    house: tuple[int, str]
    most: int
    jobs: int
    progress: Progress | None

    def __post_init__(self) -> None:
        self.base = Base.of(self.scenario)
        self.tries: list[Try] = []
        self.known: dict[tuple[float, ...], float] = {}

    def at_start(self) -> Try:
        """Return the scenario as it is, as a try that is not counted."""
        return self._judged({}, self._outcomes([{}], 0)[0])

    def many(self, points: Array) -> list[float]:
        """Try several points at once, and return what is to be made small."""
        changes = [self._changes(point) for point in points]
        values = []
        for point, change, outcomes in zip(points, changes, self._outcomes(changes, self.jobs), strict=True):
            judged = self._judged(change, outcomes)
            self.tries.append(judged)
            self.known[_rounded(point)] = self._small(judged)
            values.append(self._small(judged))
            self._tell()
        return values

    def downhill(self, start: Array) -> None:
        """Go on from one point until the steps are small or the tries are used up."""
        from scipy import optimize

        minimize: Any = optimize.minimize  # its stubs know no simplex to start from

        left = self.most - len(self.tries)
        if left < 1:
            return
        size = len(self.bounds)
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

    def _changes(self, point: Array) -> dict[str, Any]:
        return {bound.key: bound.raw(float(share)) for bound, share in zip(self.bounds, point, strict=True)}

    def _outcomes(self, changes: Sequence[Mapping[str, Any]], jobs: int) -> list[list[Outcome]]:
        years: Sequence[dict[str, Any]] = [{"site.weather": year} for year in self.years] or [{}]
        tasks = [
            Task(number, tuple(range(len(years))), tuple({**change, **year} for year in years))
            for number, change in enumerate(changes)
        ]
        found = {
            task.number: outcomes
            for task, outcomes in execute(self.base, tasks, jobs if len(tasks) > 1 else 0)
        }
        return [found[number] for number in range(len(tasks))]

    def _judged(self, changes: Mapping[str, Any], outcomes: Sequence[Outcome]) -> Try:
        values = []
        for outcome in outcomes:
            if outcome.numbers is None:
                return Try(changes, None, outcome.reason)
            values.append(float(column(outcome.numbers[self.house[0]], self.measure)))
        mean = sum(values) / len(values)
        return (
            Try(changes, mean) if math.isfinite(mean) else Try(changes, None, f"{self.measure} has no number")
        )

    def _small(self, judged: Try) -> float:
        return WORST if judged.measure is None else -MEASURES[self.measure] * judged.measure

    def _tell(self) -> None:
        if self.progress is not None:
            self.progress(min(len(self.tries), self.most), self.most)


def _rounded(point: Array) -> tuple[float, ...]:
    return tuple(round(float(share), 9) for share in point)
