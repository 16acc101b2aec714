"""Any number of lanes through their year, a block of them at a time in the processor's wide registers."""

from collections.abc import Sequence
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.collector.network import Forcing
from simengine.engine.ledger import COLUMNS
from simengine.engine.march import march, march_block
from simengine.engine.state import FIRST, Member, new_scratch, new_state
from simengine.simulate.drive import Drive
from simengine.simulate.houses_alone import warm_up
from simengine.vector import BLOCKS, WIDTH

Array = NDArray[np.float64]

LANE_AXIS = {"nusselt": 1}
"""Where the lane is not the last axis of an array."""

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
    """Memory for the ledgers of a march, kept for the next one: the system takes long to clear it."""

    def __init__(self) -> None:
        self.years = np.empty((0, COLUMNS, 0))

    def of(self, lanes: int, count: int) -> Array:
        """Return room for the years of so many lanes [lane, column, interval]; it holds anything.

        Parameters
        ----------
        lanes : how many [-]
        count : intervals of a year [-]
        """
        if self.years.shape != (lanes, COLUMNS, count):
            self.years = np.empty((lanes, COLUMNS, count))
        return self.years


def march_year(rides: Sequence[Ride], room: Room | None = None) -> list[Array]:
    """Return the ledger of the year [interval, column, lane] of each ride, in J.

    Parameters
    ----------
    rides : of one layout (panes, segments, arrangement, spaces) and one number of intervals; each comes out
        the same alone and in company, bit for bit
    room : where the ledgers are kept, to be overwritten by the next march in it; None: in memory of their own

    Returns
    -------
    ledgers, the intervals of a column side by side in memory
    """
    singles = [_lane(ride, lane) for ride in rides for lane in range(ride.lanes)]
    side_by_side = WIDTH if BLOCKS else len(singles)
    lanes = -(-len(singles) // side_by_side) * side_by_side
    years = (room or Room()).of(lanes, rides[0].drive.plan.size)
    for first in range(0, lanes, side_by_side):
        _march(singles[first : first + side_by_side], years[first : first + side_by_side].T)
    edges = np.cumsum([0, *(ride.lanes for ride in rides)])
    return [years[first:beyond].T for first, beyond in pairwise(edges)]


def march_again(ride: Ride, drive: Drive) -> Array:
    """Return the ledger of one ride, driven otherwise [interval, column, lane], in J.

    Parameters
    ----------
    ride : as for `march_year`
    drive : in the place of its own
    """
    return march_year([ride._replace(drive=drive)])[0]


def _march(singles: Sequence[Ride], hours: Array) -> None:
    """Write the ledger [interval, column, lane] of at most a block of single lanes."""
    lanes = hours.shape[2]
    idle = [singles[-1]] * (lanes - len(singles))  # lanes too few are filled up with copies
    riders = [*singles, *idle]
    drives = {id(ride.drive): ride.drive for ride in riders}
    places = {key: number for number, key in enumerate(drives)}
    weather = np.concatenate([drive.forcing.weather for drive in drives.values()])
    absorbed = np.concatenate([drive.forcing.absorbed for drive in drives.values()])
    plan = np.concatenate([drive.plan for drive in drives.values()])
    month = np.concatenate([drive.here.month for drive in drives.values()])
    member = joined([ride.member for ride in riders])._replace(forcing=Forcing(weather, absorbed))
    seconds, count = float(riders[0].drive.here.series.step), riders[0].drive.plan.size
    panes, segments = member.network.panes, member.network.path.shape[1]
    state = new_state(panes, segments, lanes, np.array([ride.start for ride in riders]))
    work = new_scratch(panes, segments, lanes)
    begins = np.array([places[id(ride.drive)] * count for ride in riders], dtype=np.float64)
    last = warm_up(count, seconds)
    early = member._replace(drive=member.drive[-last:], demand=member.demand[-last:])
    months = np.zeros((12, COLUMNS, lanes))
    go = march_block if BLOCKS else march
    work.clock[FIRST] = begins + count - last
    go(early, plan, month, seconds, state, work, hours, months)  # what it writes is overwritten
    work.clock[FIRST] = begins
    go(member, plan, month, seconds, state, work, hours, months)


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
