"""Still gaps, and the panes of a cover with both faces of each, for the differential equations.

Only gap curve and air properties are the package's own.
"""

import math
from dataclasses import dataclass

from simengine.air.gases import gas_named
from simengine.heat_transfer.gap_curve import gap_table, interpolate_nusselt
from simengine.heat_transfer.gas_fit import gas_conductivity, gas_fit, gas_rayleigh_root
from simengine.heat_transfer.natural_convection import gap_nusselt

SIGMA = 5.670374419e-8  # [W/m2K4] CODATA 2018


@dataclass
class Outdoors:
    """What lies before the cover."""

    ambient: float  # [K]
    sky: float  # [K]
    wind: float  # [W/m2K]


class Gap:
    """Still air of one depth between two walls."""

    def __init__(self, depth: float, length: float, tilt: float, pressure: float) -> None:
        self.depth = depth
        self.curve = gap_table(gap_nusselt, tilt, length / depth)
        conductivity, rayleigh = gas_fit(gas_named("air"), pressure)
        self.conductivity, self.rayleigh = tuple(conductivity), tuple(rayleigh)

    def conductance(self, outer: float, inner: float) -> float:
        mean = 0.5 * (outer + inner)
        k = gas_conductivity(self.conductivity, mean)
        ra = gas_rayleigh_root(self.rayleigh, mean) ** 4 * abs(inner - outer) * self.depth**3
        return interpolate_nusselt(self.curve, math.copysign(ra**0.25, inner - outer)) * k / self.depth


def exchange(first: float, second: float) -> float:
    """Return sigma over 1/e1 + 1/e2 - 1 [W/m2K4]."""
    return SIGMA / (1.0 / first + 1.0 / second - 1.0)


def from_outside(middle: float, link: float, emittance: float, view: float, outdoors: Outdoors) -> float:
    """Return the heat that comes in at the outermost face [W/m2]; Newton finds the temperature of that face.

    link: from the middle of the pane to its face [W/m2K]; view: of the sky.
    """
    face = middle
    for _ in range(4):
        up = view * (outdoors.sky**4 - face**4) + (1.0 - view) * (outdoors.ambient**4 - face**4)
        comes = outdoors.wind * (outdoors.ambient - face) + emittance * SIGMA * up
        steep = outdoors.wind + 4.0 * emittance * SIGMA * face**3 + link
        face += (comes + link * (middle - face)) / steep
    return link * (face - middle)


def between_panes(
    outer: float, inner: float, links: tuple[float, float], gap: Gap, exchanged: float
) -> float:
    """Return the heat that passes outwards from the middle of a pane to that of the next [W/m2].

    links: from the middle of either pane to its face [W/m2K]; exchanged: of the long-wave [W/m2K4].
    """
    behind, before = 1.0 / links[0], 1.0 / links[1]
    one, other, flow = outer, inner, 0.0
    for _ in range(6):
        film = gap.conductance(one, other) + exchanged * (one + other) * (one**2 + other**2)
        flow = (inner - outer) / (behind + 1.0 / film + before)
        one, other = outer + behind * flow, inner - before * flow
    return flow
