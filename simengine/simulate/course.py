"""What was measured on a collector, interval by interval, and its stretches of equal flow."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

RESTS = 0.05
"""Share of the largest flow below which the fan counts as off [-]."""
SAME_FLOW = 0.05
"""A flow that strays farther than this from the mean of its piece begins a new piece [-]."""


@dataclass(frozen=True, slots=True)
class Course:
    """What was measured, interval by interval without holes; all arrays [interval]."""

    step: float  # [s]
    ambient: Array  # [K]
    sky: Array  # [K]
    wind: Array  # [m/s] at the collector
    inlet: Array  # [K] air that enters the collector
    flow: Array  # [kg/s] through the absorber
    incidence: Array  # [deg]
    beam: Array  # [W/m2] on the plane
    sky_diffuse: Array  # [W/m2]
    ground: Array  # [W/m2]

    @property
    def irradiance(self) -> Array:
        """All sun on the plane [W/m2]."""
        return self.beam + self.sky_diffuse + self.ground


def pieces(flow: Array) -> Iterator[tuple[int, int, float]]:
    """Yield first interval, end and mean flow [kg/s] of the stretches of equal flow; 0 where the fan rests.

    >>> [tuple(p) for p in pieces(np.array([0.0, 0.0, 0.05, 0.0501, 0.03]))]
    [(0, 2, 0.0), (2, 4, 0.05005), (4, 5, 0.03)]
    """
    least = RESTS * float(flow.max(initial=0.0))
    values = flow.tolist()
    first, total = 0, 0.0
    for end in range(1, len(values) + 1):
        total += values[end - 1]
        mean = total / (end - first)
        if end < len(values) and _alike(mean, values[end], least):
            continue
        yield first, end, (mean if mean > least else 0.0)
        first, total = end, 0.0


def _alike(mean: float, new: float, least: float) -> bool:
    if mean <= least or new <= least:
        return mean <= least and new <= least
    return abs(new / mean - 1.0) <= SAME_FLOW
