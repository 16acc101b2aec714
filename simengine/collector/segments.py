"""The segments of a collector: their conductances frozen for a step, and their answer in each of its stages."""

from typing import NamedTuple

import numpy as np

from simengine.collector.airstream import growing_stream, thinning_stream
from simengine.collector.balance import Answer, Space, Walls, answer, eliminate
from simengine.collector.films import still_conductance
from simengine.collector.network import (
    COVER_FACE,
    AirFlow,
    Array,
    Box,
    FlowTable,
    Network,
    Weather,
    read_path,
)
from simengine.collector.streams import BY_FRONT, BY_REAR, CONSTANT, ROOM
from simengine.compiled import kernel
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.heat_transfer.mixed_convection import mixed
from simengine.heat_transfer.radiation import radiative_coefficient


class Stage(NamedTuple):
    """What one implicit stage reads, and what is frozen for both stages of a step."""

    guess: Array  # [node, segment, lane] temperatures at which conductances are taken, K
    begin: Array  # [node, segment, lane] temperatures from which the implicit stage starts, K
    per_second: Array  # [lane] 1 / length of the implicit stage, 1/s
    flow: Array  # [AirFlow, lane]
    film: Array  # [2, segment, lane] forced films, W/m2K
    cover: Array  # [3, segment, lane] outermost face to sky and to ground [W/m2K], 1 / all it sees [m2K/W]
    outside: Array  # [segment, lane] what the middle of the outermost pane gets from outdoors, W/m2
    pane: Array  # [pane, 3, segment, lane] weight of the next node inwards [-], 1 / pivot [m2K/W], source [W/m2]
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
def read_flow_table(table: FlowTable, speed: float, stage: Stage, lane: int) -> None:
    """Read the flow table of a lane at the size of a speed (-1 to 1), linear between its rows."""
    last = table.flow.shape[0] - 1
    position = min(abs(speed), 1.0) * last
    row = min(int(position), last - 1)
    weight = position - row
    for field in range(table.flow.shape[1]):
        low, high = table.flow[row, field, lane], table.flow[row + 1, field, lane]
        stage.flow[field, lane] = (1.0 - weight) * low + weight * high
    for space in range(2):
        for s in range(table.film.shape[2]):
            low, high = table.film[row, space, s, lane], table.film[row + 1, space, s, lane]
            stage.film[space, s, lane] = (1.0 - weight) * low + weight * high


@kernel
def freeze_back(network: Network, box: Box, stage: Stage, lane: int) -> None:
    """Eliminate what lies behind the inner face of the back; the same in all segments.

    Parameters
    ----------
    network, box : the collector
    stage : `per_second` is read, `behind` is written
    lane : which member

    Source: elimination of two rows of the heat balance.
    """
    face = network.panes + 1
    per_second = stage.per_second[lane]
    storage = network.capacity[face + 2, lane] * per_second
    skin = 1.0 / (box.box_link + box.outer_link + storage)
    skin_share = box.box_link * skin
    seen = skin_share * (box.outer_link + storage)
    storage = network.capacity[face + 1, lane] * per_second
    mass = 1.0 / (box.face_link + seen + storage)
    mass_share = box.face_link * mass
    conductance = mass_share * (seen + storage) + network.capacity[face, lane] * per_second
    stage.behind[0, lane] = mass_share
    stage.behind[1, lane] = mass
    stage.behind[2, lane] = skin_share
    stage.behind[3, lane] = skin
    stage.behind[4, lane] = conductance
    stage.behind[5, lane] = mass_share * skin_share * box.outer_link * box.wall_share


@kernel
def read_behind(rows: Array, lane: int) -> Behind:
    """Return the `Behind` of one lane."""
    return Behind(rows[0, lane], rows[1, lane], rows[2, lane], rows[3, lane], rows[4, lane], rows[5, lane])


