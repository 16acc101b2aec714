"""One steady operating point of a collector: the equations of the march, with nothing stored."""

from typing import NamedTuple

import numpy as np

from simengine.collector.airstream import moving_air
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
from simengine.collector.streams import Edges, join_streams, new_edges
from simengine.compiled import entry
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.errors import InputError, RunEnded

FOREVER = 1.0e30
"""Length of a step in which nothing is stored [s]."""
TOLERANCE = 1.0e-8
"""Largest change of any node in the last turn [K]."""
MOST_TURNS = 500


class SteadyPoint(NamedTuple):
    """Temperatures and heat flows of a collector at rest in its weather."""

    nodes: Array  # [node, segment] K
    outlet: float  # [K]
    mass_flow: float  # [kg/s]
    useful_gain: float  # [W] into the air between inlet and outlet
    efficiency: float  # [-] useful gain over sun on the aperture; 0 without sun
    losses: Losses  # [W]


def steady_point(
    network: Network,
    table: FlowTable,
    weather: Weather,
    absorbed: Array,
    inlet: float,
    speed: float = 1.0,
) -> SteadyPoint:
    """Return the steady state at a given inlet temperature and fan speed.

    Parameters
    ----------
    network, table : the collector, one lane
    weather : ambient, sky [K], wind coefficient [W/m2K], sun on the aperture [W/m2]
    absorbed : [pane + 1] sun absorbed by each pane, then by the absorber [W/m2]; a bare absorber counts as
        a pane that absorbs nothing, and itself
    inlet : air temperature at the collector inlet, and of the room behind its wall [K]
    speed : of the fan, 0 to 1; 0 gives stagnation [-]

    Returns
    -------
    SteadyPoint

    Raises
    ------
    InputError if the absorbed sun does not fit the panes; RunEnded if the temperatures don't settle, or an
    input is not finite.

    Source: the stage of the march with a step without end, repeated until nothing changes.
    """
    if not np.isfinite([*weather, *absorbed, inlet, speed]).all():
        raise RunEnded("the steady point has no answer: weather, sun, inlet or speed is not a finite number")
    if np.size(absorbed) != network.panes + 1:
        raise InputError(
            f"steady point: {np.size(absorbed)} figures of absorbed sun; accepted: {network.panes + 1}, one "
            "for each pane (a bare absorber counts as one with 0) and one for the absorber"
        )
    segments = network.path.shape[1]
    rows = network.panes + NODES_BEHIND_PANES
    nodes = np.full((1, rows, segments, 1), weather.ambient + 20.0)
    stage = new_stage(network.panes, rows, segments, 1)
    edges = new_edges(segments, 1)
    sun = np.asarray(absorbed, dtype=np.float64)[:, None]
    stage.per_second[:] = 1.0 / FOREVER
    entering = np.array([[inlet], [0.0]])
    change = _settle(network, table, weather, sun, float(speed), entering, stage, edges, nodes)
    if not change < TOLERANCE:
        raise RunEnded(f"the steady point did not settle within {MOST_TURNS} turns (still {change:.2g} K)")
    box, flow = read_box(network.box, 0), read_air_flow(stage.flow, 0)
    outlet = float(edges.outlet[0, 0] + edges.outlet[1, 0] * inlet)
    gain = flow.mass_flow * SPECIFIC_HEAT_AIR * (outlet - inlet)
    incident = weather.incident * box.segment_area * segments
    losses = heat_losses(network, box, weather, stage, nodes, 0, inlet, 0)
    return SteadyPoint(
        nodes[0, :, :, 0],
        outlet,
        float(flow.mass_flow),
        float(gain),
        float(gain / incident) if incident > 0.0 else 0.0,
        losses,
    )


@entry
def _settle(
    network: Network,
    table: FlowTable,
    weather: Weather,
    sun: Array,
    speed: float,
    entering: Array,
    stage: Stage,
    edges: Edges,
    nodes: Array,
) -> float:
    """Repeat the stage until no node moves; return the last change [K]."""
    read_flow_table(table, speed, stage, 0)
    box = read_box(network.box, 0)
    flow = read_air_flow(stage.flow, 0)
    moving = moving_air(flow.mass_flow * SPECIFIC_HEAT_AIR / box.segment_area)
    freeze_back(network, box, stage, 0)
    inlet = entering[0, 0]
    change = FOREVER
    turn = 0
    while change >= TOLERANCE and turn < MOST_TURNS:
        keep = 0.5 if turn > 50 else 0.0  # damps a point that jumps over the onset of convection
        change = 0.0
        for node in range(nodes.shape[1]):
            for s in range(nodes.shape[2]):
                old = stage.guess[node, s, 0]
                new = nodes[0, node, s, 0]
                change = max(change, abs(new - old))
                stage.guess[node, s, 0] = keep * old + (1.0 - keep) * new
        for s in range(nodes.shape[2]):
            freeze_segment(network, box, flow, moving, weather, stage, s, 0)
            load_segment(network, box, weather, sun, stage, s, 0)
        join_streams(network, stage.response, entering, edges, 0)
        for s in range(nodes.shape[2]):
            settle_segment(network, box, weather.ambient, stage, edges, inlet, s, 0, nodes, 0)
        turn += 1
    return change
