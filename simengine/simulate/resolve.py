"""A scenario with its weather and its houses at hand: everything that is settled before the march."""

from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import TYPE_CHECKING

import numpy as np

from simengine.air.properties import pressure_at_elevation
from simengine.collector.flow_table import build_flow_table
from simengine.collector.network import FlowTable
from simengine.collector.spec import Collector
from simengine.heat_transfer.conduction import inside_resistance
from simengine.house.calibrate import Calibration, scaled
from simengine.house.preset_site import exposed, floor_conductance
from simengine.house.presets import PRESETS
from simengine.house.spec import House
from simengine.results.provenance import provenance
from simengine.results.record import Provenance
from simengine.scenario.assembly import Assembly, Spaces
from simengine.simulate.climate import digest_of, weather_of
from simengine.simulate.lanes import air_loop

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.simulate.climate import Weather
    from simengine.weather import WeatherSeries

LEAST_CONDUCTANCE = 1.0
"""What a wall behind a collector always leaves of the house's opaque conductance [W/K]."""


@dataclass(frozen=True)
class Resolved:
    """What one run is made of."""

    scenario: "Scenario"
    series: "WeatherSeries"
    parts: Assembly
    houses: tuple[House, ...]  # the user's own first, then standard and low_energy
    pressure: float  # [Pa] mean of the year at the site
    others: tuple["WeatherSeries", ...] = ()  # further weather that the result is spread over
    calibration: Calibration | None = None  # of the user's own house to its fuel bill

    @cached_property
    def flow_table(self) -> FlowTable:
        """What hangs on the fan's speed alone, at as many speeds as the air can have."""
        return build_flow_table(self.parts.collector, air_loop(self), self.pressure)

    @property
    def inputs(self) -> list[dict[str, str]]:
        """Return every input as text: group, name, si, us, origin."""
        return [row.as_dict() for row in self.scenario.resolved(self.pressure)]

    @property
    def provenance(self) -> Provenance:
        """Return the digests of program, scenario and weather."""
        return provenance(self.scenario.sha256, digest_of((self.series, *self.others)))


def resolve(scenario: "Scenario", series: "Weather | None" = None) -> Resolved:
    """Return a scenario with its weather read and its houses made.

    Parameters
    ----------
    scenario : the checked scenario
    series : weather to take instead of the one the scenario names; of several the first is told in full

    Returns
    -------
    Resolved

    Raises
    ------
    InputError if the weather cannot be used, or parts do not go together.
    """
    weather, *others = weather_of(scenario, series)
    pressure = _at_site(float(np.mean(weather.data["pressure"].to_numpy())), scenario, weather)
    parts = scenario.assemble(pressure)
    return Resolved(scenario, weather, parts, _houses(parts), pressure, tuple(others))


def _at_site(pressure: float, scenario: "Scenario", weather: "WeatherSeries") -> float:
    """Return the station's pressure taken to the height of the site [Pa] (standard atmosphere)."""
    height = scenario.inputs.site.elevation
    if height is None:
        return pressure
    return pressure * pressure_at_elevation(height) / pressure_at_elevation(weather.elevation)


def _houses(parts: Assembly) -> tuple[House, ...]:
    """Return the user's own house and the built-in ones, each with the second space."""
    spaces = parts.spaces
    size = (parts.builtin_floor_area, parts.builtin_storeys)
    presets = _presets(size, parts.builtin_shelter, parts.builtin_loss_factor, spaces)
    own = () if parts.house is None else (replace(parts.house, second_space=spaces.second),)
    return (*own, *presets)


@lru_cache(maxsize=16)
def _presets(
    size: tuple[float, int], shelter: int | None, loss_factor: float, spaces: Spaces
) -> tuple[House, ...]:
    """Return the built-in houses of a floor area [m2] and storeys, made once for all members alike."""
    houses = []
    for name, make in PRESETS.items():
        house = make(*size, spaces.second is not None and spaces.below)
        if shelter is not None:
            house = exposed(house, size[1], shelter)
        house = scaled(house, loss_factor)
        second = spaces.second
        if second is not None and not spaces.coupling:
            second = replace(second, coupling=floor_conductance(name, *size))
        houses.append(replace(house, second_space=second))
    return tuple(houses)


def wall_conductance(collector: Collector) -> float:
    """Return what the piece of house wall behind the collector conducts without it [W/K].

    Parameters
    ----------
    collector : 0 where its back stands in the open

    Source: ISO 6946, wall with its inside and outside film.
    """
    wall = collector.back.wall_resistance
    if wall is None:
        return 0.0
    return collector.aperture / (wall + inside_resistance("horizontal") + collector.back.outside_film)


def house_behind(house: House, collector: Collector) -> House:
    """Return the house as the march with the collector sees it: less the wall that it stands on."""
    opaque = house.opaque_conductance - wall_conductance(collector)
    return replace(house, opaque_conductance=max(opaque, LEAST_CONDUCTANCE))
