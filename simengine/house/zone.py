"""The heated space during one implicit step: air, surfaces and mass, heater and vent, solved together.

The network is that of the simple hourly method of ISO 13790 (Annex C), with a capacity at the air
node. The air node also receives a heat that is affine in its own temperature (the collector's).
"""

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.compiled import kernel

Array = NDArray[np.float64]


class Zone(NamedTuple):
    """Conductances and capacities of the heated space; stored as rows [Zone, lane]."""

    ventilation: float  # [W/K] H_ve
    surface: float  # [W/K] H_is, air to surfaces
    window: float  # [W/K] H_w, surfaces to outdoors through light parts
    inner: float  # [W/K] H_ms, surfaces to mass
    outer: float  # [W/K] H_em, mass to outdoors
    air_capacity: float  # [J/K]
    mass_capacity: float  # [J/K]
    heater: float  # [W] largest heating power
    recovered: float = 0.0  # [W/K] what heat recovery keeps of the air that H_ve stands for


class Demand(NamedTuple):
    """What the heated space gets and wants during an interval; stored as [interval, Demand, lane]."""

    air_gain: float  # [W]
    surface_gain: float  # [W]
    mass_gain: float  # [W]
    setpoint: float  # [K]
    vent_limit: float  # [K]
    infiltration: float = 0.0  # [W/K] air that wind and stack drive in, besides H_ve


ZONE_ROWS = len(Zone._fields)
DEMAND_FIELDS = len(Demand._fields)
"""Where the rows of a second space begin."""


class ZoneAnswer(NamedTuple):
    """Temperatures and heat flows of one stage."""

    air: float  # [K]
    mass: float  # [K]
    heating: float  # [W]
    vented: float  # [W] taken out by the vent
    lost: float  # [W] to outdoors by transmission and ventilation
    stored: float  # [W] in air and mass


@kernel
def read_zone(rows: Array, lane: int) -> Zone:
    """Return the `Zone` of one lane."""
    return Zone(
        rows[0, lane],
        rows[1, lane],
        rows[2, lane],
        rows[3, lane],
        rows[4, lane],
        rows[5, lane],
        rows[6, lane],
        rows[7, lane],
        rows[8, lane],
    )


@kernel
def read_demand(rows: Array, interval: int, lane: int) -> Demand:
    """Return the `Demand` of one interval and lane."""
    return Demand(
        rows[interval, 0, lane],
        rows[interval, 1, lane],
        rows[interval, 2, lane],
        rows[interval, 3, lane],
        rows[interval, 4, lane],
        rows[interval, 5, lane],
    )


@kernel
def settle_zone(
    zone: Zone,
    demand: Demand,
    ambient: float,
    start: tuple[float, float],
    per_second: float,
    heat: tuple[float, float],
) -> ZoneAnswer:
    """Return room air, mass, heating and vented heat at the end of an implicit step.

    Parameters
    ----------
    zone, demand : the heated space, its gains and wanted temperatures
    ambient : outdoor temperature [K]
    start : room air and mass from which the step starts [K]
    per_second : one over its length [1/s]
    heat : heat brought to the air node is heat[0] + heat[1] * T_air [W], [W/K]

    Returns
    -------
    ZoneAnswer; the heater holds the setpoint and the vent the limit, as far as they must and can

    Source: ISO 13790:2008 Annex C (five conductances, one capacity), implicit, with an air capacity.
    """
    # counted from the air's start, so that storage over a short step does not lose digits
    origin = start[0]
    mass = start[1] - origin
    outdoors = ambient - origin
    ventilation = zone.ventilation + demand.infiltration
    mass_storage = zone.mass_capacity * per_second
    air_storage = zone.air_capacity * per_second
    per_mass = 1.0 / (mass_storage + zone.inner + zone.outer)
    mass_source = mass_storage * mass + zone.outer * outdoors + demand.mass_gain
    to_mass = zone.inner * (1.0 - zone.inner * per_mass)
    per_surface = 1.0 / (zone.surface + zone.window + to_mass)
    surface_source = zone.window * outdoors + demand.surface_gain + zone.inner * mass_source * per_mass
    conductance = air_storage + ventilation + zone.surface * (1.0 - zone.surface * per_surface) - heat[1]
    source = (
        ventilation * outdoors
        + demand.air_gain
        + zone.surface * surface_source * per_surface
        + (heat[0] + heat[1] * origin)
    )
    heating = min(max(conductance * (demand.setpoint - origin) - source, 0.0), zone.heater)
    vented = max(source - conductance * (demand.vent_limit - origin), 0.0)
    new_air = (source + heating - vented) / conductance
    new_surface = (zone.surface * new_air + surface_source) * per_surface
    new_mass = (zone.inner * new_surface + mass_source) * per_mass
    lost = (
        ventilation * (new_air - outdoors)
        + zone.window * (new_surface - outdoors)
        + zone.outer * (new_mass - outdoors)
    )
    stored = air_storage * new_air + mass_storage * (new_mass - mass)
    return ZoneAnswer(new_air + origin, new_mass + origin, heating, vented, lost, stored)


@kernel
def replaced_ventilation(ventilation: float, recovered: float, fresh: float) -> float:
    """Return how much of the house's own ventilation a stream of fresh air makes needless [W/K].

    Parameters
    ----------
    ventilation : H_ve, after heat recovery [W/K]
    recovered : what heat recovery keeps of it [W/K]
    fresh : mass flow times specific heat of the fresh air [W/K]

    Returns
    -------
    conductance [W/K]: of the air that comes in anyway a part as large as the stream, at what that air
    loses on average: without recovery the smaller of `fresh` and H_ve, with it (1 - eta) of the
    mechanical part only

    Source: mass balance; the exhaust takes another path.
    """
    return ventilation * min(fresh / max(ventilation + recovered, 1.0e-9), 1.0)
