"""One implicit stage of everything: collector, air loop and heated space as one linear system."""

from simengine.collector.airstream import moving_air
from simengine.collector.network import (
    COVER_FACE,
    AirFlow,
    Box,
    Weather,
    read_air_flow,
    read_box,
    read_weather,
)
from simengine.collector.segments import freeze_back, freeze_segment, load_segment
from simengine.collector.settle import heat_losses, settle_segment, wall_heat
from simengine.collector.streams import join_streams
from simengine.compiled import kernel
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.engine.ledger import Column
from simengine.engine.rooms import Rooms, air_taken, settle_rooms
from simengine.engine.state import MASS, ROOM, SECOND, SECOND_MASS, TRIAL, Member, Scratch, State
from simengine.house.second_space import read_second_demand
from simengine.house.zone import ZONE_ROWS, read_demand
from simengine.vector import same_in, where


@kernel
def freeze_stage(member: Member, work: Scratch, lane: int) -> None:
    """Freeze the collector's conductances at work.stage.guess, for stages as long as `per_second` says.

    Parameters
    ----------
    member : what is marched
    work : weather and flow of the moment are read; what is frozen is written into `stage`
    lane : which member, or which block of them

    Source: `freeze_segment`.
    """
    network, stage = member.network, work.stage
    weather, box = read_weather(work.weather, lane), read_box(network.box, lane)
    flow = read_air_flow(stage.flow, lane)
    moving = moving_air(flow.mass_flow * SPECIFIC_HEAT_AIR / box.segment_area)
    freeze_back(network, box, stage, lane)
    for s in range(stage.film.shape[1]):
        freeze_segment(network, box, flow, moving, weather, stage, s, lane)


@kernel
def solve_stage(member: Member, work: Scratch, seconds: float, state: State, lane: int) -> None:
    """Take one implicit step from work.stage.begin into buffer `TRIAL`.

    Parameters
    ----------
    member : what is marched
    work : the stage's start, length, flow and what is frozen are read; its flows [J] are added to `part`
    seconds : that this stage stands for [s]
    state : receives the temperatures [K]
    lane : which member, or which block of them

    Source: implicit Euler step; temperatures and flows belong to one and the same linear system.
    """
    network, stage = member.network, work.stage
    weather, box = read_weather(work.weather, lane), read_box(network.box, lane)
    flow = read_air_flow(stage.flow, lane)
    for s in range(stage.film.shape[1]):
        load_segment(network, box, weather, work.sun, stage, s, lane)
    kept, near = flow.return_kept, flow.return_room
    drawn = flow.leak_in
    taken, weight_beside = air_taken(member, weather.ambient, work, lane, flow)
    duct_end = kept * taken + (1.0 - kept) * (1.0 - near) * weather.ambient
    work.inlet[0, lane] = (1.0 - drawn) * duct_end + drawn * weather.ambient
    work.inlet[1, lane] = (1.0 - drawn) * (kept * weight_beside + (1.0 - kept) * near)
    join_streams(network, stage.response, work.inlet, work.edges, lane)
    # supply air and the wall's heat are affine in the temperature of the space beside the collector
    kept, near = flow.supply_kept, flow.supply_room
    supply = kept * work.edges.outlet[0, lane] + (1.0 - kept) * (1.0 - near) * weather.ambient
    slope = kept * work.edges.outlet[1, lane] + (1.0 - kept) * near
    stays = 1.0 - flow.leak_out  # an equal mass comes into the house from outdoors
    brought = stays * supply + flow.leak_out * weather.ambient
    wall = wall_heat(network, box, weather.ambient, stage, work.edges, lane)
    rooms = settle_rooms(member, weather.ambient, work, lane, flow, (brought, stays * slope), wall)
    state.zone[TRIAL, ROOM, lane] = rooms.room.air
    state.zone[TRIAL, MASS, lane] = rooms.room.mass
    state.zone[TRIAL, SECOND, lane] = rooms.second.air
    state.zone[TRIAL, SECOND_MASS, lane] = rooms.second.mass
    for s in range(stage.film.shape[1]):
        settle_segment(
            network, box, weather.ambient, stage, work.edges, rooms.beside, s, lane, state.nodes, TRIAL
        )
    outlet = work.edges.outlet[0, lane] + work.edges.outlet[1, lane] * rooms.beside
    _read_sensors(member, box, work, lane, rooms, outlet, state)
    _enter_air(work, weather.ambient, flow, seconds, lane, rooms, outlet, supply + slope * rooms.beside)
    _enter_box(member, box, weather, work, seconds, lane, state)
    _enter_house(member, rooms, work, seconds, lane)


@kernel
def _read_sensors(
    member: Member,
    box: Box,
    work: Scratch,
    lane: int,
    rooms: Rooms,
    outlet: float,
    state: State,
) -> None:
    """Note what both sensors feel, behind what they felt at the stage before."""
    edges, room = work.edges, rooms.beside
    segments = work.stage.film.shape[1]
    last = 0 if member.network.counterflow else segments - 1  # where the air leaves
    front = edges.front[last, 0, lane] + edges.front[last, 1, lane] * room
    rear = edges.rear[last, 0, lane] + edges.rear[last, 1, lane] * room
    entering = (1.0 - box.rear_share) * front + box.rear_share * rear
    box_air = 0.5 * (entering + outlet) if segments > 1 else outlet
    place = (
        box.sensor_absorber * state.nodes[TRIAL, member.network.panes, last, lane]
        + box.sensor_box_air * box_air
        + box.sensor_outlet * outlet
    )
    for sensor in range(2):
        work.place[0, sensor, lane] = work.place[1, sensor, lane]
    work.place[1, 0, lane] = place
    work.place[1, 1, lane] = rooms.receiver


