"""Any number of lanes through their year, a block of them at a time in the processor's wide registers."""

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.collector.network import Forcing
from simengine.engine.ledger import COLUMNS
from simengine.engine.march import march, march_block
from simengine.engine.state import FIRST, Member, new_scratch, new_state
from simengine.simulate.drive import Drive
from simengine.simulate.houses_alone import warm_up, warm_up_plan
from simengine.simulate.kept import Kept
from simengine.vector import BLOCKS, WIDTH

Array = NDArray[np.float64]

MOST_JOINED = 64
"""Arrays that are kept joined: a march has two dozen, the largest takes 3 MB."""

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


class Room:
    """What one march leaves for the next: memory for its ledgers, and arrays that it has joined."""

    def __init__(self) -> None:
        self.years = np.empty((0, COLUMNS, 0))
        self.joined = Kept(MOST_JOINED)

    def of(self, lanes: int, count: int) -> Array:
        """Return room for the years of so many lanes [lane, column, interval]; it holds anything.

        The system takes long to clear new memory, and a block needs 20 MB.

        Parameters
        ----------
        lanes : how many [-]
        count : intervals of a year [-]
        """
        if self.years.shape != (lanes, COLUMNS, count):
            self.years = np.empty((lanes, COLUMNS, count))
        return self.years

    def join(self, arrays: Sequence[Array], lanes: Sequence[int], axis: int) -> Array:
        """Return one lane of each of several arrays side by side.

        Arrays are told apart by identity: what members of a sweep share is one and the same array.

        Parameters
        ----------
        arrays : of one shape but for the number of lanes; nobody changes them afterwards
        lanes : which lane of each [-]
        axis : where their lanes are [-]
        """
        hangs_on = tuple(zip(map(id, arrays), lanes, strict=True))
        _, together = self.joined.once(hangs_on, lambda: (arrays, _side_by_side(arrays, lanes, axis)))
        return together  # type: ignore[no-any-return]


def march_year(rides: Sequence[Ride], room: Room | None = None) -> list[Array]:
    """Return the ledger of the year [interval, column, lane] of each ride, in J.

    Parameters
    ----------
    rides : of one layout (panes, segments, arrangement, spaces, how many houses) and one number of intervals;
        each comes out the same alone and in company, bit for bit
    room : where the ledgers are kept, to be overwritten by the next march in it; None: in memory of their own

    Returns
    -------
    ledgers, the intervals of a column side by side in memory
    """
    # house by house: a block goes on until its last lane is done, and the fan switches alike for like houses
    singles = [(ride, lane) for lane in range(rides[0].lanes) for ride in rides]
    side_by_side = WIDTH if BLOCKS else len(singles)
    lanes = -(-len(singles) // side_by_side) * side_by_side
    room = room or Room()
    years = room.of(lanes, rides[0].drive.plan.size)
    for first in range(0, lanes, side_by_side):
        block = slice(first, first + side_by_side)
        _march(singles[block], years[block].T, room)
    return [years[first : len(singles) : len(rides)].T for first in range(len(rides))]


def march_again(ride: Ride, drive: Drive) -> Array:
    """Return the ledger of one ride, driven otherwise [interval, column, lane], in J.

    Parameters
    ----------
    ride : as for `march_year`
    drive : in the place of its own
    """
    return march_year([ride._replace(drive=drive)])[0]


def _march(singles: Sequence[tuple[Ride, int]], hours: Array, room: Room) -> None:
    """Write the ledger [interval, column, lane] of at most a block of lanes, each one lane of a ride."""
    lanes = hours.shape[2]
    idle = [singles[-1]] * (lanes - len(singles))  # lanes too few are filled up with copies
    riders, places = zip(*singles, *idle, strict=True)
    drives = {id(ride.drive): ride.drive for ride in riders}
    numbers = {key: number for number, key in enumerate(drives)}
    weather = _one_after_the_other([drive.forcing.weather for drive in drives.values()])
    absorbed = _one_after_the_other([drive.forcing.absorbed for drive in drives.values()])
    plan = _one_after_the_other([drive.plan for drive in drives.values()])
    forcing = Forcing(weather, absorbed)
    member = joined([ride.member for ride in riders], places, room)._replace(forcing=forcing)
    seconds, count = float(riders[0].drive.here.series.step), riders[0].drive.plan.size
    panes, segments = member.network.panes, member.network.path.shape[1]
    state = new_state(panes, segments, lanes, np.array([ride.start for ride in riders]))
    state, work = _on_lines(state), _on_lines(new_scratch(panes, segments, lanes))
    begins = np.array([numbers[id(ride.drive)] * count for ride in riders], dtype=np.float64)
    last = warm_up(count, seconds)
    early = member._replace(drive=member.drive[-last:], demand=member.demand[-last:])
    go = march_block if BLOCKS else march
    work.clock[FIRST] = begins + count - last
    go(early, warm_up_plan(plan), seconds, state, work, hours)  # to be overwritten
    work.clock[FIRST] = begins
    go(member, plan, seconds, state, work, hours)


def _one_after_the_other(arrays: Sequence[Any]) -> Any:
    return arrays[0] if len(arrays) == 1 else np.concatenate(arrays)


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


def joined(members: Sequence[Member], lanes: Sequence[int], room: Room) -> Member:
    """Return one lane of each of several members of one layout as one member; its weather is the first one's.

    Parameters
    ----------
    members : the same one may come several times
    lanes : which lane of each [-]
    room : keeps what has been joined
    """
    together: Member = _joined(members, lanes, "", room)
    return together


def _joined(parts: Sequence[Any], lanes: Sequence[int], name: str, room: Room) -> Any:
    first = parts[0]
    if name == WEATHER:
        return first
    if isinstance(first, np.ndarray):
        return room.join(parts, lanes, LANE_AXIS.get(name, -1))
    if isinstance(first, tuple):
        fields: tuple[str, ...] = getattr(first, "_fields")  # noqa: B009
        columns = ([getattr(part, field) for part in parts] for field in fields)
        return type(first)(*map(lambda column, field: _joined(column, lanes, field, room), columns, fields))
    return first


def _side_by_side(arrays: Sequence[Array], lanes: Sequence[int], axis: int) -> Array:
    picked = [np.take(array, lane, axis=axis) for array, lane in zip(arrays, lanes, strict=True)]
    return _on_line(np.stack(picked, axis=axis))
