"""What hangs on the fan's speed alone: flow, films, effectiveness and duct losses, in one table."""

import math

import numpy as np

from simengine.air.properties import density, dynamic_viscosity, prandtl, thermal_conductivity
from simengine.airflow.loop import AirLoop
from simengine.collector.build import FlowPath, flow_path, segment_depths
from simengine.collector.network import AirFlow, Array, FlowTable
from simengine.collector.spec import AirSpace, Collector, Leak, Perforation
from simengine.errors import InputError
from simengine.heat_transfer.forced_convection import channel_nusselt, reynolds
from simengine.heat_transfer.mixed_convection import fade, faded_forced
from simengine.heat_transfer.perforated_plate import (
    hole_reynolds,
    kutscher_effectiveness,
    kutscher_nusselt,
)
from simengine.heat_transfer.screen import scaled_effectiveness
from simengine.heat_transfer.tube_flow import tube_nusselt

MOST_LEAK = 0.9
"""A box that leaks more than this share of its flow is no collector [-]."""

FILM_TEMPERATURE = 308.15
"""Air temperature [K] at which forced films are taken; 20 K off changes turbulent ones by under 2 %,
laminar ones by 6 %."""


def build_flow_table(collector: Collector, loop: AirLoop, pressure: float) -> FlowTable:
    """Return the flow table of one collector on one air loop.

    Parameters
    ----------
    collector : what it is made of
    loop : flow, fan and ducts by speed
    pressure : of the air at the site [Pa]

    Returns
    -------
    FlowTable with one lane

    Source: the channel relation of `forced_convection`; a perforated absorber takes its front film
    from its effectiveness alone, which already holds the heat of its face. A duct carries the flow less
    what leaks, and keeps exp(-U A / (m c_p)) of its excess at that.
    """
    path = flow_path(collector.arrangement)
    through = path.front_inlet != path.front_outlet
    perforation = collector.absorber.perforation
    if through and perforation is None:
        raise InputError("collector.absorber: air passes through it, so it needs holes or an effectiveness")
    if through and perforation is not None:
        effectiveness = [_effectiveness(collector, perforation, m, pressure) for m in loop.mass_flow]
        contact = [1.0 - fade(_reynolds(collector, m)) for m in loop.mass_flow]
    else:
        effectiveness = [0.0 for _ in loop.mass_flow]
        contact = [1.0 for _ in loop.mass_flow]
    leaks = [leak_shares(collector.leak, loop, float(m)) for m in loop.mass_flow]
    flow = [
        AirFlow(
            loop.mass_flow[speed],
            loop.fan_power[speed],
            loop.fan_heat[speed],
            effectiveness[speed],
            contact[speed],
            loop.supply_kept[speed] ** (1.0 / (1.0 - leaks[speed][1])),
            loop.return_kept[speed] ** (1.0 / (1.0 - leaks[speed][0])),
            loop.supply_room,
            loop.return_room,
            leaks[speed][0],
            leaks[speed][1],
        )
        for speed in range(len(loop.mass_flow))
    ]
    film = np.array([_both_films(collector, path, float(m)) for m in loop.mass_flow])
    return FlowTable(flow=np.array(flow)[:, :, None], film=film[:, :, :, None])


def _both_films(collector: Collector, path: FlowPath, mass_flow: float) -> list[list[float]]:
    """Return the forced films [space, segment] of the air in front and behind."""
    n = collector.segments
    front = np.linspace(path.front_inlet, path.front_outlet, n + 1)
    rear = np.linspace(path.rear_inlet, path.rear_outlet, n + 1)
    before, behind = 0.5 * mass_flow * (front[1:] + front[:-1]), 0.5 * mass_flow * (rear[1:] + rear[:-1])
    drawn = _reynolds(collector, mass_flow) if path.front_inlet != path.front_outlet else None
    films = _films(collector, collector.front, before, drawn)
    if collector.arrangement == "tubes":
        return [films, _tube_films(collector, behind)]
    return [films, _films(collector, collector.rear, behind, drawn)]


