"""The two air streams joined along the collector, from its inlet to its outlet.

Every edge temperature is affine in the room temperature: constant + room T_room.
"""

from typing import NamedTuple

import numpy as np

from simengine.collector.network import Array, Network, read_box
from simengine.compiled import kernel
from simengine.vector import same_in

FRONT, REAR = 3, 4  # rows of Response
CONSTANT, ROOM, BY_FRONT, BY_REAR = 0, 1, 2, 3  # its coefficients


class Edges(NamedTuple):
    """Air temperatures where it enters each segment, and at the outlet."""

    front: Array  # [segment, 2, lane] constant [K] and weight of the room [-]
    rear: Array  # [segment, 2, lane]
    outlet: Array  # [2, lane]
    turned: Array  # [segment, 3, lane] counterflow: what the rear stream brings, see `_join_counter`


def new_edges(segments: int, lanes: int) -> Edges:
    """Return empty `Edges` for so many segments and lanes."""
    return Edges(
        np.zeros((segments, 2, lanes)),
        np.zeros((segments, 2, lanes)),
        np.zeros((2, lanes)),
        np.zeros((segments, 3, lanes)),
    )


@kernel
def join_streams(network: Network, response: Array, inlet: Array, edges: Edges, lane: int) -> None:
    """Follow both streams of a lane from the inlet [2, lane] through all segments; fill `edges`.

    Parameters
    ----------
    network : the collector
    response : [segment, output, coefficient, lane] answers of the segments
    inlet : [2, lane] air at the collector inlet, constant [K] and weight of the room [-]
    edges : receives the temperatures
    lane : which member

    Source: substitution along the flow; for two passes the elimination of the returning stream.
    """
    if network.counterflow:
        _join_counter(response, inlet, edges, lane)
    else:
        _join_parallel(network, response, inlet, edges, lane)


@kernel
def _join_parallel(network: Network, response: Array, inlet: Array, edges: Edges, lane: int) -> None:
    r = response
    for part in range(2):
        base = 1.0 - part  # the constant of each answer counts once, its room weight once
        front = inlet[part, lane]
        rear = inlet[part, lane]
        for s in range(response.shape[0]):
            edges.front[s, part, lane] = front
            edges.rear[s, part, lane] = rear
            own_front = base * r[s, FRONT, CONSTANT, lane] + part * r[s, FRONT, ROOM, lane]
            own_rear = base * r[s, REAR, CONSTANT, lane] + part * r[s, REAR, ROOM, lane]
            new = own_front + r[s, FRONT, BY_FRONT, lane] * front + r[s, FRONT, BY_REAR, lane] * rear
            rear = own_rear + r[s, REAR, BY_FRONT, lane] * front + r[s, REAR, BY_REAR, lane] * rear
            front = new
        share = read_box(network.box, lane).rear_share
        edges.outlet[part, lane] = (1.0 - share) * front + share * rear


@kernel
def _join_counter(response: Array, inlet: Array, edges: Edges, lane: int) -> None:
    # from the turn backwards: rear air entering a segment is
    # constant + room T_room + kept * (front air leaving that segment)
    segments = response.shape[0]
    r = response
    constant, room, kept = same_in(lane, 0.0), same_in(lane, 0.0), same_in(lane, 1.0)
    for s in range(segments - 1, -1, -1):
        edges.turned[s, 0, lane] = constant
        edges.turned[s, 1, lane] = room
        edges.turned[s, 2, lane] = kept
        damped = 1.0 / (1.0 - r[s, FRONT, BY_REAR, lane] * kept)
        out_constant = (r[s, FRONT, CONSTANT, lane] + r[s, FRONT, BY_REAR, lane] * constant) * damped
        out_room = (r[s, FRONT, ROOM, lane] + r[s, FRONT, BY_REAR, lane] * room) * damped
        out_kept = r[s, FRONT, BY_FRONT, lane] * damped
        by_rear = r[s, REAR, BY_REAR, lane]
        constant = r[s, REAR, CONSTANT, lane] + by_rear * (constant + kept * out_constant)
        room = r[s, REAR, ROOM, lane] + by_rear * (room + kept * out_room)
        kept = r[s, REAR, BY_FRONT, lane] + by_rear * kept * out_kept
    for part in range(2):
        own = constant if part == 0 else room
        edges.outlet[part, lane] = own + kept * inlet[part, lane]
        front = inlet[part, lane]
        for s in range(segments):
            brought = edges.turned[s, part, lane]
            damped = 1.0 / (1.0 - r[s, FRONT, BY_REAR, lane] * edges.turned[s, 2, lane])
            own = r[s, FRONT, CONSTANT, lane] if part == 0 else r[s, FRONT, ROOM, lane]
            edges.front[s, part, lane] = front
            passed = r[s, FRONT, BY_FRONT, lane] * front + r[s, FRONT, BY_REAR, lane] * brought
            leaving = (own + passed) * damped
            edges.rear[s, part, lane] = brought + edges.turned[s, 2, lane] * leaving
            front = leaving