@kernel
def freeze_segment(
    network: Network,
    box: Box,
    flow: AirFlow,
    moving: tuple[float, float],
    weather: Weather,
    stage: Stage,
    segment: int,
    lane: int,
) -> None:
    """Freeze the conductances of one segment at the guessed temperatures, and eliminate its walls.

    Parameters
    ----------
    network, box : the collector
    flow, moving : air flow of the moment; `moving_air` of it, per area of a segment
    weather : outdoors of the moment
    stage : temperatures, `per_second` and `behind` are read; all that is frozen is written
    segment, lane : which segment of which member [-]

    Source: implicit Euler step of every node's heat balance.
    """
    plate = network.panes
    per_second = stage.per_second[lane]
    path = read_path(network.path, segment, lane)
    glass = stage.guess[plate + COVER_FACE, segment, lane]
    sheet = stage.guess[plate, segment, lane]
    lining = stage.guess[plate + 1, segment, lane]

    # air that is drawn through the sheet takes the sheet's share of the buoyancy away with it
    still = still_conductance(network, plate - 1, segment, lane, glass, sheet)
    film = mixed(stage.film[0, segment, lane], still * flow.contact)
    touched = film * flow.contact * box.front_area
    per_film, end, mean = thinning_stream(
        film + touched, moving, path.front_in, path.front_out, path.front_log
    )
    radiation = radiative_coefficient(glass, sheet, network.exchange[plate - 1, lane])
    front = Space(film, touched, radiation, 1.0, end, mean, per_film)

    # and what the gap round a bank of tubes does stays out of the air inside them
    still = still_conductance(network, plate, segment, lane, sheet, lining)
    film = mixed(stage.film[1, segment, lane], still * flow.contact * (1.0 - box.tubes))
    touched = film * flow.contact * box.rear_area
    free = film * (1.0 - box.tubes)
    per_film, pull, end, mean = growing_stream(
        touched + free, moving, path.rear_in, path.rear_out, path.rear_log
    )
    beside = radiative_coefficient(sheet, lining, network.exchange[plate, lane]) + box.tubes * still
    rear = Space(touched, free, beside, pull, end, mean, per_film)

    drawn = moving[0] * (path.front_in - path.front_out)
    outside = (
        _freeze_cover(network, box, weather, stage, segment, lane),
        network.capacity[plate, lane] * per_second + box.edge,
        stage.behind[4, lane],
    )
    walls, by_front, by_rear = eliminate(outside, front, rear, (drawn, flow.effectiveness))
    _store_walls(walls, stage.walls, segment, lane)
    _store(answer(walls, 0.0, 0.0, stage.behind[5, lane]), stage.response, segment, ROOM, lane)
    _store(by_front, stage.response, segment, BY_FRONT, lane)
    _store(by_rear, stage.response, segment, BY_REAR, lane)


@kernel
def load_segment(
    network: Network, box: Box, weather: Weather, sun: Array, stage: Stage, segment: int, lane: int
) -> None:
    """Let the sun, the outdoors and what is stored act on a frozen segment: the constants of its response.

    Parameters
    ----------
    network, box, weather, segment, lane : as for `freeze_segment`
    sun : [pane + 1, lane] absorbed by each pane, then by the absorber [W/m2]
    stage : what is frozen and `begin` are read; sources and constants are written

    Source: the right-hand side of the implicit step.
    """
    plate = network.panes
    per_second = stage.per_second[lane]
    cover = stage.outside[segment, lane]
    for pane in range(plate):
        storage = network.capacity[pane, lane] * per_second
        pulled = cover + sun[pane, lane] + storage * stage.begin[pane, segment, lane]
        stage.pane[pane, 2, segment, lane] = pulled
        cover = stage.pane[pane, 0, segment, lane] * pulled
    storage = network.capacity[plate, lane] * per_second
    absorber = sun[plate, lane] + storage * stage.begin[plate, segment, lane] + box.edge * weather.ambient
    behind = read_behind(stage.behind, lane)
    held = per_second * network.capacity[plate + 3, lane] * stage.begin[plate + 3, segment, lane]
    skin = box.outer_link * (1.0 - box.wall_share) * weather.ambient + held
    held = per_second * network.capacity[plate + 2, lane] * stage.begin[plate + 2, segment, lane]
    mass = behind.skin_share * skin + held
    held = per_second * network.capacity[plate + 1, lane] * stage.begin[plate + 1, segment, lane]
    walls = _read_walls(stage.walls, segment, lane)
    found = answer(walls, cover, absorber, behind.mass_share * mass + held)
    _store(found, stage.response, segment, CONSTANT, lane)


