"""What drives a march, and what many marches have of it in common: weather, sun and sky, worked out once."""

import hashlib
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

from simengine import sun
from simengine.collector.network import Forcing
from simengine.simulate.climate import read
from simengine.simulate.fan_drive import allowed
from simengine.simulate.forcing import Counts, Place, collector_forcing, on_plane, place, step_plan
from simengine.simulate.kept import Kept
from simengine.simulate.resolve import Resolved, resolve
from simengine.simulate.shade import shade

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.weather import WeatherSeries


@dataclass(frozen=True)
class Drive:
    """Everything that the weather does, for one scenario."""

    here: Place
    plane: sun.PlaneIrradiance
    forcing: Forcing
    plan: Counts  # [interval] steps
    kept: Kept = field(default_factory=lambda: Kept(16))  # what hangs on the drive and little else
    shorter: tuple[int, ...] = ()  # intervals that were taken anew with shorter steps; 0 stands for all

    @cached_property
    def digest(self) -> str:
        """Digest of what the march is driven by: marches that share it may go side by side."""
        total = hashlib.sha256()
        here = self.here
        for array in (*self.forcing, self.plan, here.month, here.hour, here.ambient):
            total.update(repr(array.shape).encode())
            total.update(array.tobytes())
        return f"{total.hexdigest()} {here.series.step}"


class Shared:
    """Keeps what members of a batch have in common; what it gives is what a single run works out."""

    def __init__(self) -> None:
        self.weathers, self.places, self.planes, self.drives = Kept(8), Kept(8), Kept(16), Kept(32)

    def resolve(self, scenario: "Scenario") -> Resolved:
        """Return a scenario with its weather, read once for all."""
        normals = scenario.inputs.site.normals
        named = tuple(str(name) for name in scenario.weathers) if normals is None else repr(normals)
        return resolve(scenario, self.weathers.once(named, lambda: read(scenario)))

    def drive(self, resolved: Resolved) -> Drive:
        """Return what drives a scenario's march."""
        site, settings = resolved.parts.site, resolved.parts.run
        year: WeatherSeries = resolved.series
        changed = (year.sha256, resolved.scenario.inputs.site.mend_clock)
        around = (changed, site.ground_reflectance, site.snow, settings.clear_sky)
        here: Place = self.places.once(around, lambda: place(year, site, settings.clear_sky))
        collector = resolved.parts.collector
        looks = (around, shade(site, collector), settings.sky, collector.tilt, collector.azimuth)
        plane: sun.PlaneIrradiance = self.planes.once(looks, lambda: on_plane(here, resolved))
        sheet = collector.absorber  # of which no more than this meets the sun
        dark = (sheet.absorptance, sheet.angular, sheet.fall_off)
        optics = (collector.panes, dark, collector.dirt_factor)
        exposure = (site.collector_height, site.terrain, site.wind_shelter)
        film = (*exposure, collector.wind_relation, collector.length)
        rule = resolved.parts.control
        moves = (rule.months, rule.hours, resolved.parts.passive is None)
        driven = (looks, optics, film, settings.step, moves)
        return self.drives.once(driven, lambda: _drive(resolved, here, plane))  # type: ignore[no-any-return]


def drive_of(resolved: Resolved) -> Drive:
    """Return what drives the march of one scenario alone."""
    here = place(resolved.series, resolved.parts.site, resolved.parts.run.clear_sky)
    return _drive(resolved, here, on_plane(here, resolved))


def _drive(resolved: Resolved, here: Place, plane: sun.PlaneIrradiance) -> Drive:
    forcing = collector_forcing(here, resolved, plane)
    parts = resolved.parts
    shut = allowed(parts.control, resolved.series) == 0.0 if parts.passive is None else None
    passive = parts.passive is not None
    plan = step_plan(forcing, float(resolved.series.step), parts.run.step, shut, passive=passive)
    return Drive(here, plane, forcing, plan)
