"""What a sweep is to run, fixed before the first member, with a digest that tells it from others."""

import hashlib
import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from simengine.batch.combinations import Members, described, members_of
from simengine.batch.measures import COLUMNS, MONTHS, WIDTH
from simengine.batch.task import Base, Task
from simengine.errors import InputError
from simengine.results.provenance import program_digest
from simengine.scenario import Scenario
from simengine.scenario.schema.money_checks import currency_of
from simengine.simulate.climate import read
from simengine.simulate.resolve import resolve

USUAL, LARGEST = 16, 256
"""Members in a chunk: as many as march well side by side; more where there would be too many files."""

FEW, FILES = 8, 4000
"""How many chunks a sweep has at least, so that all workers have some, and before they grow."""


@dataclass(frozen=True)
class Plan:
    """All members of a sweep; member and chunk are pure functions of their number."""

    scenario: Scenario  # without its questions
    base: Base
    members: Members
    houses: tuple[str, ...]
    size: int  # members in a chunk
    parts: Mapping[str, str]  # digests of what the plan is made of
    measure: str

    @property
    def currency(self) -> str:
        """Currency of all members, empty where there is no money; a key never has several."""
        try:
            return currency_of(self.scenario.changed(self.members.changes(0)).inputs)
        except InputError:  # the first member is none
            return currency_of(self.scenario.inputs)

    @property
    def digest(self) -> str:
        """Digest of the whole plan."""
        return _digest(dict(self.parts))

    @property
    def chunks(self) -> int:
        """How many chunks there are."""
        return -(-self.members.count // self.size)

    @property
    def bytes(self) -> int:
        """How many bytes the members' numbers take."""
        return self.members.count * len(self.houses) * WIDTH * 8

    def chunk(self, number: int) -> range:
        """Return the members of a chunk."""
        return range(number * self.size, min((number + 1) * self.size, self.members.count))

    def tasks(self, chunks: Iterable[int]) -> Iterator[Task]:
        """Yield the tasks of some chunks."""
        for number in chunks:
            members = tuple(self.chunk(number))
            yield Task(number, members, tuple(self.members.changes(member) for member in members))


def plan_of(scenario: Scenario, weather: str | None = None) -> Plan:
    """Return the plan of a scenario's sweep table.

    Parameters
    ----------
    scenario : the checked scenario
    weather : file or built-in year in the place of the scenario's own

    Returns
    -------
    Plan

    Raises
    ------
    InputError
        There is no sweep table, nothing is left of it, or a weather file cannot be read.
    """
    sweep = scenario.inputs.sweep
    if sweep is None:
        raise InputError("sweep: the scenario has no [sweep.vary]; accepted: a table of keys and lists")
    members = members_of(scenario.inputs, sweep)
    base = Base.of(scenario, weather)
    plain = base.scenario()
    size = chunk_size(members.count)
    parts = {
        "scenario": plain.sha256,
        "sweep": _digest([described(members), hashlib.sha256(members.kept.tobytes()).hexdigest()]),
        "weather": _digest(_weather(plain, sweep.vary.get("site.weather"))),
        "program": program_digest(),
        "form": _digest([COLUMNS, MONTHS, size]),
    }
    houses = tuple(house.name for house in resolve(plain).houses)
    return Plan(plain, base, members, houses, size, parts, sweep.measure)


def chunk_size(members: int) -> int:
    """Return how many members a chunk holds.

    >>> [chunk_size(count) for count in (5, 20, 1000, 200_000, 10_000_000)]
    [1, 3, 16, 50, 256]
    """
    return max(min(USUAL, -(-members // FEW)), min(members // FILES, LARGEST))


def _weather(scenario: Scenario, drawn: object) -> list[str]:
    """Return the digests of all weather files; one that cannot be read ends the sweep before it begins."""
    values = getattr(drawn, "term", lambda _: ())("values") or ()
    named = [scenario.changed({"site.weather": value}) for value in values] or [scenario]
    return [series.sha256 for one in named for series in read(one)]


def _digest(value: object) -> str:
    return hashlib.sha256(json.dumps(value, sort_keys=True).encode()).hexdigest()
