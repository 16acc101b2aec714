"""A collector at rest by a root finder, written from the model's description without sight of the package.

Own discretisation: every wall has its temperature at Gauss-Legendre points along the flow, each air stream
is a polynomial through them and its inlet; fourth-power radiation and both faces of every pane are kept.
What the first go got otherwise, and why, stands in docs/validation.md.
"""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import root

from tests.reference import blind_relations as law
from tests.reference.blind_streams import ARRANGEMENTS, POINTS, gauss

INSIDE_FILM = 0.13  # [m2K/W] ISO 6946, upright wall: the room's side of the house wall


@dataclass(frozen=True)
class Outdoors:
    """What stands around the collector: temperatures [K], wind coefficient [W/m2K], site pressure [Pa]."""

    ambient: float
    sky: float
    wind: float
    pressure: float


@dataclass(frozen=True)
class Found:
    """A solution: heat brought to the room [W], mean absorber and outlet air [K], largest residual [W/m2].

    Air that a blown box loses is made up by as much outdoor air.
    """

    gain: float
    absorber: float
    outlet: float
    residual: float


class Box:
    """The unknowns of one collector and their equations."""

    def __init__(self, collector, outdoors, absorbed, inlet, mass_flow):
        self.c, self.out, self.absorbed, self.inlet, self.flow = (
            collector,
            outdoors,
            absorbed,
            inlet,
            mass_flow,
        )
        self.x, self.weight = gauss()
        self.panes = len(collector.panes)
        self.front_depth = _depth(collector.front, self.x)
        self.rear_depth = _depth(collector.rear, self.x)
        self.walls = 2 * self.panes + 2
        self.drawn_in, self.lost = self._leak()
        self.entering = inlet + self.drawn_in * (outdoors.ambient - inlet)
        self.way = ARRANGEMENTS[collector.arrangement]
        self.size = (self.walls + self.way.streams) * POINTS

    def _leak(self):
        """Shares of the flow that come in before the absorber and get lost behind it."""
        leak = self.c.leak
        if leak is None or self.flow == 0.0:
            return 0.0, 0.0
        share = leak.coefficient * abs(leak.box_pressure) ** leak.exponent / self.flow
        return (share, 0.0) if leak.box_pressure < 0.0 else (0.0, share)

    def still(self, lower, upper, depth):
        return law.gap_conductance(lower, upper, depth, self.c.tilt, self.c.length, self.out.pressure)

    def films(self, flow, depth, still, drawn_through=False):
        """Films of a space that may carry air: at the wall, and at the absorber (per area of its ribs).

        Air that is drawn through the sheet takes the sheet's part along, on both sides of it, as far as the
        flow has come up: by the Reynolds number of half of it, which is that of either stream on average.
        """
        forced, re = law.channel_film(flow, self.c.width, depth, self.c.length)
        conduction = 2.0 * law.conductivity(law.FILM_TEMPERATURE) / depth
        kept, share = 1.0, law.forced_share(re)
        if drawn_through:
            share = law.forced_share(self.flow / (self.c.width * law.viscosity(law.FILM_TEMPERATURE)))
            kept = 1.0 - share
        film = law.joined_film(forced, share, 2.0 * kept * still, kept * conduction)
        return film, kept * film

    def residual(self, unknown):
        t = unknown.reshape(-1, POINTS)
        walls, air = t[: self.walls], t[self.walls :]
        heat = np.zeros_like(walls)  # into each wall face [W/m2]
        self._outside(walls, heat)
        self._panes(walls, heat)
        absorber, lining = walls[-2], walls[-1]
        heat[-2] += self.absorbed[-1] - self.c.edge_conductance / self.c.aperture * (
            absorber - self.out.ambient
        )
        radiated = law.plates(absorber, lining, self.c.absorber.emittance_back, self.c.back.emittance)
        heat[-2] -= radiated
        heat[-1] += radiated + self._back(lining)
        rest = self.way.equations(self, air, walls, heat)
        return np.concatenate([heat.ravel(), *rest])

    def _outside(self, walls, heat):
        """Wind and long-wave of the outermost face."""
        t, out = walls[0], self.out
        e = self.c.panes[0].emittance_outside if self.panes else self.c.absorber.emittance_front
        view = 0.5 * (1.0 + np.cos(np.radians(self.c.tilt)))
        sky = view * (t**4 - out.sky**4) + (1.0 - view) * (t**4 - out.ambient**4)
        heat[0] -= out.wind * (t - out.ambient) + e * law.SIGMA * sky

    def _panes(self, walls, heat):
        """Conduction through each pane, warmed evenly in its thickness; gaps and long-wave between faces."""
        c = self.c
        for i, pane in enumerate(c.panes):
            outer, inner = walls[2 * i], walls[2 * i + 1]
            across = pane.conductivity / pane.thickness * (inner - outer)
            heat[2 * i] += 0.5 * self.absorbed[i] + across
            heat[2 * i + 1] += 0.5 * self.absorbed[i] - across
            below = walls[2 * i + 2]
            last = i + 1 == self.panes
            e = c.absorber.emittance_front if last else c.panes[i + 1].emittance_outside
            flux = law.plates(below, inner, e, pane.emittance_inside)
            if not last:
                gap = c.pane_gaps[i]
                flux = flux + (below - inner) * law.gap_conductance(
                    below, inner, gap.depth, c.tilt, c.length, self.out.pressure, gap.gas, gap.fill_share
                )
            heat[2 * i + 1] += flux
            heat[2 * i + 2] -= flux

    def _back(self, lining):
        """Heat from behind the lining: to the air outdoors, or through the wall into the room [W/m2]."""
        back = self.c.back
        resistance = sum(layer.thickness / layer.conductivity for layer in back.layers)
        if back.wall_resistance is None:
            return (self.out.ambient - lining) / (resistance + back.outside_film)
        return (self.inlet - lining) / (resistance + back.wall_resistance + INSIDE_FILM)

    def solve(self):
        start = np.full(self.size, self.entering + 5.0)
        start[(self.walls - 2) * POINTS : (self.walls - 1) * POINTS] += 30.0
        found = root(self.residual, start, method="hybr", options={"xtol": 1e-10, "maxfev": 40000})
        t = found.x.reshape(-1, POINTS)
        outlet = self.way.outlet(self, t[self.walls :])
        brought = (outlet - self.inlet) - self.lost * (outlet - self.out.ambient)
        gain = self.flow * law.C_P * brought
        worst = float(np.max(np.abs(self.residual(found.x))))
        return Found(float(gain), float(self.weight @ t[self.walls - 2]), float(outlet), worst)


def _depth(space, x):
    return space.depth_inlet + (space.depth_outlet - space.depth_inlet) * x
