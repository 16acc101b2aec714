"""The interval means of a run by name, each worked out when it is asked for: nobody pays for the rest."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from simengine.engine.ledger import Column
from simengine.simulate.comfort import held_back
from simengine.simulate.drive import Drive
from simengine.simulate.opening import opening_loss
from simengine.simulate.resolve import Resolved

Array = NDArray[np.float64]

MEANS = {
    "incident": Column.INCIDENT,
    "absorbed": Column.ABSORBED,
    "cover_convection_loss": Column.COVER_CONVECTION,
    "cover_longwave_loss": Column.COVER_LONGWAVE,
    "back_loss": Column.BACK_LOSS,
    "edge_loss": Column.EDGE_LOSS,
    "wall_heat": Column.WALL_HEAT,
    "duct_loss": Column.DUCT_LOSS,
    "leak_loss": Column.LEAK_LOSS,
    "collected": Column.COLLECTED,
    "fan_heat": Column.FAN_HEAT,
    "fan_power": Column.FAN_POWER,
    "delivered": Column.DELIVERED,
    "night_loss": Column.NIGHT_LOSS,
    "stored": Column.STORED,
    "heating_with": Column.HEATING,
    "vented": Column.VENTED,
    "house_gain": Column.HOUSE_GAIN,
    "house_loss": Column.HOUSE_LOSS,
    "house_stored": Column.HOUSE_STORED,
    "fan_on": Column.FAN_ON,
    "passive_on": Column.DRIFT_ON,
    "mass_flow": Column.AIR_MASS,
    "room_temperature": Column.ROOM,
    "absorber_temperature": Column.ABSORBER,
    "cover_temperature": Column.COVER,
    "outlet_temperature": Column.OUTLET,
    "supply_temperature": Column.SUPPLY,
    "carried": Column.CARRIED,
    "fresh_air": Column.FRESH_AIR,
    "ventilation_replaced": Column.VENTILATION_REPLACED,
}
"""Hourly quantities that are the ledger's columns, divided by the length of the interval."""

ALONE = {"heating_without": 0, "vented_without": 1, "room_temperature_without": 2}
"""The same of the houses without the collector."""


@dataclass(frozen=True)
class Hours(Mapping[str, Array]):
    """Interval means by name [house, time]; what is the same for every house is [time]."""

    resolved: Resolved
    drive: Drive
    with_it: Array  # ledger of the houses with the collector [interval, column, house]
    without: Array  # of the houses without it [interval, 4, house]
    kept: dict[str, Array] = field(default_factory=dict, repr=False)

    def __getitem__(self, name: str) -> Array:
        """Return one quantity."""
        if name not in self.kept:
            self.kept[name] = self._made(name)
        return self.kept[name]

    def __iter__(self) -> Iterator[str]:
        """Yield the names of all quantities in their order."""
        yield from (*MEANS, "reflected", "fan_starts", "peak_supply_temperature", *ALONE)
        if self.resolved.parts.spaces.second is not None:
            yield from SPACE
        yield from (*OTHERS, "opening_loss", "held_back", "plane_irradiance")

    def __len__(self) -> int:
        """Return how many there are."""
        return sum(1 for _ in self)

    def _made(self, name: str) -> Array:
        seconds = float(self.resolved.series.step)
        if name in MEANS:
            return _by_house(self.with_it, MEANS[name], seconds)
        if name in ALONE:
            return _by_house(self.without, ALONE[name], seconds)
        if name in SPACE and self.resolved.parts.spaces.second is None:
            raise KeyError(name)
        return {**SPACE, **OTHERS, **MORE}[name](self)


def _by_house(ledger: Array, column: int, by: float = 1.0) -> Array:
    """Return a column over a number [house, interval], the intervals of a house side by side in memory."""
    return np.divide(ledger[:, column, :].T, by, order="C")


def _second_space(hours: Hours) -> Array:
    return _by_house(hours.with_it, Column.SECOND_SPACE, float(hours.resolved.series.step))


def _second_space_without(hours: Hours) -> Array:
    return _by_house(hours.without, 3, float(hours.resolved.series.step))


def _reflected(hours: Hours) -> Array:
    return hours["incident"] - hours["absorbed"]


def _fan_starts(hours: Hours) -> Array:
    return _by_house(hours.with_it, Column.FAN_STARTS)


def _peak_supply(hours: Hours) -> Array:
    peak = _by_house(hours.with_it, Column.PEAK_SUPPLY)
    return np.where(peak > 0.0, peak, np.nan)


def _opening_loss(hours: Hours) -> Array:
    return opening_loss(hours.resolved, hours.drive.here, hours["wall_heat"], hours["room_temperature"])


def _held_back(hours: Hours) -> Array:
    parts, here = hours.resolved.parts, hours.drive.here
    reads = "room_temperature" if parts.spaces.supply == "room" else "second_space_temperature"
    seen = {
        "control_temperature": hours[reads],
        "fan_on": hours["fan_on"],
        "delivered": hours["delivered"],
    }
    return held_back(parts.control, here.month, hours["absorbed"], hours[reads] - here.ambient, seen)


SPACE: dict[str, Callable[[Hours], Array]] = {
    "second_space_temperature": _second_space,
    "second_space_temperature_without": _second_space_without,
}
"""What is there only where a house has a second space."""

OTHERS: dict[str, Callable[[Hours], Array]] = {
    "ambient_temperature": lambda hours: hours.drive.here.ambient,
    "sky_temperature": lambda hours: hours.drive.here.sky,
}

MORE: dict[str, Callable[[Hours], Array]] = {
    "reflected": _reflected,
    "fan_starts": _fan_starts,
    "peak_supply_temperature": _peak_supply,
    "opening_loss": _opening_loss,
    "held_back": _held_back,
    "plane_irradiance": lambda hours: hours.drive.plane.total,
}
