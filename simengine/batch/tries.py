"""Tries of a scenario: keys set within bounds, and the measure that comes of it."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simengine.batch.execute import execute, in_tasks
from simengine.batch.measures import column
from simengine.batch.task import Base, Bench, Outcome, Task, safely
from simengine.errors import InputError
from simengine.scenario import Scenario
from simengine.scenario.schema.at_key import Written, at_key
from simengine.scenario.schema.combinations import MEASURES
from simengine.simulate import resolve

Array = NDArray[np.float64]

MOST_KEYS = 8

SIDE_BY_SIDE = 16
"""Years that are worked on together."""

WORTH_WORKERS = 64
"""Fewer years are done here sooner than worker processes start."""


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
class Goal:
    """What is sought: a key of `MEASURES`, for one house, as the mean over some weather years."""

    measure: str
    house: str | None = None  # the first one if None
    years: tuple[str, ...] = ()  # weather files or built-in years; the scenario's own if empty


@dataclass(frozen=True, slots=True)
class Try:
    """One try: the values, the measure, and why there is none."""

    changes: Mapping[str, Any]
    measure: float | None  # mean over the weather years
    reason: str = ""


def bound_of(scenario: Scenario, key: str, low: Any, high: Any) -> Bound:
    """Return a bound whose ends are values of a key.

    Parameters
    ----------
    scenario : the checked scenario
    key : e.g. "collector.tilt"
    low, high : the ends, as a scenario file holds them

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


class Trial:
    """A scenario, the keys that are varied in it, and what is sought."""

    def __init__(self, scenario: Scenario, bounds: Sequence[Bound], goal: Goal) -> None:
        if goal.measure not in MEASURES:
            raise InputError(f"{goal.measure[:80]!r} is no measure; accepted: {', '.join(MEASURES)}")
        if not 1 <= len(bounds) <= MOST_KEYS or len({bound.key for bound in bounds}) < len(bounds):
            raise InputError(f"{len(bounds)} keys are varied; accepted: 1 to {MOST_KEYS} different ones")
        names = [one.name for one in resolve(scenario).houses]
        if goal.house is not None and goal.house not in names:
            raise InputError(f"there is no house {goal.house[:80]!r}; accepted: {', '.join(names)}")
        self.bounds, self.goal = tuple(bounds), goal
        self.house = names[0] if goal.house is None else goal.house
        self._place = names.index(self.house)
        self._base = Base.of(scenario)
        self._bench = Bench(self._base)

    def start(self) -> Try:
        """Return the scenario as it is."""
        return self._tried([{}], 0)[0]

    def at(self, points: Array, jobs: int) -> list[Try]:
        """Return what comes of some points, each a share of the way from low to high for every key [-]."""
        return self._tried([self._changes(point) for point in points], jobs)

    def _changes(self, point: Array) -> dict[str, Any]:
        return {bound.key: bound.raw(float(share)) for bound, share in zip(self.bounds, point, strict=True)}

    def _tried(self, changes: Sequence[Mapping[str, Any]], jobs: int) -> list[Try]:
        years: Sequence[dict[str, Any]] = [{"site.weather": year} for year in self.goal.years] or [{}]
        outcomes = self._worked([{**change, **year} for change in changes for year in years], jobs)
        of_each = (outcomes[first : first + len(years)] for first in range(0, len(outcomes), len(years)))
        return [self._judged(change, mine) for change, mine in zip(changes, of_each, strict=True)]

    def _worked(self, members: Sequence[Mapping[str, Any]], jobs: int) -> list[Outcome]:
        tasks = [
            Task(number, tuple(places), tuple(members[place] for place in places))
            for number, places in in_tasks(len(members), SIDE_BY_SIDE)
        ]
        if jobs < 1 or len(members) < WORTH_WORKERS:
            done = [(task, safely(self._bench, task)) for task in tasks]
        else:
            done = sorted(execute(self._base, tasks, jobs), key=lambda one: one[0].number)
        return [outcome for _, outcomes in done for outcome in outcomes]

    def _judged(self, changes: Mapping[str, Any], outcomes: Sequence[Outcome]) -> Try:
        values = []
        for outcome in outcomes:
            if outcome.numbers is None:
                return Try(changes, None, outcome.reason)
            values.append(float(column(outcome.numbers[self._place], self.goal.measure)))
        mean = sum(values) / len(values)
        if not math.isfinite(mean):
            return Try(changes, None, f"{self.goal.measure} has no number")
        return Try(changes, mean)
