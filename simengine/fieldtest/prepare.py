"""From a scenario and the text of its log to everything that the rooms of a test work with."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from simengine.errors import InputError
from simengine.fieldtest.log import TestLog
from simengine.fieldtest.model_answer import Comparison
from simengine.fieldtest.sections import sections
from simengine.fieldtest.sunlight import (
    Plane,
    SkyPath,
    Sunlight,
    clear_sky,
    from_horizontal,
    from_plane,
    sky_path,
)
from simengine.scenario.schema.field_test import FieldTest
from simengine.simulate.measured import Bench
from simengine.sun.position import Site, site_of

if TYPE_CHECKING:
    from simengine.scenario import Scenario
    from simengine.simulate.resolve import Resolved


@dataclass(frozen=True)
class Trial:
    """A test: the collector, its log in SI, and the sun of every row."""

    bench: Bench
    given: FieldTest
    log: TestLog  # with `irradiance` on the plane
    site: Site
    plane: Plane
    path: SkyPath
    sun: Sunlight

    def comparison(self) -> Comparison:
        """Return log and collector ready to be compared."""
        parts = sections(self.log, self.sun, self.bench, self.given.wind_speed, self.given.sky)
        return Comparison(self.log, self.bench, parts, self.given.flow.place)


def section_of(scenario: "Scenario") -> FieldTest:
    """Return the scenario's [field_test].

    Raises
    ------
    InputError if there is none.
    """
    given = scenario.inputs.field_test
    if given is None:
        raise InputError(
            f"{scenario.name}: field_test: is missing; accepted: a [field_test] section that says which "
            f"column "
            "of the log is what, see docs/field_test.md"
        )
    return given


def trial(resolved: "Resolved", log: TestLog) -> Trial:
    """Return the test of a scenario at hand."""
    given = section_of(resolved.scenario)
    box = resolved.parts.collector
    month = int(log.times[0].astype("datetime64[M]").astype(np.int64)) % 12
    plane = Plane(box.tilt, box.azimuth, resolved.parts.site.ground_reflectance[month])
    site = site_of(resolved.series)
    path = sky_path(log, site, plane)
    sun = sun_on_plane(log, given, path, plane)
    return Trial(Bench.of(resolved), given, log.with_columns(irradiance=sun.total), site, plane, path, sun)


def sun_on_plane(log: TestLog, given: FieldTest, path: SkyPath, plane: Plane) -> Sunlight:
    """Return the sun on the plane by what the log has: a meter on the plane, a level one, or none.

    Parameters
    ----------
    log : what was measured
    given : the scenario's [field_test]
    path : of the sun along the log
    plane : of the collector
    """
    if given.irradiance is None:
        return clear_sky(path, plane)
    read = np.maximum(log["irradiance"], 0.0)
    return (
        from_horizontal(read, path, plane)
        if given.irradiance.plane == "horizontal"
        else from_plane(read, path, plane)
    )
