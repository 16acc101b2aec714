"""One steady operating point of a scenario's collector, in conditions that the user names."""

from typing import TYPE_CHECKING

import numpy as np

from simengine.collector.absorbed import absorbed_sun
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table
from simengine.collector.network import Weather
from simengine.collector.steady import steady_point
from simengine.constants import STANDARD_AIR_DENSITY, ZERO_CELSIUS
from simengine.heat_transfer.wind import WIND_RELATIONS
from simengine.simulate.forcing import absorbed_rows
from simengine.simulate.lanes import air_loop
from simengine.simulate.resolve import resolve

if TYPE_CHECKING:
    from simengine.scenario import Scenario


def point(
    scenario: "Scenario",
    irradiance: float = 800.0,
    incidence: float = 0.0,
    ambient: float = ZERO_CELSIUS,
    sky: float | None = None,
    inlet: float = ZERO_CELSIUS + 20.0,
    flow: float | None = None,
    wind: float = 3.0,
) -> dict[str, float]:
    """Return a steady operating point.

    Parameters
    ----------
    scenario : the checked scenario
    irradiance : sun on the collector plane, all as beam [W/m2]
    incidence : its angle from the normal [deg]
    ambient, sky, inlet : outdoor air, sky and collector inlet [K]; the sky is 10 K below the air if None
    flow : mass flow [kg/s]; the scenario's own if None, 0 for stagnation
    wind : speed at the collector [m/s]

    Returns
    -------
    figures by name: temperatures [K], heat flows [W], efficiency [-], flow [kg/s] and [m3/s]

    Raises
    ------
    InputError if the parts do not go together; RunEnded if no steady state is found.
    """
    resolved = resolve(scenario)
    collector = resolved.parts.collector
    loop = air_loop(resolved)
    mass_flow = resolved.parts.fan.mass_flow if flow is None else flow
    if mass_flow > 0.0:
        loop = loop._replace(mass_flow=np.array([0.0, mass_flow]))
    network = build_network(collector, resolved.pressure)
    table = build_flow_table(collector, loop, resolved.pressure)
    one, none = np.array([irradiance]), np.zeros(1)
    sun = absorbed_sun(collector, np.array([incidence]), one, none, none)
    film = WIND_RELATIONS[collector.wind_relation](wind, collector.length)
    cold = ambient - 10.0 if sky is None else sky
    found = steady_point(
        network,
        table,
        Weather(ambient, cold, film, irradiance),
        absorbed_rows(sun)[0],
        inlet,
        speed=1.0 if mass_flow > 0.0 else 0.0,
    )
    means = found.nodes.mean(axis=1)
    panes = network.panes
    return {
        "irradiance": irradiance,
        "incidence_angle": incidence,
        "ambient_temperature": ambient,
        "sky_temperature": cold,
        "inlet_temperature": inlet,
        "mass_flow": found.mass_flow,
        "standard_flow": found.mass_flow / STANDARD_AIR_DENSITY,
        "wind_speed": wind,
        "useful_gain": found.useful_gain,
        "efficiency": found.efficiency,
        "outlet_temperature": found.outlet,
        "cover_temperature": float(means[panes - 1]),
        "absorber_temperature": float(means[panes]),
        "hottest_absorber_temperature": float(found.nodes[panes].max()),
        "back_temperature": float(means[panes + 1]),
        "cover_convection_loss": float(found.losses.convection),
        "cover_longwave_loss": float(found.losses.longwave),
        "back_loss": float(found.losses.back + found.losses.wall),
        "edge_loss": float(found.losses.edge),
        "absorbed": float((sun.pane.sum() + sun.absorber.sum()) * collector.aperture),
        "incident": irradiance * collector.aperture,
    }
