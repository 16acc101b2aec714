"""What drives a march, and what many marches have of it in common: weather, sun and sky, worked out once."""

import hashlib
from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

from simengine import sun
from simengine.collector.network import Forcing
from simengine.simulate.climate import read
from simengine.simulate.forcing import Counts, Place, collector_forcing, on_plane, place, step_plan
from simengine.simulate.resolve import Resolved, resolve

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.weather import WeatherSeries

KEPT = 8
"""How many weather files, places and planes are kept; each takes about 1 MB."""


@dataclass(frozen=True)
class Drive:
    """Everything that the weather does, for one scenario."""

    here: Place
    plane: sun.PlaneIrradiance
    forcing: Forcing
    plan: Counts  # [interval] steps

    @cached_property
    def digest(self) -> str:
        """Digest of what the march is driven by: marches that share it may go side by side."""
        total = hashlib.sha256()
        here = self.here
        for array in (*self.forcing, self.plan, here.month, here.hour, here.ambient):
            total.update(repr(array.shape).encode())
            total.update(array.tobytes())
        return f"{total.hexdigest()} {here.series.step}"


@dataclass
class Shared:
    """Keeps what members of a batch have in common; what it gives is what a single run works out."""

    kept: OrderedDict[Hashable, Any] = field(default_factory=OrderedDict)

    def resolve(self, scenario: "Scenario") -> Resolved:
        """Return a scenario with its weather, read once for all."""
        normals = scenario.inputs.site.normals
        named = tuple(str(name) for name in scenario.weathers) if normals is None else repr(normals)
        return resolve(scenario, self._once(("weather", named), lambda: read(scenario)))

    def drive(self, resolved: Resolved) -> Drive:
        """Return what drives a scenario's march."""
        site, settings = resolved.parts.site, resolved.parts.run
        year: WeatherSeries = resolved.series
        changed = (year.sha256, resolved.scenario.inputs.site.mend_clock)
        around = (changed, site.ground_reflectance, site.snow, settings.clear_sky)
        here: Place = self._once(("place", around), lambda: place(year, site, settings.clear_sky))
        collector = resolved.parts.collector
        box = (collector.tilt, collector.azimuth, collector.width, collector.length)
        looks = ("plane", around, site, settings.sky, box)
        plane: sun.PlaneIrradiance = self._once(looks, lambda: on_plane(here, resolved))
        return _drive(resolved, here, plane)

    def _once(self, key: Hashable, make: Callable[[], Any]) -> Any:
        if key in self.kept:
            self.kept.move_to_end(key)
            return self.kept[key]
        made = make()
        self.kept[key] = made
        same = [other for other in self.kept if isinstance(other, tuple) and other[0] == key[0]]  # type: ignore[index]
        if len(same) > KEPT:
            del self.kept[same[0]]
        return made


def drive_of(resolved: Resolved) -> Drive:
    """Return what drives the march of one scenario alone."""
    here = place(resolved.series, resolved.parts.site, resolved.parts.run.clear_sky)
    return _drive(resolved, here, on_plane(here, resolved))


def _drive(resolved: Resolved, here: Place, plane: sun.PlaneIrradiance) -> Drive:
    forcing = collector_forcing(here, resolved, plane)
    plan = step_plan(forcing, float(resolved.series.step), resolved.parts.run.step)
    return Drive(here, plane, forcing, plan)
