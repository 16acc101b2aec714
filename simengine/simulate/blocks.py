"""Any number of lanes through their year, a block of them at a time in the processor's wide registers."""

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.collector.network import Forcing
from simengine.engine.ledger import COLUMNS
from simengine.engine.march import march, march_block
from simengine.engine.state import FIRST, Member, new_scratch, new_state
from simengine.simulate.drive import Drive
from simengine.simulate.houses_alone import warm_up, warm_up_plan
from simengine.vector import BLOCKS, WIDTH

Array = NDArray[np.float64]

LANE_AXIS = {"nusselt": 1}
"""Where the lane is not the last axis of an array."""

LINE = 64
"""Bytes of a cache line."""

WEATHER = "forcing"
"""The field of a member that all its lanes have in common."""


class Ride(NamedTuple):
    """The lanes of one scenario, and what drives them."""

    member: Member
    drive: Drive
    start: float  # [K] temperature of everything before the warm-up

    @property
    def lanes(self) -> int:
        """How many there are: one for each house."""
        return int(self.member.zone.shape[-1])


def march_year(rides: Sequence[Ride]) -> list[Array]:
    """Return the ledger of the year [interval, column, lane] of each ride, in J.

    Parameters
    ----------
    rides : of one layout (panes, segments, arrangement, spaces) and one number of intervals; each comes out
        the same alone and in company, bit for bit
    """
    singles = [_lane(ride, lane) for ride in rides for lane in range(ride.lanes)]
    hours = np.concatenate([_march(block) for block in _blocks(singles)], axis=2)
    edges = np.cumsum([ride.lanes for ride in rides])[:-1]
    return np.split(hours, edges, axis=2)


def march_again(ride: Ride, drive: Drive) -> Array:
    """Return the ledger of one ride, driven otherwise [interval, column, lane], in J.

    Parameters
    ----------
    ride : as for `march_year`
    drive : in the place of its own
    """
    return march_year([ride._replace(drive=drive)])[0]


def _blocks(singles: Sequence[Ride]) -> Iterator[Sequence[Ride]]:
    for first in range(0, len(singles), WIDTH):
        yield singles[first : first + WIDTH]


def _march(singles: Sequence[Ride]) -> Array:
    """Return the ledger of at most a block of single lanes."""
    lanes = WIDTH if BLOCKS else len(singles)
    idle = [singles[-1]] * (lanes - len(singles))  # lanes too few are filled up with copies
    riders = [*singles, *idle]
    drives = {id(ride.drive): ride.drive for ride in riders}
    places = {key: number for number, key in enumerate(drives)}
    weather = np.concatenate([drive.forcing.weather for drive in drives.values()])
    absorbed = np.concatenate([drive.forcing.absorbed for drive in drives.values()])
    plan = np.concatenate([drive.plan for drive in drives.values()])
    member = joined([ride.member for ride in riders])._replace(forcing=Forcing(weather, absorbed))
    member = _on_lines(member)
    seconds, count = float(riders[0].drive.here.series.step), riders[0].drive.plan.size
    panes, segments = member.network.panes, member.network.path.shape[1]
    state = new_state(panes, segments, lanes, np.array([ride.start for ride in riders]))
    state, work = _on_lines(state), _on_lines(new_scratch(panes, segments, lanes))
    begins = np.array([places[id(ride.drive)] * count for ride in riders], dtype=np.float64)
    last = warm_up(count, seconds)
    early = member._replace(drive=member.drive[-last:], demand=member.demand[-last:])
    hours = _on_line(np.zeros((count, COLUMNS, lanes)))
    go = march_block if BLOCKS else march
    work.clock[FIRST] = begins + count - last
    go(early, warm_up_plan(plan), seconds, state, work, hours[:0])
    work.clock[FIRST] = begins
    go(member, plan, seconds, state, work, hours)
    return hours[:, :, : len(singles)]


def _on_lines(part: Any) -> Any:
    """Return the same numbers, each array from the beginning of a cache line on: a block is one line."""
    if isinstance(part, np.ndarray):
        return _on_line(part)
    if isinstance(part, tuple):
        return type(part)(*(_on_lines(one) for one in part))
    return part


def _on_line(array: Array) -> Array:
    room = np.empty(array.nbytes + LINE, dtype=np.uint8)
    begin = -room.ctypes.data % LINE
    placed = room[begin : begin + array.nbytes].view(array.dtype).reshape(array.shape)
    placed[...] = array
    return placed


def _lane(ride: Ride, lane: int) -> Ride:
    """Return one lane of a ride."""
    if ride.lanes == 1:
        return ride
    return ride._replace(member=_picked(ride.member, "", lane))


def _picked(part: Any, name: str, lane: int) -> Any:
    if name == WEATHER:
        return part
    if isinstance(part, np.ndarray):
        return np.take(part, [lane], axis=LANE_AXIS.get(name, -1))
    if isinstance(part, tuple):
        fields: tuple[str, ...] = getattr(part, "_fields")  # noqa: B009
        return type(part)(*(_picked(getattr(part, field), field, lane) for field in fields))
    return part


def joined(members: Sequence[Member]) -> Member:
    """Return one member whose lanes are those of several of one layout; its weather is the first one's."""
    together: Member = _joined(members, "")
    return together


def _joined(parts: Sequence[Any], name: str) -> Any:
    first = parts[0]
    if len(parts) == 1 or name == WEATHER:
        return first
    if isinstance(first, np.ndarray):
        return np.ascontiguousarray(np.concatenate(parts, axis=LANE_AXIS.get(name, -1)))
    if isinstance(first, tuple):
        fields: tuple[str, ...] = getattr(first, "_fields")  # noqa: B009
        return type(first)(*(_joined([getattr(part, field) for part in parts], field) for field in fields))
    return first