def _films(collector: Collector, space: AirSpace, flows: Array, drawn: float | None) -> list[float]:
    """Return the forced film of a flat space, segment by segment, as it enters `mixed` in the stage.

    `drawn` is the Reynolds number of air that passes a sheet: as much as the sheet then loses of the still
    gap's part the forced part holds itself, also where the stream thins to nothing.
    """
    contact = 1.0 if drawn is None else 1.0 - fade(drawn)
    viscosity = dynamic_viscosity(FILM_TEMPERATURE)
    conductivity = thermal_conductivity(FILM_TEMPERATURE)
    films = []
    for depth, flow in zip(segment_depths(space, collector.segments), flows, strict=True):
        diameter = 2.0 * float(depth)
        re = reynolds(float(flow), collector.width, viscosity)
        nusselt = channel_nusselt(re, prandtl(FILM_TEMPERATURE), diameter / collector.length)
        still = contact * conductivity / float(depth)
        films.append(faded_forced(nusselt * conductivity / diameter, still, re if drawn is None else drawn))
    return films


def _tube_films(collector: Collector, flows: Array) -> list[float]:
    """Return the film in the tubes of the absorber, segment by segment; at rest that of conduction."""
    tubes = collector.absorber.tubes
    if tubes is None:
        return [0.0 for _ in flows]
    viscosity = dynamic_viscosity(FILM_TEMPERATURE)
    conductivity = thermal_conductivity(FILM_TEMPERATURE)
    per_tube = flows * tubes.pitch / collector.width
    re = 4.0 * per_tube / (math.pi * tubes.diameter * viscosity)
    nusselt = [
        tube_nusselt(float(r), prandtl(FILM_TEMPERATURE), tubes.diameter / collector.length) for r in re
    ]
    return [nu * conductivity / tubes.diameter for nu in nusselt]


def leak_shares(leak: Leak | None, loop: AirLoop, mass_flow: float) -> tuple[float, float]:
    """Return the shares of the flow that leak in before the absorber and out behind it [-].

    Parameters
    ----------
    leak : cracks and box pressure at full speed; None is tight
    loop : its flow at full speed sets the pressure at the others, by the square of the flow
    mass_flow : at the speed of interest [kg/s]

    Source: power law of the box pressure; see `airflow.leakage`.

    >>> from simengine.airflow.loop import given_flow_loop
    >>> from simengine.airflow.spec import Fan
    >>> loop = given_flow_loop(Fan(0.05, 20.0))
    >>> tuple(round(share, 3) for share in leak_shares(Leak(0.001, 0.65, 10.0), loop, 0.05))
    (0.0, 0.089)
    """
    full = float(loop.mass_flow.max())
    if leak is None or mass_flow <= 0.0 or full <= 0.0:
        return 0.0, 0.0
    pressure = leak.box_pressure * (mass_flow / full) ** 2
    share = leak.coefficient * abs(pressure) ** leak.exponent / mass_flow
    share = min(share, MOST_LEAK)
    return (share, 0.0) if pressure < 0.0 else (0.0, share)


def _reynolds(collector: Collector, mass_flow: float) -> float:
    return reynolds(0.5 * mass_flow, collector.width, dynamic_viscosity(FILM_TEMPERATURE))


def _effectiveness(collector: Collector, sheet: Perforation, mass_flow: float, pressure: float) -> float:
    flux = mass_flow / collector.aperture
    if flux <= 0.0:
        return 1.0
    if sheet.effectiveness is not None:
        rated = flux if sheet.rated_flow is None else sheet.rated_flow
        single = scaled_effectiveness(sheet.effectiveness, flux, rated, sheet.exponent)
        return _in_layers(single, sheet.layers * sheet.exchange)
    if sheet.hole_diameter is None or sheet.pitch is None:
        raise InputError("collector.absorber: give hole_diameter and pitch, or effectiveness at a rated_flow")
    air = density(FILM_TEMPERATURE, pressure)
    kinematic = dynamic_viscosity(FILM_TEMPERATURE) / air
    suction = flux / air
    cross = 0.5 * mass_flow / (air * collector.width * _mean_depth(collector.front))
    re = hole_reynolds(suction, sheet.hole_diameter, sheet.porosity, kinematic)
    nusselt = kutscher_nusselt(re, sheet.pitch / sheet.hole_diameter, sheet.porosity, cross / suction)
    film = nusselt * thermal_conductivity(FILM_TEMPERATURE) / sheet.hole_diameter
    return _in_layers(
        kutscher_effectiveness(film, sheet.porosity, air, suction), sheet.layers * sheet.exchange
    )


def _in_layers(effectiveness: float, layers: float) -> float:
    """Return the effectiveness of several sheets in a row at one temperature: their NTU add up."""
    return 1.0 - math.pow(1.0 - effectiveness, layers)


def _mean_depth(space: AirSpace) -> float:
    return 0.5 * (space.depth_inlet + space.depth_outlet)
