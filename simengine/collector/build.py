"""From what a collector is made of to the numbers of the march, for one member."""

import math
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from simengine.air.gases import gas_named
from simengine.collector.gap_filling import filling
from simengine.collector.network import Array, Box, Network
from simengine.collector.spec import AirSpace, Collector
from simengine.errors import InputError
from simengine.heat_transfer.conduction import inside_resistance
from simengine.heat_transfer.gap_curve import gap_table
from simengine.heat_transfer.gas_fit import gas_fit
from simengine.heat_transfer.natural_convection import gap_nusselt
from simengine.heat_transfer.radiation import plate_exchange, sky_view

NO_STREAM = 1.0e12
"""Geometry number of a stream that starts from nothing or ends in nothing [-]."""


BARE = 1.0e5
"""Nusselt number that ties the outer face of a bare absorber to the absorber itself [-]: within about
0.01 K, and no stiffer, or rounding would show in the balance."""

STIFFEST_PANE = 1.0e6
"""Conductance from the middle of a pane to its face that is as good as none in the way [W/m2K]."""


class FlowPath(NamedTuple):
    """How an arrangement shares the flow between the spaces before and behind the absorber."""

    front_inlet: float  # relative flow entering in front [-]
    front_outlet: float  # leaving in front [-]
    rear_inlet: float
    rear_outlet: float
    counterflow: bool = False


ARRANGEMENTS = {
    "behind": FlowPath(0.0, 0.0, 1.0, 1.0),
    "in_front": FlowPath(1.0, 1.0, 0.0, 0.0),
    "both_sides": FlowPath(0.5, 0.5, 0.5, 0.5),
    "two_pass": FlowPath(1.0, 1.0, 1.0, 1.0, counterflow=True),
    "through": FlowPath(1.0, 0.0, 0.0, 1.0),
    "tubes": FlowPath(0.0, 0.0, 1.0, 1.0),
}
"""Flow arrangements by name; one network serves them all."""

SENSOR_WEIGHTS = {"absorber": (1.0, 0.0, 0.0), "box_air": (0.0, 1.0, 0.0), "outlet_air": (0.0, 0.0, 1.0)}
"""Where the collector sensor can sit."""


def flow_path(arrangement: str) -> FlowPath:
    """Return the flow path of a named arrangement.

    >>> flow_path("behind").rear_outlet
    1.0
    """
    if arrangement not in ARRANGEMENTS:
        known = ", ".join(ARRANGEMENTS)
        raise InputError(f"collector arrangement '{arrangement:.40}' is unknown; accepted: {known}")
    return ARRANGEMENTS[arrangement]


def exchanging_sides(arrangement: str) -> tuple[str, ...]:
    """Return which sides of the absorber air runs along, as fields of `Absorber` and `Box`.

    Air that passes through the absorber runs along neither.

    >>> exchanging_sides("behind"), exchanging_sides("through")
    (('rear_area',), ())
    """
    path = flow_path(arrangement)
    if path.front_inlet != path.front_outlet:
        return ()
    sides = {"front_area": path.front_inlet, "rear_area": path.rear_inlet}
    return tuple(side for side, flow in sides.items() if flow > 0.0)


def segment_depths(space: AirSpace, segments: int) -> Array:
    """Return the depth of an air space at the middle of each segment [m].

    >>> segment_depths(AirSpace(0.1, 0.02), 2).round(3).tolist()
    [0.08, 0.04]
    """
    middle = (np.arange(segments) + 0.5) / segments
    return space.depth_inlet + (space.depth_outlet - space.depth_inlet) * middle


def stream_logs(inlet: float, outlet: float, segments: int) -> Array:
    """Return the geometry number of `airstream` for each segment of a stream [-].

    >>> stream_logs(1.0, 1.0, 2).tolist()
    [1.0, 1.0]
    """
    edges = np.linspace(inlet, outlet, segments + 1)
    first, last = edges[:-1], edges[1:]
    change = np.abs(last - first)
    low, high = np.minimum(first, last), np.maximum(first, last)
    logs = np.full(segments, NO_STREAM)
    steady = (change == 0.0) & (high > 0.0)
    logs[steady] = 1.0 / high[steady]
    changing = (change > 0.0) & (low > 1.0e-12)
    logs[changing] = np.log1p(change[changing] / low[changing]) / change[changing]  # exact for a small change
    return logs


def build_network(collector: Collector, pressure: float, sensor_place: str = "outlet_air") -> Network:
    """Return the network of one collector.

    Parameters
    ----------
    collector : what it is made of
    pressure : of the air at the site [Pa]
    sensor_place : where the controller's sensor sits, a key of `SENSOR_WEIGHTS`

    Returns
    -------
    Network with one lane

    Raises
    ------
    InputError if the arrangement or the sensor's place is unknown, or a part is missing.

    Source: plain sums and series of what the spec holds; gaps by `gap_nusselt`.
    """
    path = flow_path(collector.arrangement)
    _check(collector, path, sensor_place)
    n = collector.segments
    depths = np.array(
        [np.full(n, gap.depth) for gap in collector.pane_gaps]
        + [segment_depths(collector.front, n), segment_depths(collector.rear, n)]
    )
    gases = [*(filling(gap) for gap in collector.pane_gaps), gas_named("air"), gas_named("air")]
    curves = [gap_table(gap_nusselt, collector.tilt, collector.length / float(d.mean())) for d in depths]
    if not collector.panes:
        curves[0] = np.full_like(curves[0], BARE)
    return Network(
        panes=max(len(collector.panes), 1),
        counterflow=path.counterflow,
        box=np.array(_box(collector, path, sensor_place))[:, None],
        path=_path(path, n)[:, :, None],
        capacity=_capacities(collector)[:, None],
        pane_link=_pane_links(collector)[:, None],
        exchange=_exchanges(collector)[:, None],
        gap=np.stack([1.0 / depths, depths**0.75], axis=1)[:, :, :, None],
        gas=np.array([gas_fit(gas, pressure) for gas in gases])[:, :, :, None],
        nusselt=np.array(curves)[:, None, :],
    )


