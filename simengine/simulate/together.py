"""Several scenarios in one march: those that the same weather drives go side by side, lane by lane."""

import hashlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

from simengine.engine.state import Member
from simengine.errors import InputError, RunEnded
from simengine.simulate.bill import calibrated
from simengine.simulate.drive import Drive, Shared
from simengine.simulate.resolve import Resolved
from simengine.simulate.shorter import settled
from simengine.simulate.year import first_temperature, march_year, member_of

Array = NDArray[np.float64]
T = TypeVar("T")

Finish = Callable[[Resolved, Drive, Array], T]
"""What is made of a scenario, of what drove it and of its ledger, such as `finished`."""

LANE_AXIS = {"nusselt": 1}
"""Where the lane is not the last axis of an array."""

MOST_LANES = 32
"""Lanes that march side by side; the hours of each take about 3 MB while they do."""

SHARED = ("forcing",)
"""Fields that all lanes of a march have in common."""


@dataclass(frozen=True, slots=True)
class Lanes:
    """Lanes of a march, and the scenarios that share them because they differ in money alone."""

    places: list[int]
    drive: Drive
    member: Member

    @property
    def count(self) -> int:
        """How many lanes there are: one for each house."""
        return int(self.member.zone.shape[-1])


def run_together(group: Sequence[Resolved], finish: Finish[T], shared: Shared | None = None) -> list[T | str]:
    """Return the year of each of several scenarios, bit for bit what it is alone.

    Parameters
    ----------
    group : scenarios with weather and houses; those with the same forcing and layout share a march
    finish : what is made of each: `finished` gives a `Result`, `finished_in_brief` what a sweep keeps
    shared : what they have in common with others before them

    Returns
    -------
    in their order what `finish` gives, or the reason why a scenario has none
    """
    common = Shared() if shared is None else shared
    found: dict[int, T | str] = {}
    marches: dict[tuple[object, ...], dict[bytes, Lanes]] = {}
    digests: dict[int, tuple[Array, bytes]] = {}
    whole = list(group)
    for place, resolved in enumerate(group):
        try:
            drive = common.drive(resolved)
            whole[place] = calibrated(resolved, drive.here, drive.plan)
            member = member_of(whole[place], drive)
        except (InputError, RunEnded) as error:
            found[place] = str(error)
            continue
        side_by_side = marches.setdefault(_layout(whole[place], drive, member), {})
        side_by_side.setdefault(_digest(member, digests), Lanes([], drive, member)).places.append(place)
    for alike in marches.values():
        lot = list(alike.values())
        most = max(1, MOST_LANES // lot[0].count)
        for first in range(0, len(lot), most):
            found.update(_one_march(whole, lot[first : first + most], finish))
    return [found[place] for place in range(len(group))]


def _layout(resolved: Resolved, drive: Drive, member: Member) -> tuple[object, ...]:
    """Return what has to be the same for two scenarios to share a march: all but what is in a lane."""
    shapes = tuple(
        array.shape[: LANE_AXIS.get(name, -1)] + array.shape[LANE_AXIS.get(name, -1) :][1:]
        for name, array in _leaves(member, "")
        if isinstance(array, np.ndarray)
    )
    plain = tuple(value for _, value in _leaves(member, "") if not isinstance(value, np.ndarray))
    return (drive.digest, plain, shapes, first_temperature(resolved))


def _one_march(group: Sequence[Resolved], lot: Sequence[Lanes], finish: Finish[T]) -> dict[int, T | str]:
    start = first_temperature(group[lot[0].places[0]])
    hours = march_year(joined([lanes.member for lanes in lot]), lot[0].drive, start)
    found: dict[int, T | str] = {}
    lane = 0
    for lanes in lot:
        mine = hours[:, :, lane : lane + lanes.count]
        lane += lanes.count
        try:  # what has to be taken anew is so alone, and does not touch the others
            mine, drive = settled(mine, lanes.drive, partial(march_year, lanes.member, start=start))
        except RunEnded as error:
            found.update(dict.fromkeys(lanes.places, str(error)))
            continue
        for place in lanes.places:
            try:
                found[place] = finish(group[place], drive, mine)
            except (InputError, RunEnded) as error:
                found[place] = str(error)
    return found


def _digest(member: Member, digests: dict[int, tuple[Array, bytes]]) -> bytes:
    """Return the digest of everything in which the members of one march may differ.

    `digests` keeps each array with its own, by identity: many members hold the very same arrays.
    """
    total = hashlib.sha256()
    for _, array in _leaves(member, ""):
        if isinstance(array, np.ndarray):
            if id(array) not in digests:
                digests[id(array)] = (array, hashlib.sha256(np.ascontiguousarray(array).data).digest())
            total.update(digests[id(array)][1])
    return total.digest()


def _leaves(part: Any, name: str) -> Iterator[tuple[str, Any]]:
    """Yield every array and plain value of a member with its name, but for what all lanes share."""
    if name in SHARED:
        return
    if isinstance(part, tuple) and hasattr(part, "_fields"):
        for field in part._fields:
            yield from _leaves(getattr(part, field), field)
    else:
        yield name, part


def joined(members: Sequence[Member]) -> Member:
    """Return one member whose lanes are those of several with the same forcing and layout."""
    together: Member = _joined(members, "")
    return together


def _joined(parts: Sequence[Any], name: str) -> Any:
    first = parts[0]
    if len(parts) == 1 or name in SHARED:
        return first
    if isinstance(first, np.ndarray):
        return np.ascontiguousarray(np.concatenate(parts, axis=LANE_AXIS.get(name, -1)))
    if isinstance(first, tuple):
        fields: tuple[str, ...] = getattr(first, "_fields")  # noqa: B009
        return type(first)(*(_joined([getattr(part, field) for part in parts], field) for field in fields))
    return first
