"""The house's part of a stage: where the collector's air is taken from and given to, and what it does there.

The air stream is affine in the temperature of one space, the one "beside" the collector: the heated
space, or the second space where air is taken from it and given back to it.
"""

from typing import NamedTuple

from simengine.collector.network import AirFlow
from simengine.compiled import kernel
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.engine.state import (
    HEATED_SPACE,
    MASS,
    OUTDOORS,
    ROOM,
    SECOND,
    SECOND_MASS,
    SECOND_SPACE,
    Array,
    Member,
    Scratch,
)
from simengine.house.second_space import (
    SecondAnswer,
    SecondLink,
    link_second,
    read_second,
    read_second_demand,
    settle_second,
)
from simengine.house.zone import (
    ZONE_ROWS,
    ZoneAnswer,
    read_demand,
    read_zone,
    replaced_ventilation,
    settle_zone,
)
from simengine.vector import same_in


class Rooms(NamedTuple):
    """All spaces at the end of a stage, and what the air stream carries between them."""

    room: ZoneAnswer
    second: SecondAnswer
    beside: float  # [K] the space in which the air stream is counted
    source: float  # [K] air where it is taken
    receiver: float  # [K] air of the space that it is given to
    carried: float  # [W] by air from the receiver to the space that it is taken from
    fresh_air: float  # [W] that lifts outdoor air to the receiver's temperature
    drawn: float  # [W] lost because cracks of the box push the receiver's air out, not the source's
    replaced: float  # [W] loss of the house's own ventilation that is needless


@kernel
def air_taken(member: Member, ambient: float, work: Scratch, lane: int, flow: AirFlow) -> tuple[float, float]:
    """Return the air where the return duct begins, affine in the space beside the collector [K], [-].

    Parameters
    ----------
    member, lane : what is marched
    ambient : outdoor temperature [K]
    work : the stage's start and length are read
    flow : of the air stream

    Source: from one space to the other, an equal mass flows back through the door at room temperature.
    """
    if member.taken == OUTDOORS:
        return ambient, same_in(lane, 0.0)
    if (member.taken == SECOND_SPACE) & (member.given == HEATED_SPACE):
        back = (1.0 - flow.leak_in) * flow.mass_flow * SPECIFIC_HEAT_AIR
        link = _link(member, ambient, work, lane, (same_in(lane, 0.0), -back, back))
        return link.rise + (1.0 - link.slope) * link.origin, link.slope
    return same_in(lane, 0.0), same_in(lane, 1.0)


@kernel
def settle_rooms(
    member: Member,
    ambient: float,
    work: Scratch,
    lane: int,
    flow: AirFlow,
    stream: tuple[float, float],
    wall: tuple[float, float],
) -> Rooms:
    """Return all spaces at the end of the stage.

    Parameters
    ----------
    member, ambient, work, lane, flow : as for `air_taken`
    stream : supply air is stream[0] + stream[1] * T beside the collector [K], [-]
    wall : heat through the wall behind the collector is wall[0] + wall[1] * T_room [W], [W/K]

    Source: `settle_zone`, with the second space eliminated by `link_second`.
    """
    begin, per_second = work.zone_begin, work.stage.per_second[lane]
    zone, demand = read_zone(member.zone, lane), read_demand(work.demand, 0, lane)
    start = (begin[ROOM, lane], begin[MASS, lane])
    capacity = flow.mass_flow * SPECIFIC_HEAT_AIR
    here = member.given == HEATED_SPACE
    share = 1.0 if here else 0.0
    heat = (
        share * (capacity * stream[0] + flow.fan_heat) + wall[0],
        share * (capacity * (stream[1] - 1.0)) + wall[1],
    )
    nothing = same_in(lane, 0.0)
    freed = nothing
    if (member.taken == OUTDOORS) & here:
        own = zone.ventilation + demand.infiltration
        freed = replaced_ventilation(own, zone.recovered, capacity)
        heat = (heat[0] - freed * ambient, heat[1] + freed)
    if member.zone.shape[0] <= ZONE_ROWS:
        room = settle_zone(zone, demand, ambient, start, per_second, heat)
        source = ambient if member.taken == OUTDOORS else room.air
        none = SecondAnswer(begin[SECOND, lane], begin[SECOND_MASS, lane], nothing, nothing, nothing)
        fresh_air = capacity * (room.air - source)
        replaced = freed * (room.air - ambient)
        return Rooms(room, none, room.air, source, room.air, nothing, fresh_air, nothing, replaced)
    return _settle_both(member, ambient, work, lane, flow, stream, heat, freed)


