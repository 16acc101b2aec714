"""The node equations with a second space, from whose air the collector draws: two more unknowns."""

from dataclasses import dataclass, field

import numpy as np

from simengine.house.second_space import second_zone
from tests.reference.node_equations import CP, Plant


@dataclass
class SecondSpacePlant(Plant):
    """Air from the second space through the collector to the room, and back through the door.

    Air and mass of the second space stand between the sensors and the sums.
    """

    ground: float = field(default=283.15)  # [K]

    def __post_init__(self) -> None:
        super().__post_init__()
        self.space = second_zone(self.house.second_space)

    def source(self, y: np.ndarray) -> float:
        return y[self.rows * self.n + 4]

    def beside(self, y: np.ndarray) -> float:
        at = self.rows * self.n
        return self.space.coupling * (y[at + 4] - y[at])

    def __call__(self, t: float, y: np.ndarray) -> list[float]:
        rates = super().__call__(t, y)
        at, space, outdoors = self.rows * self.n, self.space, self.hour.ambient
        room, air, mass = float(y[at]), float(y[at + 4]), float(y[at + 5])
        back = self.fan.mass_flow * CP if self.running else 0.0
        into_air = (space.coupling + back) * (room - air) + (space.outdoor + space.airing) * (outdoors - air)
        into_air += space.inner * (mass - air) + self.house.second_space.internal_gain[0]
        into_mass = space.inner * (air - mass) + space.outer * (outdoors - mass)
        into_mass += space.ground * (self.ground - mass)
        between = [into_air / space.air_capacity, into_mass / space.mass_capacity]
        return [*rates[: at + 4], *between, *rates[at + 4 :]]
