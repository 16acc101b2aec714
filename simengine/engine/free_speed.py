"""Air whose speed hangs on what it leads to: a fan that follows its signal, or air that moves by itself.

Such a speed must fit the temperatures at the end of the part of the step that it drives; were it taken
from those at the start, flow and temperature would chase each other.
"""

import math

from simengine.airflow.passive import column_pressure, read_passive, share_driven
from simengine.collector.network import read_box
from simengine.collector.streams import BY_FRONT, BY_REAR, FRONT, REAR
from simengine.compiled import kernel
from simengine.control.rule import read_rule, speed
from simengine.engine.fan import blow, recall
from simengine.engine.state import (
    ROOM,
    ROOM_SENSOR,
    SECOND,
    SECOND_SPACE,
    SENSOR,
    TRIAL,
    FREE,
    LOW,
    TOP,
    OLD,
    OLD_GAP,
    KNOWN,
    TURNS,
    Member,
    Scratch,
    State,
)

MOST_TURNS = 12
TOLERANCE = 1.0e-3
"""A speed fits when what it leads to asks for the same within this share of it [-]."""
SLOWEST = 1.0e-4
"""At rest, what is asked for may be as large as the tolerance of this speed [-]."""


@kernel
def begin_search(work: Scratch, lane: int) -> None:
    """Make ready for a new part of a step; a speed that is not free fits as it is."""
    work.match[LOW, lane] = -1.0
    work.match[TOP, lane] = 1.0
    work.match[TURNS, lane] = 0.0
    work.match[KNOWN, lane] = 0.0 if work.match[FREE, lane] > 0.5 else 2.0


@kernel
def speed_fits(member: Member, state: State, work: Scratch, lane: int) -> bool:
    """Return whether the speed fits the state that it led to; if not, put a better one in its place.

    Parameters
    ----------
    member, state, lane : what is marched, its buffer `TRIAL`, and which lane
    work : the speed, and how it is searched for

    Source: secant method between bounds.
    """
    match = work.match
    now = work.speed[lane]
    asked = _asked(member, state, work, lane)
    gap = asked - now
    match[TURNS, lane] += 1.0
    # a speed near rest asks for one near rest, whatever drives it: only rest itself may be so coarse
    fits = abs(gap) <= TOLERANCE * (abs(now) if now != 0.0 else SLOWEST)
    if fits | (match[TURNS, lane] >= MOST_TURNS):
        match[KNOWN, lane] = 2.0
        return True
    match[LOW, lane] = now if gap > 0.0 else match[LOW, lane]
    match[TOP, lane] = now if gap < 0.0 else match[TOP, lane]
    fall = match[OLD_GAP, lane] - gap
    straight = now + gap * (now - match[OLD, lane]) / (fall if fall != 0.0 else 1.0)
    known = (match[KNOWN, lane] > 0.5) & (fall != 0.0) & (asked != 0.0)  # what asks for rest is tried there
    better = straight if known else asked
    inside = (better > match[LOW, lane]) & (better < match[TOP, lane])
    match[OLD, lane] = now
    match[OLD_GAP, lane] = gap
    match[KNOWN, lane] = 1.0
    work.speed[lane] = better if inside else 0.5 * (match[LOW, lane] + match[TOP, lane])
    blow(member, work, lane)
    return False


@kernel
def _asked(member: Member, state: State, work: Scratch, lane: int) -> float:
    """Return the speed that the state at the end asks for."""
    if work.fan[lane] > 0.5:
        rule = read_rule(member.rule, work.drive, 0, lane)
        room = state.zone[TRIAL, ROOM_SENSOR, lane]
        signal = state.zone[TRIAL, SENSOR, lane] - rule.reference_weight * room
        return speed(recall(state, lane), rule, signal)
    passive = read_passive(member.passive, lane)
    # a loop between two spaces, or from outdoors, is taken as shut at rest: the air stands beside one space
    round_it = (member.taken == SECOND_SPACE) & (member.given == SECOND_SPACE)
    room = state.zone[TRIAL, SECOND if round_it else ROOM, lane]
    inverse, outlet = _column(member, work, room, lane)
    back = work.speed[lane] < 0.0
    # what flows back enters at the top: the riser is as warm as the room
    pressure = column_pressure(passive, room, inverse, room if back else outlet)
    return share_driven(passive, pressure, work.speed[lane])


@kernel
def _column(member: Member, work: Scratch, room: float, lane: int) -> tuple[float, float]:
    """Return the mean of 1/T along the air in the box [1/K], and its temperature at the end [K].

    Where the air comes down again behind the absorber, what it weighs on that way is taken off.
    """
    edges, response = work.edges, work.stage.response
    end = edges.outlet[0, lane] + edges.outlet[1, lane] * room
    segments = work.stage.film.shape[1]
    front_after, rear_after = end, end
    if member.network.counterflow:
        front_after = edges.rear[segments - 1, 0, lane] + edges.rear[segments - 1, 1, lane] * room
    share = read_box(member.network.box, lane).rear_share
    up, down = 0.0, 0.0
    for back in range(segments):
        s = segments - 1 - back
        front = edges.front[s, 0, lane] + edges.front[s, 1, lane] * room
        rear = edges.rear[s, 0, lane] + edges.rear[s, 1, lane] * room
        ahead = _inlet_weight(response[s, FRONT, BY_FRONT, lane])
        behind = _inlet_weight(response[s, REAR, BY_REAR, lane])
        up_front = ahead / front + (1.0 - ahead) / front_after
        if member.network.counterflow:
            first = s == 0
            left = end if first else edges.rear[s - 1, 0, lane] + edges.rear[s - 1, 1, lane] * room
            down += behind / rear + (1.0 - behind) / left - 1.0 / room
            up += up_front
        else:
            up += (1.0 - share) * up_front + share * (behind / rear + (1.0 - behind) / rear_after)
        front_after, rear_after = front, rear
    return (up - down) / segments, end


@kernel
def _inlet_weight(kept: float) -> float:
    """Return the weight of the inlet in the mean along an exponential that keeps so much of its excess.

    >>> round(_inlet_weight(math.exp(-1.0)), 4)  # 1 - 1/(1 - 1/e) + ... = (1 - 2/e)/(1 - 1/e)
    0.418
    """
    left = min(max(kept, 1.0e-9), 0.999)
    units = -math.log(left)
    return ((1.0 - left) / units - left) / (1.0 - left)