@kernel
def _freeze_cover(
    network: Network, box: Box, weather: Weather, stage: Stage, segment: int, lane: int
) -> float:
    """Eliminate the panes; return what the inner face of the cover sees outwards [W/m2K]."""
    per_second = stage.per_second[lane]
    last = network.panes - 1
    conductance, source = _outside(network, box, weather, stage, segment, lane)
    stage.outside[segment, lane] = source
    for pane in range(last):
        link = _link_inwards(network, stage, pane, segment, lane)
        conductance = _freeze_pane(network, stage, per_second, conductance, link, pane, segment, lane)
    link = network.pane_link[last, lane]
    return _freeze_pane(network, stage, per_second, conductance, link, last, segment, lane)


@kernel
def _freeze_pane(
    network: Network,
    stage: Stage,
    per_second: float,
    conductance: float,
    link: float,
    pane: int,
    segment: int,
    lane: int,
) -> float:
    storage = network.capacity[pane, lane] * per_second
    inverse = 1.0 / (link + conductance + storage)
    share = link * inverse
    stage.pane[pane, 0, segment, lane] = share
    stage.pane[pane, 1, segment, lane] = inverse
    return share * (conductance + storage)


@kernel
def _outside(
    network: Network, box: Box, weather: Weather, stage: Stage, segment: int, lane: int
) -> tuple[float, float]:
    """Return what the middle of the outermost pane sees outwards: conductance and source."""
    middle, link = stage.guess[0, segment, lane], network.pane_link[0, lane]
    upwards, downwards = box.cover_emittance * box.sky_view, box.cover_emittance * (1.0 - box.sky_view)
    wind = weather.wind_coefficient
    to_sky = radiative_coefficient(middle, weather.sky, upwards)
    to_ground = radiative_coefficient(middle, weather.ambient, downwards)
    source = (wind + to_ground) * weather.ambient + to_sky * weather.sky
    face = (link * middle + source) / (link + wind + to_sky + to_ground)
    to_sky = radiative_coefficient(face, weather.sky, upwards)
    to_ground = radiative_coefficient(face, weather.ambient, downwards)
    stage.cover[0, segment, lane] = to_sky
    stage.cover[1, segment, lane] = to_ground
    source = (wind + to_ground) * weather.ambient + to_sky * weather.sky
    seen = wind + to_sky + to_ground
    inverse = 1.0 / (link + seen)
    stage.cover[2, segment, lane] = inverse
    return link * inverse * seen, link * inverse * source


@kernel
def _link_inwards(network: Network, stage: Stage, pane: int, segment: int, lane: int) -> float:
    """Return the conductance from the middle of a pane to the middle of the next: gap, half of both."""
    outer, inner = stage.guess[pane, segment, lane], stage.guess[pane + 1, segment, lane]
    behind, before = 1.0 / network.pane_link[pane, lane], 1.0 / network.pane_link[pane + 1, lane]
    solid = behind + before
    gap = radiative_coefficient(outer, inner, network.exchange[pane, lane])
    gap += still_conductance(network, pane, segment, lane, outer, inner)
    flux = (inner - outer) * gap / (1.0 + gap * solid)
    outer, inner = outer + behind * flux, inner - before * flux  # now the faces
    gap = radiative_coefficient(outer, inner, network.exchange[pane, lane])
    gap += still_conductance(network, pane, segment, lane, outer, inner)
    link: float = gap / (1.0 + gap * solid)
    return link


@kernel
def _store_walls(walls: Walls, rows: Array, segment: int, lane: int) -> None:
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
def _read_walls(rows: Array, segment: int, lane: int) -> Walls:
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
def _store(value: Answer, response: Array, segment: int, coefficient: int, lane: int) -> None:
    response[segment, 0, coefficient, lane] = value.cover
    response[segment, 1, coefficient, lane] = value.absorber
    response[segment, 2, coefficient, lane] = value.back
    response[segment, 3, coefficient, lane] = value.front_out
    response[segment, 4, coefficient, lane] = value.rear_out
