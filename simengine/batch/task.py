"""One piece of a batch: members that are worked on together, and what came out of each."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simengine.batch.measures import numbers_of
from simengine.errors import SimengineError
from simengine.scenario import Scenario
from simengine.simulate import Resolved
from simengine.simulate.blocks import Room
from simengine.simulate.drive import Shared
from simengine.simulate.together import run_together
from simengine.simulate.year import finished_in_brief

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Base:
    """The scenario that every member changes, as plain tables that another process can be given."""

    data: Mapping[str, Any]
    folder: str
    name: str

    @classmethod
    def of(cls, scenario: Scenario, weather: str | None = None) -> "Base":
        """Return the base of a scenario, without its questions; `weather` takes the place of its own."""
        data = {key: value for key, value in scenario.data.items() if key not in ("sweep", "spread", "spots")}
        site = {**data.get("site", {}), "weather": weather} if weather is not None else data.get("site", {})
        return cls({**data, "site": site}, str(scenario.folder), scenario.name)

    def scenario(self) -> Scenario:
        """Return the checked scenario."""
        return Scenario.from_dict(self.data, Path(self.folder), self.name)


@dataclass(frozen=True, slots=True)
class Task:
    """Members to work on together."""

    number: int
    members: tuple[int, ...]
    changes: tuple[Mapping[str, Any], ...]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of one member: its numbers [house, number], or the reason why there are none."""

    member: int
    numbers: Array | None
    reason: str = ""


class Bench:
    """Works on tasks one after the other, and keeps between them what they have in common."""

    def __init__(self, base: Base) -> None:
        self.scenario = base.scenario()
        self.shared = Shared()
        self.room = Room()

    def work(self, task: Task) -> list[Outcome]:
        """Return what came of every member of a task; a bad one has a reason and harms no other."""
        found: dict[int, Outcome] = {}
        resolved: dict[int, Resolved] = {}
        for member, changes in zip(task.members, task.changes, strict=True):
            try:
                resolved[member] = self.shared.resolve(self.scenario.changed(changes))
            except (SimengineError, OSError) as error:
                found[member] = Outcome(member, None, _one_line(error))
        for member, numbers, reason in self._run(resolved):
            found[member] = Outcome(member, numbers, reason)
        return [found[member] for member in task.members]

    def _run(self, resolved: Mapping[int, Resolved]) -> Sequence[tuple[int, Array | None, str]]:
        rows: list[tuple[int, Array | None, str]] = []
        results = run_together(list(resolved.values()), finished_in_brief, self.shared, self.room)
        for member, result in zip(resolved, results, strict=True):
            if isinstance(result, str):
                rows.append((member, None, " ".join(result.split())))
            else:
                rows.append((member, numbers_of(result), ""))
        return rows


def safely(bench: Bench, task: Task) -> list[Outcome]:
    """Work on a task; should the program itself fail, try its members one by one and name the fault."""
    try:
        return bench.work(task)
    except Exception as error:
        if len(task.members) == 1:
            kind = type(error).__name__
            return [Outcome(task.members[0], None, f"a defect of simengine ({kind}: {_one_line(error)})")]
        alone = [
            Task(task.number, (member,), (changes,))
            for member, changes in zip(task.members, task.changes, strict=True)
        ]
        return [outcome for one in alone for outcome in safely(bench, one)]


def _one_line(error: BaseException) -> str:
    return " ".join(str(error).split())[:500]
