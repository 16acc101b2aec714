"""Node temperatures and heat flows of a stage, once the room temperature is known.

The flows are those of the linear system just solved, with the very conductances it was built from.
"""

from typing import NamedTuple

from simengine.collector.network import COVER_FACE, Array, Box, Network, Weather
from simengine.collector.segments import Stage, read_behind
from simengine.collector.streams import BY_FRONT, BY_REAR, CONSTANT, ROOM, Edges
from simengine.compiled import kernel
from simengine.vector import any_of, same_in


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
    ambient: float,
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
    network, box : the collector
    ambient : outdoor temperature [K]
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
        row = panes + COVER_FACE if wall == 0 else panes - 1 + wall  # the cover's inner face comes last
        nodes[buffer, row, segment, lane] = (
            r[segment, wall, CONSTANT, lane]
            + r[segment, wall, ROOM, lane] * room
            + r[segment, wall, BY_FRONT, lane] * front
            + r[segment, wall, BY_REAR, lane] * rear
        )
    for pane in range(panes - 1, -1, -1):
        inner = nodes[buffer, panes + COVER_FACE if pane == panes - 1 else pane + 1, segment, lane]
        own = stage.pane[pane, 1, segment, lane] * stage.pane[pane, 2, segment, lane]
        nodes[buffer, pane, segment, lane] = stage.pane[pane, 0, segment, lane] * inner + own
    face = panes + 1
    behind = ambient + box.wall_share * (room - ambient)
    mass, skin = _behind_face(
        network, box, stage, nodes[buffer, face, segment, lane], behind, 1.0, segment, lane
    )
    nodes[buffer, face + 1, segment, lane] = mass
    nodes[buffer, face + 2, segment, lane] = skin


@kernel
def _behind_face(
    network: Network,
    box: Box,
    stage: Stage,
    face: float,
    behind: float,
    before: float,
    segment: int,
    lane: int,
) -> tuple[float, float]:
    """Return insulation and box behind a face and before what lies behind [K].

    `before` is 1; or 0 for how both answer to face and surroundings alone, without what they held before.
    """
    inside = network.panes + 2
    per_second = before * stage.per_second[lane]
    seen = read_behind(stage.behind, lane)
    held = network.capacity[inside + 1, lane] * per_second * stage.begin[inside + 1, segment, lane]
    source = box.outer_link * behind + held
    held = network.capacity[inside, lane] * per_second * stage.begin[inside, segment, lane]
    mass = seen.mass_share * face + seen.mass * (seen.skin_share * source + held)
    return mass, seen.skin_share * mass + seen.skin * source


@kernel
def wall_heat(
    network: Network, box: Box, ambient: float, stage: Stage, edges: Edges, lane: int
) -> tuple[float, float]:
    """Return the heat through the wall behind the collector, affine in the room temperature.

    Parameters
    ----------
    network, box : the collector
    ambient : outdoor temperature [K]
    stage, edges : the stage's responses and air temperatures
    lane : which member [-]

    Returns
    -------
    (constant, slope) : the room receives constant + slope * T_room [W], [W/K]

    Source: back substitution of the constant and of the room's weight, each by itself.
    """
    r, back = stage.response, 2
    constant, slope = same_in(lane, 0.0), same_in(lane, 0.0)
    if any_of(box.wall_share > 0.0):
        for s in range(r.shape[0]):
            by_front, by_rear = r[s, back, BY_FRONT, lane], r[s, back, BY_REAR, lane]
            face = r[s, back, CONSTANT, lane]
            face += by_front * edges.front[s, 0, lane] + by_rear * edges.rear[s, 0, lane]
            _, skin = _behind_face(network, box, stage, face, (1.0 - box.wall_share) * ambient, 1.0, s, lane)
            face = r[s, back, ROOM, lane]
            face += by_front * edges.front[s, 1, lane] + by_rear * edges.rear[s, 1, lane]
            _, weight = _behind_face(network, box, stage, face, box.wall_share, 0.0, s, lane)
            constant += skin
            slope += weight - 1.0
    link = box.segment_area * box.outer_link * box.wall_share
    return link * constant, link * slope


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
    none = same_in(lane, 0.0)
    convection, longwave, back, edge, wall = none, none, none, none, none
    for s in range(stage.film.shape[1]):
        to_sky, to_ground = stage.cover[0, s, lane], stage.cover[1, s, lane]
        to_air = weather.wind_coefficient + to_ground
        link = network.pane_link[0, lane]
        pulled = link * nodes[buffer, 0, s, lane] + to_air * weather.ambient + to_sky * weather.sky
        outermost = pulled * stage.cover[2, s, lane]  # face of the outermost pane
        above = outermost - weather.ambient
        convection += weather.wind_coefficient * above
        longwave += to_sky * (outermost - weather.sky) + to_ground * above
        edge += box.edge * (nodes[buffer, plate, s, lane] - weather.ambient)
        skin = nodes[buffer, plate + 3, s, lane]
        back += box.outer_link * (1.0 - box.wall_share) * (skin - weather.ambient)
        wall += box.outer_link * box.wall_share * (skin - room)
    area = box.segment_area
    return Losses(area * convection, area * longwave, area * back, area * edge, area * wall)
