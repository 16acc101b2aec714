"""A scenario with its weather and its houses at hand: everything that is settled before the march."""

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from simengine.collector.spec import Collector
from simengine.heat_transfer.conduction import inside_resistance
from simengine.house.calibrate import scaled
from simengine.house.preset_site import exposed, floor_conductance
from simengine.house.presets import PRESETS
from simengine.house.spec import House
from simengine.results.provenance import provenance
from simengine.results.record import Provenance
from simengine.scenario.assembly import Assembly
from simengine.simulate.other_year import other_year

if TYPE_CHECKING:
    from simengine.scenario import Scenario
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

    @property
    def inputs(self) -> list[dict[str, str]]:
        """Return every input as text: group, name, si, us, origin."""
        return [row.as_dict() for row in self.scenario.resolved(self.pressure)]

    @property
    def provenance(self) -> Provenance:
        """Return the digests of program, scenario and weather."""
        return provenance(self.scenario.sha256, self.series.sha256)


def resolve(scenario: "Scenario", series: "WeatherSeries | None" = None) -> Resolved:
    """Return a scenario with its weather read and its houses made.

    Parameters
    ----------
    scenario : the checked scenario
    series : weather to take instead of the one the scenario names

    Returns
    -------
    Resolved

    Raises
    ------
    InputError if the weather cannot be used, or parts do not go together.
    """
    given = read(scenario.weather) if series is None else series
    pressure = float(np.mean(given.data["pressure"].to_numpy()))
    parts = scenario.assemble(pressure)
    weather = other_year(given, parts.site.temperature_shift, parts.site.sun_factor)
    return Resolved(scenario, weather, parts, _houses(parts), pressure)


def _houses(parts: Assembly) -> tuple[House, ...]:
    """Return the user's own house and the built-in ones, each with the second space."""
    area, storeys, spaces = parts.builtin_floor_area, parts.builtin_storeys, parts.spaces
    houses = [] if parts.house is None else [replace(parts.house, second_space=spaces.second)]
    for name, make in PRESETS.items():
        house = make(area, storeys, spaces.second is not None and spaces.below)
        if parts.builtin_shelter is not None:
            house = exposed(house, storeys, parts.builtin_shelter)
        house = scaled(house, parts.builtin_loss_factor)
        second = spaces.second
        if second is not None and not spaces.coupling:
            second = replace(second, coupling=floor_conductance(name, area, storeys))
        houses.append(replace(house, second_space=second))
    return tuple(houses)


def read(named: str | Path) -> "WeatherSeries":
    """Return the weather that a scenario names: a built-in year by its name, or a file."""
    from simengine.weather import builtin, read_weather

    return builtin(named) if isinstance(named, str) else read_weather(named)


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