def _check(collector: Collector, path: FlowPath, sensor_place: str) -> None:
    """Refuse a collector that lacks a part, and a sensor in no known place."""
    if not collector.panes and path.front_inlet != path.front_outlet:
        raise InputError(
            "collector: a bare absorber that air is drawn through takes in outdoor air, which this model "
            "does not know; accepted: at least one pane in front of it"
        )
    if not collector.panes and path.front_inlet > 0.0:
        raise InputError("collector: air runs in front of the absorber, so it needs at least one pane")
    gaps = max(len(collector.panes) - 1, 0)
    if len(collector.pane_gaps) != gaps:
        raise InputError(
            f"collector: {len(collector.panes)} panes with {len(collector.pane_gaps)} gaps between them; "
            f"accepted: {gaps}"
        )
    if not collector.back.layers:
        raise InputError("collector.back: it has no layers; accepted: at least one, from the inside outwards")
    if sensor_place not in SENSOR_WEIGHTS:
        known = ", ".join(SENSOR_WEIGHTS)
        raise InputError(f"control sensor place '{sensor_place:.40}' is unknown; accepted: {known}")
    solids = [(one.name, one.thickness, one.conductivity) for one in collector.panes]
    solids += [(one.name, one.thickness, one.conductivity) for one in collector.back.layers]
    for name, thickness, conductivity in solids:
        if not (thickness > 0.0 and conductivity > 0.0):
            raise InputError(
                f"collector: '{name:.40}' has a thickness of {thickness:g} m and a conductivity of "
                f"{conductivity:g} W/mK; accepted: both above 0"
            )


def _box(collector: Collector, path: FlowPath, sensor_place: str) -> Box:
    back = collector.back
    link = 2.0 / sum(layer.thickness / layer.conductivity for layer in back.layers)
    behind = back.outside_film
    if back.wall_resistance is not None:
        behind = back.wall_resistance + inside_resistance("horizontal")
    absorber, box_air, outlet = SENSOR_WEIGHTS[sensor_place]
    return Box(
        segment_area=collector.aperture / collector.segments,
        cover_emittance=_outer_emittance(collector),
        sky_view=sky_view(collector.tilt),
        face_link=link,
        box_link=link,
        outer_link=1.0 / behind,
        wall_share=0.0 if back.wall_resistance is None else 1.0,
        edge=collector.edge_conductance / collector.aperture,
        rear_share=1.0 if path.counterflow else path.rear_outlet / (path.rear_outlet + path.front_outlet),
        sensor_absorber=absorber,
        sensor_box_air=box_air,
        sensor_outlet=outlet,
        front_area=collector.absorber.front_area,
        rear_area=_rear_area(collector),
        tubes=1.0 if collector.arrangement == "tubes" else 0.0,
    )


def _outer_emittance(collector: Collector) -> float:
    return collector.panes[0].emittance_outside if collector.panes else collector.absorber.emittance_front


def _rear_area(collector: Collector) -> float:
    if collector.arrangement != "tubes":
        return collector.absorber.rear_area
    tubes = collector.absorber.tubes
    if tubes is None:
        raise InputError("collector.absorber: air runs in its tubes, so it needs their diameter and pitch")
    return tubes.exchange * math.pi * tubes.diameter / tubes.pitch


def _path(path: FlowPath, segments: int) -> Array:
    front = np.linspace(path.front_inlet, path.front_outlet, segments + 1)
    rear = np.linspace(path.rear_inlet, path.rear_outlet, segments + 1)
    front_log = stream_logs(path.front_inlet, path.front_outlet, segments)
    rear_log = stream_logs(path.rear_inlet, path.rear_outlet, segments)
    return np.array([front[:-1], front[1:], front_log, rear[:-1], rear[1:], rear_log])  # fields of Path


def _capacities(collector: Collector) -> Array:
    panes = [pane.thickness * pane.density * pane.specific_heat for pane in collector.panes] or [0.0]
    insulation = sum(la.thickness * la.density * la.specific_heat for la in collector.back.layers)
    return np.array(
        [
            *panes,
            collector.absorber.heat_capacity,
            collector.back.lining_heat_capacity,
            insulation,
            collector.box_heat_capacity,
            0.0,  # the inner face of the cover
        ]
    )


def _pane_links(collector: Collector) -> Array:
    halves = [2.0 * pane.conductivity / pane.thickness for pane in collector.panes]
    return np.array([min(half, STIFFEST_PANE) for half in halves] or [STIFFEST_PANE])


def _exchanges(collector: Collector) -> Array:
    panes, absorber = collector.panes, collector.absorber
    between = [
        plate_exchange(outer.emittance_inside, inner.emittance_outside) for outer, inner in pairwise(panes)
    ]
    front = plate_exchange(panes[-1].emittance_inside, absorber.emittance_front) if panes else 0.0
    rear = plate_exchange(absorber.emittance_back, collector.back.emittance)
    return np.array([*between, front, rear])
