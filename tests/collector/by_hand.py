"""Invented collectors, and one stage of the march taken by hand, its conductances frozen at will."""

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from simengine.airflow.loop import given_flow_loop
from simengine.airflow.spec import Fan
from simengine.collector.airstream import moving_air
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table
from simengine.collector.network import (
    NODES_BEHIND_PANES,
    Array,
    FlowTable,
    Network,
    Weather,
    read_air_flow,
    read_box,
)
from simengine.collector.segments import (
    Stage,
    freeze_back,
    freeze_segment,
    load_segment,
    new_stage,
    read_flow_table,
)
from simengine.collector.settle import Losses, heat_losses, settle_segment
from simengine.collector.spec import (
    Absorber,
    AirSpace,
    Back,
    Collector,
    Layer,
    Pane,
    Perforation,
    SealedGap,
    Tubes,
)
from simengine.collector.steady import FOREVER
from simengine.collector.streams import Edges, join_streams, new_edges
from simengine.constants import SPECIFIC_HEAT_AIR

PRESSURE = 101325.0
CLEAR = Weather(ambient=275.15, sky=258.15, wind_coefficient=14.0, incident=800.0)
SCREEN = Perforation(porosity=0.2, effectiveness=0.7)
BOARD = Layer("board", 0.05, 0.024, 30.0, 1400.0, "polyiso")


def collector(arrangement: str = "behind", segments: int = 3, panes: int = 1, **changes: Any) -> Collector:
    """Return an invented collector of 1.2 x 2.4 m at 60 deg."""
    slanted = arrangement == "through"
    made = Collector(
        width=1.2,
        length=2.4,
        tilt=60.0,
        azimuth=180.0,
        arrangement=arrangement,
        panes=tuple(Pane(f"pane {number}", 0.004) for number in range(panes)),
        pane_gaps=tuple(SealedGap(0.014) for _ in range(panes - 1)),
        front=AirSpace(0.06, 0.02) if slanted else AirSpace(0.025, 0.025),
        absorber=Absorber(
            "sheet",
            emittance_front=0.95,
            emittance_back=0.88,
            perforation=SCREEN if slanted else None,
            tubes=Tubes(0.05, 0.06) if arrangement == "tubes" else None,
        ),
        rear=AirSpace(0.02, 0.06) if slanted else AirSpace(0.030, 0.030),
        back=Back((BOARD,)),
        segments=segments,
    )
    return replace(made, **changes)


def numbers(made: Collector, mass_flow: float = 0.06) -> tuple[Network, FlowTable]:
    """Return network and flow table of a collector on a fan that moves a given flow [kg/s]."""
    loop = given_flow_loop(Fan(mass_flow, 25.0))
    return build_network(made, PRESSURE), build_flow_table(made, loop, PRESSURE)


def with_box(network: Network, **values: float) -> Network:
    """Return the network with some numbers of its `Box` replaced."""
    return network._replace(box=np.array(read_box(network.box, 0)._replace(**values))[:, None])


def thin_glass(network: Network) -> Network:
    """Return the network with panes of one temperature throughout, as textbook collectors have them."""
    return network._replace(pane_link=np.full_like(network.pane_link, 1.0e15))


def with_face(nodes: Array, panes: int) -> Array:
    """Return node temperatures with the cover's inner face as warm as its pane, if it is not there yet."""
    whole = nodes.shape[0] == panes + NODES_BEHIND_PANES
    return nodes if whole else np.concatenate([nodes, nodes[panes - 1 : panes]])


def with_flow(table: FlowTable, **values: float) -> FlowTable:
    """Return the table with some numbers of `AirFlow` replaced at full speed."""
    flow = table.flow.copy()
    flow[-1] = np.array(read_air_flow(table.flow[-1], 0)._replace(**values))[:, None]
    return table._replace(flow=flow)


def with_films(network: Network, table: FlowTable, front: float, rear: float) -> tuple[Network, FlowTable]:
    """Return both with given films [W/m2K] at full speed, and nothing beside them: no still-gap part."""
    film = table.film.copy()
    film[-1, 0], film[-1, 1] = front, rear
    nusselt = network.nusselt.copy()
    nusselt[network.panes - 1 :] = 0.0
    return network._replace(nusselt=nusselt), table._replace(film=film)


@dataclass(frozen=True)
class Turn:
    """What one stage gives."""

    nodes: Array  # [node, segment] K
    outlet: float  # [K]
    stage: Stage
    edges: Edges
    losses: Losses  # [W]


def turn(
    network: Network,
    table: FlowTable,
    guess: Array,
    *,
    weather: Weather = CLEAR,
    absorbed: Array | None = None,
    inlet: tuple[float, float] = (0.0, 1.0),
    room: float = 293.15,
    begin: Array | None = None,
    duration: float = FOREVER,
    speed: float = 1.0,
) -> Turn:
    """Take one stage with the conductances of the guess [node, segment]; inlet: constant, weight of room."""
    guess = with_face(guess, network.panes)
    begin = guess if begin is None else with_face(begin, network.panes)
    segments = network.path.shape[1]
    stage = new_stage(network.panes, guess.shape[0], segments, 1)
    edges = new_edges(segments, 1)
    stage.guess[:, :, 0] = guess
    stage.begin[:, :, 0] = begin
    stage.per_second[0] = 1.0 / duration
    read_flow_table(table, speed, stage, 0)
    sun = np.array([0.0] * network.panes + [600.0]) if absorbed is None else np.asarray(absorbed)
    sun = sun.reshape(-1, 1)
    box, flow = read_box(network.box, 0), read_air_flow(stage.flow, 0)
    moving = moving_air(flow.mass_flow * SPECIFIC_HEAT_AIR / box.segment_area)
    freeze_back(network, box, stage, 0)
    for s in range(segments):
        freeze_segment(network, box, flow, moving, weather, stage, s, 0)
        load_segment(network, box, weather, sun, stage, s, 0)
    join_streams(network, stage.response, np.array(inlet)[:, None], edges, 0)
    nodes = np.zeros((1, guess.shape[0], segments, 1))
    for s in range(segments):
        settle_segment(network, box, weather.ambient, stage, edges, room, s, 0, nodes, 0)
    losses = heat_losses(network, box, weather, stage, nodes, 0, room, 0)
    outlet = float(edges.outlet[0, 0] + edges.outlet[1, 0] * room)
    return Turn(nodes[0, :, :, 0], outlet, stage, edges, losses)
