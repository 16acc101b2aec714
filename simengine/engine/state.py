"""What the march carries from step to step, and the scratch arrays that a step works in."""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.collector.frozen import Stage, new_stage
from simengine.collector.network import NODES_BEHIND_PANES, FlowTable, Forcing, Network, Weather
from simengine.collector.streams import Edges, new_edges
from simengine.engine.ledger import COLUMNS
from simengine.house.second_space import SecondDemand
from simengine.house.zone import DEMAND_FIELDS

Array = NDArray[np.float64]

NOW, TRIAL = 0, 1
"""Buffers of the state: at the start of a part of a step, and at its end."""

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
    """The state of all members at one moment, in two buffers; `NOW` is the one that counts."""

    nodes: Array  # [buffer, node, segment, lane] K
    rate: Array  # [buffer, node, segment, lane] K/s at that moment
    zone: Array  # [buffer, ZONE_STATE, lane] K
    control: Array  # [CONTROL_ROWS, lane]


class Scratch(NamedTuple):
    """Work space of the lanes, so that the march takes no memory; each lane has its own clock."""

    stage: Stage
    edges: Edges
    inlet: Array  # [2, lane] air at the collector inlet: constant [K], weight of the space beside it [-]
    zone_begin: Array  # [ZONE_STATE, lane] K
    place: Array  # [stage, 2, lane] what the collector's and the room's sensor feel at both stages, K
    sensor_rate: Array  # [2, lane] how fast both move at the end, K/s
    weather: Array  # [Weather, lane] of the interval that the lane is in
    sun: Array  # [pane + 1, lane] absorbed, of that interval, W/m2
    drive: Array  # [1, lane] of that interval, see Member.drive
    demand: Array  # [1, Demand + SecondDemand, lane] of that interval
    speed: Array  # [lane] share of full flow, below 0 where air flows back
    fan: Array  # [lane] 1 where the fan drives it
    match: Array  # [MATCH_ROWS, lane] how the speed is found that fits what it leads to
    clock: Array  # [CLOCK_ROWS, lane]
    part: Array  # [column, lane] ledger of one part of a step
    balance: Array  # [4, lane] of a step: residual and size of the collector's terms, then of the house's
    interval: Array  # [column, lane] ledger of a weather interval


# Rows of Scratch.clock
FIRST = 0  # where the lane's weather begins in the forcing
INTERVAL = 1  # number of the weather interval
STEP = 2  # [s] length of the step
STEPS_LEFT = 3  # how many of them are left; 0 at the end of the year
LEFT = 4  # [s] what is left of the step
LENGTH = 5  # [s] of the part of the step that is tried
CALM = 6  # [s] since the fan was last told something else
CUT = 7  # 1 where the part ends at such a moment
CUTS = 8  # how many of these there were of late; they are forgotten with time
TAKEN = 9  # 1 where the part that was tried is taken
RISE = 10  # [s] by which each step of an interval is longer than the one before
CLOCK_ROWS = 11

# Rows of Scratch.match
FREE = 0  # 1 where the speed hangs on what it leads to
LOW, TOP = 1, 2  # bounds of the search
OLD, OLD_GAP = 3, 4  # the last speed tried, and how much more it asked for
KNOWN = 5  # 0 while none is known, 1 then, 2 where the speed fits
TURNS = 6  # how often it was tried
MATCH_ROWS = 7


def new_state(panes: int, segments: int, lanes: int, temperature: float | Array) -> State:
    """Return a state in which everything stands at one temperature [K] and the fan at rest."""
    shape = (2, panes + NODES_BEHIND_PANES, segments, lanes)
    control = np.zeros((CONTROL_ROWS, lanes))
    control[SINCE] = 1.0e9
    return State(
        np.full(shape, temperature),
        np.zeros(shape),
        np.full((2, ZONE_STATE, lanes), temperature),
        control,
    )


def new_scratch(panes: int, segments: int, lanes: int) -> Scratch:
    """Return empty work space for so many panes, segments and lanes."""
    clock = np.zeros((CLOCK_ROWS, lanes))
    clock[CALM] = 1.0e9
    return Scratch(
        stage=new_stage(panes, panes + NODES_BEHIND_PANES, segments, lanes),
        edges=new_edges(segments, lanes),
        inlet=np.zeros((2, lanes)),
        zone_begin=np.zeros((ZONE_STATE, lanes)),
        place=np.zeros((2, 2, lanes)),
        sensor_rate=np.zeros((2, lanes)),
        weather=np.zeros((len(Weather._fields), lanes)),
        sun=np.zeros((panes + 1, lanes)),
        drive=np.zeros((1, lanes)),
        demand=np.zeros((1, DEMAND_FIELDS + len(SecondDemand._fields), lanes)),
        speed=np.full(lanes, np.nan),  # no flow has been read yet
        fan=np.zeros(lanes),
        match=np.zeros((MATCH_ROWS, lanes)),
        clock=clock,
        part=np.zeros((COLUMNS, lanes)),
        balance=np.zeros((4, lanes)),
        interval=np.zeros((COLUMNS, lanes)),
    )
