"""The model's answer to a log for one set of unknowns, held against what was read."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from simengine.collector.network import Forcing
from simengine.fieldtest.log import Array, TestLog
from simengine.fieldtest.sections import Section, block_means
from simengine.simulate.measured import Bench, Factors, Followed

BLOCK = 300.0
"""Readings and model are compared as means over this long [s]."""


@dataclass(frozen=True)
class Comparison:
    """Log and collector, ready to be compared for any set of unknowns."""

    log: TestLog
    bench: Bench
    sections: list[Section]
    flow_place: str  # end of the collector at which `flow` is measured

    @property
    def size(self) -> int:
        """Rows of a block."""
        return max(1, round(BLOCK / self.log.step))

    def follow(self, section: Section, values: Mapping[str, float]) -> Followed:
        """Return the model's temperatures along a section.

        Parameters
        ----------
        section : of the log
        values : unknowns by name; what is missing is as the scenario and the readings have it
        """
        factors = self.factors(values)
        at = values.get
        course, forcing = section.course, section.forcing
        # a flow measured at the end that leaks away or in is not the one that passes the absorber
        other_end = (self.flow_place == "inlet") == self.bench.pulls
        through = at("flow", 1.0) / (1.0 - factors.leakage if other_end else 1.0)
        shifted = replace(
            course,
            inlet=course.inlet - at("inlet", 0.0),
            ambient=course.ambient - at("ambient", 0.0),
            flow=course.flow * through,
        )
        weather = forcing.weather.copy()
        weather[:, 0] -= at("ambient", 0.0)
        weather[:, 1] += at("sky", 0.0) - at("ambient", 0.0)
        weather[:, 2] += (at("wind", 1.0) - 1.0) * section.wind_slope
        sunny = factors._replace(cover_transmittance=factors.cover_transmittance * at("irradiance", 1.0))
        return self.bench.follow(shifted, sunny, Forcing(weather, forcing.absorbed))

    def factors(self, values: Mapping[str, float]) -> Factors:
        """Return the factors among the unknowns, the others as the scenario has them."""
        return self.bench.factors(**{n: v for n, v in values.items() if n in Factors._fields})

    def left_over(self, values: Mapping[str, float]) -> dict[str, list[Array]]:
        """Return readings less model, as block means [K]: by signal, one array a section."""
        found: dict[str, list[Array]] = {}
        for section in self.sections:
            followed = self.follow(section, values)
            for name, read in section.read.items():
                model = getattr(followed, name) + values.get(name, 0.0)
                found.setdefault(name, []).append(block_means(read - model, self.size))
        return found


def measured_leak(log: TestLog, place: str, pulls: bool) -> tuple[Array, str, str] | None:
    """Return small over large flow row by row, and which column is the small one and which the large one.

    Parameters
    ----------
    log : with both flows
    place : where the flow of the first meter was taken
    pulls : whether the fan stands behind the collector
    """
    if not log.has("second_flow"):
        return None
    inlet, outlet = ("flow", "second_flow") if place == "inlet" else ("second_flow", "flow")
    small, large = (inlet, outlet) if pulls else (outlet, inlet)
    most = float(np.nanmax(log[large]))
    rows = np.isfinite(log[small]) & (log[large] > 0.3 * most)
    return log[small][rows] / log[large][rows], small, large
