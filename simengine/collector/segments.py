"""One implicit stage of every segment: from the temperatures of the moment to its affine response."""

from typing import NamedTuple

import numpy as np

from simengine.collector.airstream import growing_stream, thinning_stream
from simengine.collector.balance import Affine, Response, Side, Space, look_outwards, segment_response
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
from simengine.compiled import kernel
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.heat_transfer.mixed_convection import mixed
from simengine.heat_transfer.radiation import radiative_coefficient


class Stage(NamedTuple):
    """What one implicit stage reads and freezes."""

    guess: Array  # [node, segment, lane] temperatures at which conductances are taken, K
    begin: Array  # [node, segment, lane] temperatures from which the implicit step starts, K
    duration: Array  # [lane] length of the implicit step, s
    flow: Array  # [AirFlow, lane]
    film: Array  # [2, segment, lane] forced films, W/m2K
    cover: Array  # [2, segment, lane] outermost face to sky and to ground, W/m2K
    pane: Array  # [pane, 3, segment, lane] link inwards, what its middle sees outwards: W/m2K, W/m2
    response: Array  # [segment, output, coefficient, lane] of `Response`, K and -


def new_stage(panes: int, nodes: int, segments: int, lanes: int) -> Stage:
    """Return an empty `Stage`."""
    return Stage(
        guess=np.zeros((nodes, segments, lanes)),
        begin=np.zeros((nodes, segments, lanes)),
        duration=np.zeros(lanes),
        flow=np.zeros((len(AirFlow._fields), lanes)),
        film=np.zeros((2, segments, lanes)),
        cover=np.zeros((2, segments, lanes)),
        pane=np.zeros((panes, 3, segments, lanes)),
        response=np.zeros((segments, 5, 4, lanes)),
    )


@kernel
def read_flow_table(table: FlowTable, speed: Array, stage: Stage) -> None:
    """Read the flow table at each lane's speed (0 to 1), linear between its rows, into the stage."""
    last = table.flow.shape[0] - 1
    for lane in range(speed.size):
        position = min(max(speed[lane], 0.0), 1.0) * last
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
def freeze_segment(
    network: Network,
    box: Box,
    flow: AirFlow,
    weather: Weather,
    absorbed: Array,
    interval: int,
    stage: Stage,
    segment: int,
    lane: int,
) -> Response:
    """Freeze the conductances of one segment at the guessed temperatures and return its response.

    Parameters
    ----------
    network, box : the collector
    flow : air flow of the moment
    weather : outdoors of the moment
    absorbed, interval : [interval, pane + 1] absorbed sun [W/m2] and which interval
    stage : temperatures and duration are read; conductances of the cover are written
    segment, lane : which segment of which member [-]

    Returns
    -------
    Response of the segment to room temperature and inlet temperatures

    Source: implicit Euler step of every node's heat balance.
    """
    plate = network.panes
    per_second = 1.0 / stage.duration[lane]
    storage = network.capacity[plate, lane] * per_second
    absorber = Side(
        storage + box.edge,
        absorbed[interval, plate] + storage * stage.begin[plate, segment, lane] + box.edge * weather.ambient,
        0.0,
    )
    cover = _cover_side(network, box, weather, absorbed, interval, stage, segment, lane)
    back = _back_side(network, box, weather, stage, segment, lane)

    path = read_path(network.path, segment, lane)
    capacity = flow.mass_flow * SPECIFIC_HEAT_AIR / box.segment_area
    glass = stage.guess[plate + COVER_FACE, segment, lane]
    sheet = stage.guess[plate, segment, lane]
    lining = stage.guess[plate + 1, segment, lane]

    # air that is drawn through the sheet takes the sheet's share of the buoyancy away with it
    still = still_conductance(network, plate - 1, segment, lane, glass, sheet)
    film = mixed(stage.film[0, segment, lane], still * flow.contact)
    touched = film * flow.contact * box.front_area
    end, mean = thinning_stream(film + touched, capacity, path.front_in, path.front_out, path.front_log)
    radiation = radiative_coefficient(glass, sheet, network.exchange[plate - 1, lane])
    front = Space(film, touched, radiation, 1.0, end, mean)

    # and what the gap round a bank of tubes does stays out of the air inside them
    still = still_conductance(network, plate, segment, lane, sheet, lining)
    film = mixed(stage.film[1, segment, lane], still * flow.contact * (1.0 - box.tubes))
    touched = film * flow.contact * box.rear_area
    free = film * (1.0 - box.tubes)
    pull, end, mean = growing_stream(touched + free, capacity, path.rear_in, path.rear_out, path.rear_log)
    beside = radiative_coefficient(sheet, lining, network.exchange[plate, lane]) + box.tubes * still
    rear = Space(touched, free, beside, pull, end, mean)

    drawn = capacity * (path.front_in - path.front_out)
    return segment_response(cover, absorber, back, front, rear, (drawn, flow.effectiveness))