@kernel
def _settle_both(
    member: Member,
    ambient: float,
    work: Scratch,
    lane: int,
    flow: AirFlow,
    stream: tuple[float, float],
    heat: tuple[float, float],
    freed: float,
) -> Rooms:
    begin, per_second = work.zone_begin, work.stage.per_second[lane]
    space = read_second(member.zone, lane)
    capacity = flow.mass_flow * SPECIFIC_HEAT_AIR
    here, outside = member.given == HEATED_SPACE, member.taken == OUTDOORS
    round_it = (member.taken == SECOND_SPACE) & (member.given == SECOND_SPACE)
    apart = (member.taken != member.given) & (member.taken != OUTDOORS)
    nothing = same_in(lane, 0.0)
    back = (1.0 - flow.leak_in) * capacity if apart else nothing
    if here:
        brought = (nothing, -back, back)
    elif round_it:
        brought = (capacity * stream[0] + flow.fan_heat, capacity * (stream[1] - 1.0), nothing)
    else:
        brought = (capacity * stream[0] + flow.fan_heat, -capacity, capacity * stream[1])
    if outside & (not here):
        freed = replaced_ventilation(space.airing, 0.0, capacity)
        brought = (brought[0] - freed * ambient, brought[1] + freed, brought[2])
    link = _link(member, ambient, work, lane, brought)
    exchange = space.coupling + (nothing if here else back)
    room = settle_zone(
        read_zone(member.zone, lane),
        read_demand(work.demand, 0, lane),
        ambient,
        (begin[ROOM, lane], begin[MASS, lane]),
        per_second,
        (
            heat[0] + exchange * (link.rise + (1.0 - link.slope) * link.origin),
            heat[1] - exchange * (1.0 - link.slope),
        ),
    )
    second = settle_second(
        space,
        read_second_demand(work.demand, 0, lane),
        ambient,
        (begin[SECOND, lane], begin[SECOND_MASS, lane]),
        per_second,
        link,
        room.air,
    )
    receiver = room.air if here else second.air
    source = second.air if member.taken == SECOND_SPACE else room.air
    source = ambient if outside else source
    lifted = receiver - source
    return Rooms(
        room,
        second,
        second.air if round_it else room.air,
        source,
        receiver,
        back * lifted,
        capacity * lifted if outside else nothing,
        (capacity - back) * lifted if apart else nothing,
        freed * (receiver - ambient),
    )


@kernel
def _link(
    member: Member,
    ambient: float,
    work: Scratch,
    lane: int,
    heat: tuple[float, float, float],
) -> SecondLink:
    begin = work.zone_begin
    return link_second(
        read_second(member.zone, lane),
        read_second_demand(work.demand, 0, lane),
        ambient,
        (begin[SECOND, lane], begin[SECOND_MASS, lane]),
        begin[ROOM, lane],
        work.stage.per_second[lane],
        heat,
    )


@kernel
def house_alone(
    zone_rows: Array,
    demand_rows: Array,
    interval: int,
    lane: int,
    ambient: float,
    start: tuple[float, float, float, float],
    per_second: float,
) -> tuple[ZoneAnswer, SecondAnswer]:
    """Return both spaces at the end of an implicit step without a collector.

    Parameters
    ----------
    zone_rows, demand_rows, interval, lane : which house, in which weather interval
    ambient : outdoor temperature [K]
    start : room air and mass, second space's air and mass from which the step starts [K]
    per_second : one over the length of the step [1/s]

    Source: as `settle_rooms`, with the air at rest.
    """
    zone, demand = read_zone(zone_rows, lane), read_demand(demand_rows, interval, lane)
    room_start, second_start = (start[0], start[1]), (start[2], start[3])
    if zone_rows.shape[0] <= ZONE_ROWS:
        room = settle_zone(zone, demand, ambient, room_start, per_second, (0.0, 0.0))
        return room, SecondAnswer(start[2], start[3], 0.0, 0.0, 0.0)
    space, wish = read_second(zone_rows, lane), read_second_demand(demand_rows, interval, lane)
    link = link_second(space, wish, ambient, second_start, start[0], per_second, (0.0, 0.0, 0.0))
    heat = (
        space.coupling * (link.rise + (1.0 - link.slope) * link.origin),
        -space.coupling * (1.0 - link.slope),
    )
    room = settle_zone(zone, demand, ambient, room_start, per_second, heat)
    return room, settle_second(space, wish, ambient, second_start, per_second, link, room.air)
