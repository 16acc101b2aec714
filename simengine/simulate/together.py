"""Several scenarios in one march: those of one layout go side by side, lane by lane."""

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
from simengine.simulate.blocks import LANE_AXIS, WEATHER, Ride, Room, march_again, march_year
from simengine.simulate.drive import Drive, Shared
from simengine.simulate.resolve import Resolved
from simengine.simulate.shorter import settled
from simengine.simulate.year import first_temperature, member_of
from simengine.vector import WIDTH

Array = NDArray[np.float64]
T = TypeVar("T")

Finish = Callable[[Resolved, Drive, Array], T]
"""What is made of a scenario, of what drove it and of its ledger, such as `finished`."""


@dataclass(frozen=True, slots=True)
class Lanes:
    """Lanes of a march, and the scenarios that share them because they differ in money alone."""

    places: list[int]
    ride: Ride


def run_together(
    group: Sequence[Resolved], finish: Finish[T], shared: Shared | None = None, room: Room | None = None
) -> list[T | str]:
    """Return the year of each of several scenarios, bit for bit what it is alone.

    Parameters
    ----------
    group : scenarios with weather and houses; those of one layout share a march
    finish : what is made of each: `finished` gives a `Result`, `finished_in_brief` what a sweep keeps
    shared : what they have in common with others before them
    room : where their ledgers are kept while they are finished; only where `finish` gives nothing that looks
        at them later

    Returns
    -------
    in their order what `finish` gives, or the reason why a scenario has none
    """
    common = Shared() if shared is None else shared
    found: dict[int, T | str] = {}
    marches: dict[tuple[object, ...], dict[tuple[str, bytes], Lanes]] = {}
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
        ride = Ride(member, drive, first_temperature(whole[place]))
        side_by_side = marches.setdefault(_layout(ride), {})
        same = (drive.digest, _digest(member, digests))
        side_by_side.setdefault(same, Lanes([], ride)).places.append(place)
    for alike in marches.values():
        lot = list(alike.values())
        for first in range(0, len(lot), WIDTH):  # as many as fill a block for each house
            found.update(_one_march(whole, lot[first : first + WIDTH], finish, room))
    return [found[place] for place in range(len(group))]


def _layout(ride: Ride) -> tuple[object, ...]:
    """Return what has to be the same for two scenarios to share a march: all but what is in a lane."""
    shapes = tuple(
        array.shape[: LANE_AXIS.get(name, -1)] + array.shape[LANE_AXIS.get(name, -1) :][1:]
        for name, array in _leaves(ride.member, "")
        if isinstance(array, np.ndarray)
    )
    plain = tuple(value for _, value in _leaves(ride.member, "") if not isinstance(value, np.ndarray))
    return (ride.drive.here.series.step, ride.lanes, plain, shapes)


def _one_march(
    group: Sequence[Resolved], lot: Sequence[Lanes], finish: Finish[T], room: Room | None
) -> dict[int, T | str]:
    found: dict[int, T | str] = {}
    for lanes, hours in zip(lot, march_year([lanes.ride for lanes in lot], room), strict=True):
        try:  # what has to be taken anew is so alone, and does not touch the others
            mine, drive = settled(hours, lanes.ride.drive, partial(march_again, lanes.ride))
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
    if name == WEATHER:
        return
    if isinstance(part, tuple) and hasattr(part, "_fields"):
        for field in part._fields:
            yield from _leaves(getattr(part, field), field)
    else:
        yield name, part
