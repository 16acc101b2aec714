"""What is frozen of a collector for a step, and how the numbers of a segment lie in it."""

from typing import NamedTuple

import numpy as np

from simengine.collector.balance import Answer, Walls
from simengine.collector.network import AirFlow, Array
from simengine.compiled import kernel


class Stage(NamedTuple):
    """What one implicit stage reads, and what is frozen for both stages of a step."""

    guess: Array  # [node, segment, lane] temperatures at which conductances are taken, K
    begin: Array  # [node, segment, lane] temperatures from which the implicit stage starts, K
    per_second: Array  # [lane] 1 / length of the implicit stage, 1/s
    flow: Array  # [AirFlow, lane]
    film: Array  # [2, segment, lane] forced films, W/m2K
    cover: Array  # [3, segment, lane] outermost face to sky and to ground [W/m2K], 1 / all it sees [m2K/W]
    outside: Array  # [segment, lane] what the middle of the outermost pane gets from outdoors, W/m2
    pane: Array  # [pane, 3, segment, lane] weight of the next node inwards -, 1 / pivot m2K/W, source W/m2
    behind: Array  # [Behind, lane]
    walls: Array  # [Walls, segment, lane]
    response: (
        Array  # [segment, output, coefficient, lane] constant [K], weights of room, front, rear inlet [-]
    )


class Behind(NamedTuple):
    """What lies behind the inner face of the back, eliminated: the mass of the insulation and the box."""

    mass_share: float  # [-] weight of the face in the mass
    mass: float  # [m2K/W] 1 / pivot
    skin_share: float  # [-] weight of the mass in the box
    skin: float  # [m2K/W] 1 / pivot
    conductance: float  # [W/m2K] that the face sees, its own storage included
    room: float  # [W/m2K] source at the face per kelvin of room temperature


def new_stage(panes: int, nodes: int, segments: int, lanes: int) -> Stage:
    """Return an empty `Stage`."""
    return Stage(
        guess=np.zeros((nodes, segments, lanes)),
        begin=np.zeros((nodes, segments, lanes)),
        per_second=np.zeros(lanes),
        flow=np.zeros((len(AirFlow._fields), lanes)),
        film=np.zeros((2, segments, lanes)),
        cover=np.zeros((3, segments, lanes)),
        outside=np.zeros((segments, lanes)),
        pane=np.zeros((panes, 3, segments, lanes)),
        behind=np.zeros((len(Behind._fields), lanes)),
        walls=np.zeros((len(Walls._fields), segments, lanes)),
        response=np.zeros((segments, 5, 4, lanes)),
    )


@kernel
def read_behind(rows: Array, lane: int) -> Behind:
    """Return the `Behind` of one lane."""
    return Behind(rows[0, lane], rows[1, lane], rows[2, lane], rows[3, lane], rows[4, lane], rows[5, lane])


@kernel
def store_walls(walls: Walls, rows: Array, segment: int, lane: int) -> None:
    """Store the walls of a segment in rows [Walls, segment, lane].

    Parameters
    ----------
    walls : of the segment
    rows : receives them
    segment, lane : which segment of which member [-]
    """
    rows[0, segment, lane] = walls.cover
    rows[1, segment, lane] = walls.absorber
    rows[2, segment, lane] = walls.back
    rows[3, segment, lane] = walls.cover_absorber
    rows[4, segment, lane] = walls.absorber_back
    rows[5, segment, lane] = walls.absorber_cover
    rows[6, segment, lane] = walls.back_cover
    rows[7, segment, lane] = walls.back_absorber
    rows[8, segment, lane] = walls.front_cover
    rows[9, segment, lane] = walls.front_absorber
    rows[10, segment, lane] = walls.rear_cover
    rows[11, segment, lane] = walls.rear_absorber
    rows[12, segment, lane] = walls.rear_back


@kernel
def read_walls(rows: Array, segment: int, lane: int) -> Walls:
    """Return the `Walls` of one segment of one lane."""
    return Walls(
        rows[0, segment, lane],
        rows[1, segment, lane],
        rows[2, segment, lane],
        rows[3, segment, lane],
        rows[4, segment, lane],
        rows[5, segment, lane],
        rows[6, segment, lane],
        rows[7, segment, lane],
        rows[8, segment, lane],
        rows[9, segment, lane],
        rows[10, segment, lane],
        rows[11, segment, lane],
        rows[12, segment, lane],
    )


@kernel
def store_answer(value: Answer, response: Array, segment: int, coefficient: int, lane: int) -> None:
    """Store an answer as one coefficient of `Stage.response`.

    Parameters
    ----------
    value : temperatures or weights [K] or [-]
    response : receives them
    segment, coefficient, lane : which one of which segment of which member [-]
    """
    response[segment, 0, coefficient, lane] = value.cover
    response[segment, 1, coefficient, lane] = value.absorber
    response[segment, 2, coefficient, lane] = value.back
    response[segment, 3, coefficient, lane] = value.front_out
    response[segment, 4, coefficient, lane] = value.rear_out
