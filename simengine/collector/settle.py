"""Node temperatures and heat flows of a stage, once the room temperature is known.

The flows are those of the linear system just solved, with the very conductances it was built from.
"""

from typing import NamedTuple

from simengine.collector.balance import Affine, evaluate, look_outwards
from simengine.collector.network import COVER_FACE, Array, Box, Network, Weather
from simengine.collector.segments import Stage
from simengine.collector.streams import Edges
from simengine.compiled import kernel


class Losses(NamedTuple):
    """Where heat leaves the box, other than by the air stream."""

    convection: float  # [W] outermost face to the wind
    longwave: float  # [W] outermost face to sky and ground
    back: float  # [W] box to outdoors
    edge: float  # [W]
    wall: float  # [W] box through the house wall to the room


@kernel
def settle_segment(
    network: Network,
    box: Box,
    weather: Weather,
    absorbed: Array,
    interval: int,
    stage: Stage,
    edges: Edges,
    room: float,
    segment: int,
    lane: int,
    nodes: Array,
    buffer: int,
) -> None:
    """Write the node temperatures of one segment at the given room temperature into nodes[buffer].

    Parameters
    ----------
    network, box, weather, absorbed, interval : as for `freeze_segment`
    stage, edges : the stage's conductances, responses and air temperatures
    room : room temperature [K]
    segment, lane : which segment of which member [-]
    nodes, buffer : [buffer, node, segment, lane] receives the temperatures [K]

    Source: back substitution.
    """
    panes = network.panes
    front = edges.front[segment, 0, lane] + edges.front[segment, 1, lane] * room
    rear = edges.rear[segment, 0, lane] + edges.rear[segment, 1, lane] * room
    r = stage.response
    for wall in range(3):
        answer = Affine(
            r[segment, wall, 0, lane],
            r[segment, wall, 1, lane],
            r[segment, wall, 2, lane],
            r[segment, wall, 3, lane],
        )
        row = panes + COVER_FACE if wall == 0 else panes - 1 + wall  # the cover's inner face comes last
        nodes[buffer, row, segment, lane] = evaluate(answer, room, front, rear)
    per_second = 1.0 / stage.duration[lane]
    for pane in range(panes - 1, -1, -1):
        link = stage.pane[pane, 0, segment, lane]
        storage = network.capacity[pane, lane] * per_second
        gain = absorbed[interval, pane] + storage * stage.begin[pane, segment, lane]
        seen, source = stage.pane[pane, 1, segment, lane], stage.pane[pane, 2, segment, lane]
        inner = nodes[buffer, panes + COVER_FACE if pane == panes - 1 else pane + 1, segment, lane]
        nodes[buffer, pane, segment, lane] = (link * inner + source + gain) / (link + seen + storage)

    face = panes + 1
    behind = weather.ambient + box.wall_share * (room - weather.ambient)
    box_storage = network.capacity[face + 2, lane] * per_second
    box_gain = box_storage * stage.begin[face + 2, segment, lane]
    seen, source = look_outwards(box.outer_link, box.outer_link * behind, box_storage, box_gain, box.box_link)
    storage = network.capacity[face + 1, lane] * per_second
    gain = storage * stage.begin[face + 1, segment, lane]
    mass = (box.face_link * nodes[buffer, face, segment, lane] + source + gain) / (
        box.face_link + seen + storage
    )
    nodes[buffer, face + 1, segment, lane] = mass
    nodes[buffer, face + 2, segment, lane] = (box.box_link * mass + box.outer_link * behind + box_gain) / (
        box.box_link + box.outer_link + box_storage
    )


@kernel
def heat_losses(
    network: Network,
    box: Box,
    weather: Weather,
    stage: Stage,
    nodes: Array,
    buffer: int,
    room: float,
    lane: int,
) -> Losses:
    """Return what all segments lose during the stage.

    Parameters
    ----------
    network, box, weather : as for `freeze_segment`
    stage : its conductances
    nodes, buffer : [buffer, node, segment, lane] temperatures of the stage [K]
    room : room temperature [K]
    lane : which member [-]

    Returns
    -------
    Losses [W]

    Source: conductance times difference, link by link.
    """
    plate = network.panes
    convection, longwave, back, edge, wall = 0.0, 0.0, 0.0, 0.0, 0.0
    for s in range(stage.film.shape[1]):
        to_sky, to_ground = stage.cover[0, s, lane], stage.cover[1, s, lane]
        to_air = weather.wind_coefficient + to_ground
        link = network.pane_link[0, lane]
        pulled = link * nodes[buffer, 0, s, lane] + to_air * weather.ambient + to_sky * weather.sky
        outermost = pulled / (link + to_air + to_sky)  # face of the outermost pane
        above = outermost - weather.ambient
        convection += weather.wind_coefficient * above
        longwave += to_sky * (outermost - weather.sky) + to_ground * above
        edge += box.edge * (nodes[buffer, plate, s, lane] - weather.ambient)
        skin = nodes[buffer, plate + 3, s, lane]
        back += box.outer_link * (1.0 - box.wall_share) * (skin - weather.ambient)
        wall += box.outer_link * box.wall_share * (skin - room)
    area = box.segment_area
    return Losses(area * convection, area * longwave, area * back, area * edge, area * wall)
