"""Air drawn through the absorber as differential equations, written down a second time.

The front stream thins and the rear stream grows along the way; both are followed by their exact power laws
within a segment. Everything but the air is that of `node_equations`.
"""

import math
from dataclasses import dataclass

from simengine.air.properties import dynamic_viscosity, prandtl, thermal_conductivity
from simengine.collector.spec import AirSpace
from simengine.heat_transfer.forced_convection import channel_nusselt
from simengine.heat_transfer.mixed_convection import fade, faded_forced, mixed
from tests.reference.node_equations import CP, FILM_TEMPERATURE, Gap, Plant


@dataclass
class ThroughPlant(Plant):
    """The plant of a perforated absorber with a given effectiveness."""

    def __post_init__(self) -> None:
        super().__post_init__()
        box, n = self.collector, self.n
        self.per_area = self.fan.mass_flow * CP / self.segment_area  # [W/m2K] at the full flow
        self.drawn = self.per_area / n  # [W/m2K] of it through the sheet of each segment
        sheet, flux = box.absorber.perforation, self.fan.mass_flow / (box.width * box.length)
        units = -math.log(1.0 - sheet.effectiveness) * (flux / sheet.rated_flow) ** -sheet.exponent
        self.effectiveness = 1.0 - math.exp(-units)
        # Reynolds number of half of the flow, over twice the depth
        self.half_reynolds = self.fan.mass_flow / (box.width * dynamic_viscosity(FILM_TEMPERATURE))
        self.fronts = [self._gap(box.front, s) for s in range(n)]
        self.rears = [self._gap(box.rear, s) for s in range(n)]
        middle = [(s + 0.5) / n for s in range(n)]
        self.front_films = [self._forced(gap, 1.0 - x) for gap, x in zip(self.fronts, middle, strict=True)]
        self.rear_films = [self._forced(gap, x) for gap, x in zip(self.rears, middle, strict=True)]

    def _gap(self, space: AirSpace, segment: int) -> Gap:
        """Return a segment's gap: Rayleigh by its own depth, the curve by that of the whole space."""
        box = self.collector
        mean = 0.5 * (space.depth_inlet + space.depth_outlet)
        gap = Gap(mean, box.length, box.tilt, self.pressure)
        share = (segment + 0.5) / self.n
        gap.depth = space.depth_inlet + (space.depth_outlet - space.depth_inlet) * share
        return gap

    def _forced(self, gap: Gap, share: float) -> float:
        """Return the forced film where a share of the flow passes beside the sheet [W/m2K]."""
        k, diameter = thermal_conductivity(FILM_TEMPERATURE), 2.0 * gap.depth
        re = 2.0 * self.half_reynolds * share
        nusselt = channel_nusselt(re, prandtl(FILM_TEMPERATURE), diameter / self.collector.length)
        kept = (1.0 - fade(self.half_reynolds)) * k / gap.depth
        return faded_forced(nusselt * k / diameter, kept, self.half_reynolds)

    def air(
        self,
        segment: int,
        glass: float,
        plate: float,
        lining: float,
        entering: tuple[float, float],
        heat: list[float],
    ) -> tuple[float, float]:
        p, n = self.panes, self.n
        before = self.fronts[segment].conductance(glass, plate)
        behind = self.rears[segment].conductance(plate, lining)
        if not self.running:
            self._pass(heat, p - 1, before * (plate - glass))
            self._pass(heat, p, behind * (lining - plate))
            return 0.5 * (glass + plate), 0.5 * (plate + lining)
        contact = 1.0 - fade(self.half_reynolds)
        film = mixed(self.front_films[segment], before * contact)
        beside = film * contact
        wall = (film * glass + beside * plate) / (film + beside)
        # m c dT/dx = H (wall - T), m falling by 1/n of the whole over the segment
        first, last = (n - segment) / n, (n - segment - 1) / n
        power = (film + beside) / self.drawn
        end = wall + (entering[0] - wall) * (last / first) ** power
        share = n * (first - last * (last / first) ** power) / (power + 1.0)
        front = wall + (entering[0] - wall) * share
        heat[p - 1] -= film * (glass - front)
        heat[p] -= beside * (plate - front) + self.drawn * self.effectiveness * (plate - front)
        fed = front + self.effectiveness * (plate - front)

        film = mixed(self.rear_films[segment], behind * contact)
        beside = film * contact
        both = film + beside
        # m c dT/dx = H (wall - T) + c dm/dx (fed - T)
        aim = (beside * plate + film * lining + self.drawn * fed) / (both + self.drawn)
        first, last = segment / n, (segment + 1) / n
        left = (first / last) ** (both / self.drawn + 1.0)
        share = n * (first - last * left) * self.drawn / both
        rear = aim + (entering[1] - aim) * share
        heat[p] -= beside * (plate - rear)
        heat[p + 1] -= film * (lining - rear)
        return end, aim + (entering[1] - aim) * left
