"""One steady operating point of a scenario's collector, in conditions that the user names."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from simengine.collector.absorbed import AbsorbedSun, absorbed_sun
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table
from simengine.collector.network import COVER_FACE, FlowTable, Network, Weather
from simengine.collector.steady import SteadyPoint, steady_point
from simengine.constants import STANDARD_AIR_DENSITY, ZERO_CELSIUS
from simengine.heat_transfer.wind import WIND_RELATIONS
from simengine.simulate.fan_at_flow import fan_power, pressure_drop
from simengine.simulate.forcing import absorbed_rows
from simengine.simulate.lanes import air_loop, at_rest_and_full
from simengine.simulate.resolve import Resolved, resolve

if TYPE_CHECKING:
    from simengine.scenario import Scenario

COLD_SKY = 10.0
"""How far the sky is below the air where nothing is said of it [K] (common practice)."""


@dataclass(frozen=True, slots=True)
class Conditions:
    """The weather and the air of one steady point."""

    irradiance: float = 800.0  # [W/m2] on the collector plane, all of it beam
    incidence: float = 0.0  # [deg] from the normal
    ambient: float = ZERO_CELSIUS  # [K]
    sky: float | None = None  # [K]; None: `COLD_SKY` below the air
    inlet: float = ZERO_CELSIUS + 20.0  # [K]
    flow: float | None = None  # [kg/s]; None: the scenario's own; 0: stagnation
    wind: float = 3.0  # [m/s]

    @property
    def sky_temperature(self) -> float:
        """Black-body temperature of the sky [K]."""
        return self.ambient - COLD_SKY if self.sky is None else self.sky


@dataclass(frozen=True, slots=True)
class Solved:
    """A steady point with everything that it was solved from."""

    network: Network
    table: FlowTable
    weather: Weather
    sun: AbsorbedSun
    steady: SteadyPoint


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
    figures by name: temperatures [K], heat flows [W], efficiency [-], flow [kg/s] and [m3/s], pressure [Pa]

    Raises
    ------
    InputError if the parts do not go together; RunEnded if no steady state is found.
    """
    return figures(resolve(scenario), Conditions(irradiance, incidence, ambient, sky, inlet, flow, wind))


def figures(resolved: Resolved, conditions: Conditions) -> dict[str, float]:
    """Return the figures of one steady point of a scenario at hand, by name in SI."""
    return figures_of(resolved, conditions, solve(resolved, conditions))


def solve(resolved: Resolved, conditions: Conditions) -> Solved:
    """Return the steady state of a scenario's collector in given conditions."""
    collector = resolved.parts.collector
    loop = at_rest_and_full(air_loop(resolved))
    mass_flow = resolved.parts.fan.mass_flow if conditions.flow is None else conditions.flow
    if mass_flow > 0.0:
        loop = loop._replace(mass_flow=np.array([0.0, mass_flow]))
    network = build_network(collector, resolved.pressure)
    table = build_flow_table(collector, loop, resolved.pressure)
    one, none = np.array([conditions.irradiance]), np.zeros(1)
    sun = absorbed_sun(collector, np.array([conditions.incidence]), one, none, none)
    film = WIND_RELATIONS[collector.wind_relation](conditions.wind, collector.length)
    weather = Weather(conditions.ambient, conditions.sky_temperature, film, conditions.irradiance)
    speed = 1.0 if mass_flow > 0.0 else 0.0
    steady = steady_point(network, table, weather, absorbed_rows(sun)[0], conditions.inlet, speed)
    return Solved(network, table, weather, sun, steady)


def figures_of(resolved: Resolved, conditions: Conditions, solved: Solved) -> dict[str, float]:
    """Return the figures of a steady point that is solved already, by name in SI.

    Parameters
    ----------
    resolved : scenario with weather and houses
    conditions : of the point
    solved : what came of it
    """
    found, panes = solved.steady, solved.network.panes
    means = found.nodes.mean(axis=1)
    aperture = resolved.parts.collector.aperture
    flow = found.mass_flow
    power = fan_power(resolved, flow)
    told = {
        "irradiance": conditions.irradiance,
        "incidence_angle": conditions.incidence,
        "ambient_temperature": conditions.ambient,
        "sky_temperature": conditions.sky_temperature,
        "inlet_temperature": conditions.inlet,
        "mass_flow": flow,
        "standard_flow": flow / STANDARD_AIR_DENSITY,
        "wind_speed": conditions.wind,
        "useful_gain": found.useful_gain,
        "efficiency": found.efficiency,
        "outlet_temperature": found.outlet,
        "temperature_rise": found.outlet - conditions.inlet,
        "cover_temperature": float(means[panes + COVER_FACE]),
        "absorber_temperature": float(means[panes]),
        "hottest_absorber_temperature": float(found.nodes[panes].max()),
        "back_temperature": float(means[panes + 1]),
        "cover_convection_loss": float(found.losses.convection),
        "cover_longwave_loss": float(found.losses.longwave),
        "back_loss": float(found.losses.back + found.losses.wall),
        "edge_loss": float(found.losses.edge),
        "absorbed": float((solved.sun.pane.sum() + solved.sun.absorber.sum()) * aperture),
        "incident": conditions.irradiance * aperture,
        "pressure_drop": pressure_drop(resolved, flow),
        "fan_power": power,
    }
    if not resolved.parts.collector.panes:
        del told["cover_temperature"]
    if power > 0.0:
        told["net_heat_per_fan_watt"] = (found.useful_gain - power) / power
    return told