@kernel
def _enter_air(
    work: Scratch,
    ambient: float,
    flow: AirFlow,
    seconds: float,
    lane: int,
    rooms: Rooms,
    outlet: float,
    supplied: float,
) -> None:
    """Enter what the air stream does into the ledger."""
    part = work.part
    inlet = work.inlet[0, lane] + work.inlet[1, lane] * rooms.beside
    moved = seconds * flow.mass_flow * SPECIFIC_HEAT_AIR
    lost, drawn = flow.leak_out, flow.leak_in
    brought = moved * ((1.0 - lost) * supplied + lost * ambient - rooms.receiver) + seconds * flow.fan_heat
    # air drawn in from outdoors pushes as much out of the house; the ducts carry what is left of the flow
    cracks = drawn * (rooms.source - ambient) + lost * (outlet - ambient)
    part[Column.LEAK_LOSS, lane] += moved * cracks + seconds * rooms.drawn
    part[Column.DUCT_LOSS, lane] += moved * (rooms.source - inlet - drawn * (rooms.source - ambient))
    part[Column.DUCT_LOSS, lane] += moved * (1.0 - lost) * (outlet - supplied)
    part[Column.COLLECTED, lane] += moved * (outlet - inlet)
    part[Column.FAN_HEAT, lane] += seconds * flow.fan_heat
    part[Column.FAN_POWER, lane] += seconds * flow.fan_power
    part[Column.DELIVERED, lane] += max(brought, 0.0)
    part[Column.NIGHT_LOSS, lane] += max(-brought, 0.0)
    part[Column.FAN_ON, lane] += seconds * work.fan[lane]
    moves = flow.mass_flow > 0.0
    part[Column.DRIFT_ON, lane] += seconds * where(moves & (work.fan[lane] < 0.5), 1.0, 0.0)
    part[Column.AIR_MASS, lane] += seconds * flow.mass_flow
    part[Column.ROOM, lane] += seconds * rooms.room.air
    part[Column.CARRIED, lane] += seconds * rooms.carried
    part[Column.FRESH_AIR, lane] += seconds * rooms.fresh_air
    part[Column.OUTLET, lane] += seconds * outlet
    part[Column.SUPPLY, lane] += seconds * supplied
    part[Column.PEAK_SUPPLY, lane] = max(part[Column.PEAK_SUPPLY, lane], where(moves, supplied, 0.0))


@kernel
def _enter_box(
    member: Member,
    box: Box,
    weather: Weather,
    work: Scratch,
    seconds: float,
    lane: int,
    state: State,
) -> None:
    """Enter what the box takes up, loses and stores into the ledger."""
    network, stage, part, nodes = member.network, work.stage, work.part, state.nodes
    segments = stage.film.shape[1]
    losses = heat_losses(network, box, weather, stage, nodes, TRIAL, state.zone[TRIAL, ROOM, lane], lane)
    absorbed = same_in(lane, 0.0)
    for layer in range(network.panes + 1):
        absorbed += work.sun[layer, lane]
    stored = same_in(lane, 0.0)
    for node in range(network.capacity.shape[0]):
        change = same_in(lane, 0.0)
        for s in range(segments):
            change += nodes[TRIAL, node, s, lane] - stage.begin[node, s, lane]
        stored += network.capacity[node, lane] * change
    aperture = seconds * box.segment_area * segments
    part[Column.INCIDENT, lane] += aperture * weather.incident
    part[Column.ABSORBED, lane] += aperture * absorbed
    part[Column.COVER_CONVECTION, lane] += seconds * losses.convection
    part[Column.COVER_LONGWAVE, lane] += seconds * losses.longwave
    part[Column.BACK_LOSS, lane] += seconds * losses.back
    part[Column.EDGE_LOSS, lane] += seconds * losses.edge
    part[Column.WALL_HEAT, lane] += seconds * losses.wall
    part[Column.STORED, lane] += seconds * box.segment_area * stored * stage.per_second[lane]
    part[Column.ABSORBER, lane] += seconds * nodes[TRIAL, network.panes, segments - 1, lane]
    part[Column.COVER, lane] += seconds * nodes[TRIAL, network.panes + COVER_FACE, segments - 1, lane]


@kernel
def _enter_house(member: Member, rooms: Rooms, work: Scratch, seconds: float, lane: int) -> None:
    """Enter what heated and second space get, lose and store into the ledger."""
    part, room, second = work.part, rooms.room, rooms.second
    demand = read_demand(work.demand, 0, lane)
    gains = demand.air_gain + demand.surface_gain + demand.mass_gain
    if member.zone.shape[0] > ZONE_ROWS:
        gains += read_second_demand(work.demand, 0, lane).gain
    part[Column.HEATING, lane] += seconds * (room.heating + second.heating)
    part[Column.VENTED, lane] += seconds * room.vented
    part[Column.HOUSE_GAIN, lane] += seconds * gains
    part[Column.HOUSE_LOSS, lane] += seconds * (room.lost + second.lost)
    part[Column.HOUSE_STORED, lane] += seconds * (room.stored + second.stored)
    part[Column.VENTILATION_REPLACED, lane] += seconds * rooms.replaced
    part[Column.SECOND_SPACE, lane] += seconds * second.air
