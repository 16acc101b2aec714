"""What the march carries from step to step, and the scratch arrays that a step works in."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.collector.network import NODES_BEHIND_PANES, FlowTable, Forcing, Network
from simengine.collector.segments import Stage, new_stage
from simengine.collector.streams import Edges, new_edges
from simengine.engine.ledger import COLUMNS

Array = NDArray[np.float64]

NOW, TRIAL, HALFWAY = 0, 1, 2
"""Buffers of the state: at the start of a step, at its end, where a fan switches within it."""

ROOM, MASS, SECOND, SECOND_MASS, SENSOR, ROOM_SENSOR = 0, 1, 2, 3, 4, 5
"""Rows of State.zone [K]: air and mass of room and second space, then what the sensors read."""

ZONE_STATE = 6
"""How many rows those are."""

HEATED_SPACE, SECOND_SPACE, OUTDOORS = 0, 1, 2
"""Where the collector's air is taken from, and given to."""

WARM, BLOCKED, RUNNING, SINCE, HIGH, DRIFT = 0, 1, 2, 3, 4, 5
"""Rows of State.control: latches (1 or 0), seconds since the fan was switched, and the share of full flow
that moves by itself while the fan rests, or the speed of a fan that follows the signal."""
CONTROL_ROWS = 6


class Member(NamedTuple):
    """Everything that is fixed during a march: collector, air loop, control, house, their weather."""

    network: Network
    table: FlowTable
    forcing: Forcing
    rule: Array  # [Rule, lane]
    drive: Array  # [interval, lane] factor on the fan's speed, 0 where it may not run
    passive: Array  # [Passive, lane] the loop while the fan rests
    zone: Array  # [Zone, lane]; with a second space [Zone + SecondZone, lane]
    demand: Array  # [interval, Demand, lane]; with a second space [interval, Demand + SecondDemand, lane]
    taken: int = HEATED_SPACE  # where the air is taken from
    given: int = HEATED_SPACE  # where it is given to


class State(NamedTuple):
    """The state of all members at one moment, in three buffers; `NOW` is the one that counts."""

    nodes: Array  # [buffer, node, segment, lane] K
    rate: Array  # [buffer, node, segment, lane] K/s at that moment
    zone: Array  # [buffer, ZONE_STATE, lane] K
    zone_rate: Array  # [buffer, ZONE_STATE, lane] K/s
    control: Array  # [CONTROL_ROWS, lane]


class Scratch(NamedTuple):
    """Work space of a step, so that the march takes no memory."""

    stage: Stage
    edges: Edges
    inlet: Array  # [2, lane] air at the collector inlet: constant [K], weight of the space beside it [-]
    zone_begin: Array  # [ZONE_STATE, lane] K
    place: Array  # [stage, 2, lane] what the collector's and the room's sensor feel at both stages, K
    speed: Array  # [lane] share of full flow, below 0 where air flows back
    fan: Array  # [lane] 1 where the fan drives it
    match: Array  # [6, lane] how the speed is found that fits what it leads to, see `free_speed`
    length: Array  # [lane] s, of the part of the step that is taken
    left: Array  # [lane] s, what is left of the step
    part: Array  # [column, lane] ledger of one part of a step
    whole: Array  # [column, lane] ledger of a step
    interval: Array  # [column, lane] ledger of a weather interval


def new_state(panes: int, segments: int, lanes: int, temperature: float) -> State:
    """Return a state in which everything stands at one temperature [K] and the fan at rest."""
    shape = (3, panes + NODES_BEHIND_PANES, segments, lanes)
    control = np.zeros((CONTROL_ROWS, lanes))
    control[SINCE] = 1.0e9
    return State(
        np.full(shape, temperature),
        np.zeros(shape),
        np.full((3, ZONE_STATE, lanes), temperature),
        np.zeros((3, ZONE_STATE, lanes)),
        control,
    )


def new_scratch(panes: int, segments: int, lanes: int) -> Scratch:
    """Return empty work space for so many panes, segments and lanes."""
    return Scratch(
        stage=new_stage(panes, panes + NODES_BEHIND_PANES, segments, lanes),
        edges=new_edges(segments, lanes),
        inlet=np.zeros((2, lanes)),
        zone_begin=np.zeros((ZONE_STATE, lanes)),
        place=np.zeros((2, 2, lanes)),
        speed=np.zeros(lanes),
        fan=np.zeros(lanes),
        match=np.zeros((6, lanes)),
        length=np.zeros(lanes),
        left=np.zeros(lanes),
        part=np.zeros((COLUMNS, lanes)),
        whole=np.zeros((COLUMNS, lanes)),
        interval=np.zeros((COLUMNS, lanes)),
    )
