"""A collector as plain numbers for the march: capacities, links, gap curves and flow tables.

The march moves several members side by side; every array has an axis for them ("lane"). A tuple of
floats such as `Box` is stored as rows in the order of its fields. Nodes are counted from the sun
inwards: the panes, then absorber, inner face of the back, mass of the insulation, box; last comes the
inner face of the innermost pane, which stores nothing. A pane counts at its middle. Air spaces likewise:
between the panes, then front, then rear.
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.compiled import kernel

Array = NDArray[np.float64]

NODES_BEHIND_PANES = 5

COVER_FACE = 4
"""Row of the inner face of the cover, counted from that of the absorber."""


class Box(NamedTuple):
    """What holds for a collector as a whole."""

    segment_area: float  # [m2]
    cover_emittance: float  # [-] outer face
    sky_view: float  # [-]
    face_link: float  # [W/m2K] inner face of the back to the mass of the insulation
    box_link: float  # [W/m2K] that mass to the box
    outer_link: float  # [W/m2K] box to what lies behind it
    wall_share: float  # [-] 1: the house wall lies behind, 0: outdoors
    edge: float  # [W/m2K] absorber to ambient round the edges
    rear_share: float  # [-] share of the air that leaves from behind the absorber
    sensor_absorber: float  # [-] weight of the absorber in what the sensor feels
    sensor_box_air: float  # [-] of the air in the last segment
    sensor_outlet: float  # [-] of the air at the outlet
    front_area: float  # [-] surface that the absorber offers to the air in front, over its own area
    rear_area: float  # [-] the same behind it: fins, ribs, tubes
    tubes: float  # [-] 1: the air behind is enclosed by the absorber (tubes), and the gap there is still


class Path(NamedTuple):
    """How air passes one segment: relative flows [-] and the geometry numbers of `airstream` [-]."""

    front_in: float
    front_out: float
    front_log: float
    rear_in: float
    rear_out: float
    rear_log: float


class AirFlow(NamedTuple):
    """What hangs on the fan's speed alone."""

    mass_flow: float  # [kg/s]
    fan_power: float  # [W] electric
    fan_heat: float  # [W] into the air
    effectiveness: float  # [-] of a perforated absorber
    contact: float  # [-] share of the films beside the absorber that it keeps
    supply_kept: float  # [-] share of its excess that air keeps along the supply duct
    return_kept: float  # [-] the same for the return duct
    supply_room: float  # [-] weight of the room in the temperature round the supply duct
    return_room: float  # [-] the same for the return duct
    leak_in: float  # [-] share of the flow that is drawn in from outdoors before the absorber
    leak_out: float  # [-] share of the flow that is lost to outdoors behind it


class Weather(NamedTuple):
    """The outdoors during one interval, as the collector feels it."""

    ambient: float  # [K]
    sky: float  # [K]
    wind_coefficient: float  # [W/m2K]
    incident: float  # [W/m2] sun on the aperture


class Network(NamedTuple):
    """The nodes and links of collectors of one layout, side by side."""

    panes: int
    counterflow: bool  # the rear stream runs against the front stream, which feeds it
    box: Array  # [Box, lane]
    path: Array  # [Path, segment, lane]
    capacity: Array  # [node, lane] J/m2K
    pane_link: Array  # [pane, lane] W/m2K from the middle of a pane to either of its faces
    exchange: Array  # [space, lane] radiative exchange factor 1/(1/e1 + 1/e2 - 1), -
    gap: Array  # [space, 2, segment, lane] 1 / depth [1/m], depth ** (3/4) [m ** 0.75]
    gas: Array  # [space, 2, 7, lane] what `gas_fit` says of the gas in the space
    nusselt: Array  # [space, lane, x] Nusselt number over the signed fourth root of Rayleigh, -


class FlowTable(NamedTuple):
    """Flow, fan, ducts and forced films at evenly spaced speeds from 0 to 1."""

    flow: Array  # [speed, AirFlow, lane]
    film: Array  # [speed, 2, segment, lane] forced film in the front and the rear space, W/m2K


class Forcing(NamedTuple):
    """What the weather does to the collector, interval by interval."""

    weather: Array  # [interval, Weather]
    absorbed: Array  # [interval, pane + 1] sun absorbed by each pane, then by the absorber, W/m2


@kernel
def read_box(rows: Array, lane: int) -> Box:
    """Return the `Box` of one lane."""
    return Box(
        rows[0, lane],
        rows[1, lane],
        rows[2, lane],
        rows[3, lane],
        rows[4, lane],
        rows[5, lane],
        rows[6, lane],
        rows[7, lane],
        rows[8, lane],
        rows[9, lane],
        rows[10, lane],
        rows[11, lane],
        rows[12, lane],
        rows[13, lane],
        rows[14, lane],
    )


@kernel
def read_path(rows: Array, segment: int, lane: int) -> Path:
    """Return the `Path` of one segment of one lane."""
    return Path(
        rows[0, segment, lane],
        rows[1, segment, lane],
        rows[2, segment, lane],
        rows[3, segment, lane],
        rows[4, segment, lane],
        rows[5, segment, lane],
    )


@kernel
def read_air_flow(rows: Array, lane: int) -> AirFlow:
    """Return the `AirFlow` of one lane."""
    return AirFlow(
        rows[0, lane],
        rows[1, lane],
        rows[2, lane],
        rows[3, lane],
        rows[4, lane],
        rows[5, lane],
        rows[6, lane],
        rows[7, lane],
        rows[8, lane],
        rows[9, lane],
        rows[10, lane],
    )


@kernel
def read_weather(rows: Array, lane: int) -> Weather:
    """Return the `Weather` of one lane."""
    return Weather(rows[0, lane], rows[1, lane], rows[2, lane], rows[3, lane])