@kernel
def _cover_side(
    network: Network,
    box: Box,
    weather: Weather,
    absorbed: Array,
    interval: int,
    stage: Stage,
    segment: int,
    lane: int,
) -> Side:
    per_second = 1.0 / stage.duration[lane]
    last = network.panes - 1
    conductance, source = _outside(network, box, weather, stage, segment, lane)
    for pane in range(last):
        link = _link_inwards(network, stage, pane, segment, lane)
        stage.pane[pane, 0, segment, lane] = link
        stage.pane[pane, 1, segment, lane] = conductance
        stage.pane[pane, 2, segment, lane] = source
        storage = network.capacity[pane, lane] * per_second
        gain = absorbed[interval, pane] + storage * stage.begin[pane, segment, lane]
        conductance, source = look_outwards(conductance, source, storage, gain, link)
    link = network.pane_link[last, lane]
    stage.pane[last, 0, segment, lane] = link
    stage.pane[last, 1, segment, lane] = conductance
    stage.pane[last, 2, segment, lane] = source
    storage = network.capacity[last, lane] * per_second
    gain = absorbed[interval, last] + storage * stage.begin[last, segment, lane]
    conductance, source = look_outwards(conductance, source, storage, gain, link)
    return Side(conductance, source, 0.0)


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
    return look_outwards(wind + to_sky + to_ground, source, 0.0, 0.0, link)


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
def _back_side(network: Network, box: Box, weather: Weather, stage: Stage, segment: int, lane: int) -> Side:
    face = network.panes + 1
    per_second = 1.0 / stage.duration[lane]
    storage = network.capacity[face + 2, lane] * per_second
    gain = storage * stage.begin[face + 2, segment, lane]
    outdoors = box.outer_link * (1.0 - box.wall_share) * weather.ambient
    seen, source = look_outwards(box.outer_link, outdoors, storage, gain, box.box_link)
    _, room = look_outwards(box.outer_link, box.outer_link * box.wall_share, storage, 0.0, box.box_link)
    storage = network.capacity[face + 1, lane] * per_second
    gain = storage * stage.begin[face + 1, segment, lane]
    inner, inner_source = look_outwards(seen, source, storage, gain, box.face_link)
    _, inner_room = look_outwards(seen, room, storage, 0.0, box.face_link)
    storage = network.capacity[face, lane] * per_second
    return Side(inner + storage, inner_source + storage * stage.begin[face, segment, lane], inner_room)


@kernel
def store_response(answer: Response, response: Array, segment: int, lane: int) -> None:
    """Store the answer of a segment as rows of `Stage.response`."""
    _store(answer.cover, response, segment, 0, lane)
    _store(answer.absorber, response, segment, 1, lane)
    _store(answer.back, response, segment, 2, lane)
    _store(answer.front_out, response, segment, 3, lane)
    _store(answer.rear_out, response, segment, 4, lane)


@kernel
def _store(value: Affine, response: Array, segment: int, output: int, lane: int) -> None:
    response[segment, output, 0, lane] = value.constant
    response[segment, output, 1, lane] = value.room
    response[segment, output, 2, lane] = value.front
    response[segment, output, 3, lane] = value.rear
