"""Air at any speed as differential equations: a fan of several speeds, and air that moves by itself.

Everything but the speed is that of `node_equations`. By itself the air moves as fast as the weight of its
column drives it against the loss of the loop, at every moment; the density along a segment is that of the
exact exponential. Air that flows back passes the same box from its other end.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from simengine.airflow.spec import PassivePath
from simengine.airflow.thermosiphon import mean_inverse_temperature
from simengine.heat_transfer.mixed_convection import mixed
from tests.reference.node_equations import CP, Plant

GRAVITY = 9.80665
GAS = 287.05
LEAST = 1.0e-7  # [kg/s]


@dataclass
class AnySpeedPlant(Plant):
    """The plant of a fan of several speeds, or of none."""

    path: PassivePath | None = None
    moving: float = 0.0  # [kg/s] below 0: backwards

    @property
    def flow(self) -> float:
        """Air that moves [kg/s]."""
        return abs(self.moving)

    @property
    def fan_heat(self) -> float:
        """Heat of the fan in the air [W], by the third power of its speed."""
        share = self.moving / self.fan.mass_flow if self.running else 0.0
        return self.fan.electric_power * self.fan.heat_to_air * share**3

    def flows(self, y):
        """Return what `Plant` returns, at the speed of this moment."""
        self._move(self._fan(y) if self.running else self._drift(y))
        return super().flows(y)

    def _fan(self, y) -> float:
        at, rule = self.rows * self.n, self.rule
        signal = y[at + 2] - rule.reference_weight * y[at + 3]
        share = min(rule.low_speed + rule.slope * max(signal - rule.stop, 0.0), 1.0)
        return self.fan.mass_flow * (1.0 if self.high else share)

    def _move(self, flow: float) -> None:
        """Take films and ducts at a flow [kg/s]; air that flows back leaves by the return duct."""
        self.moving = flow
        if flow == 0.0:
            return
        self.forced = self.film_at(abs(flow))
        out, back = (self.supply, self.back) if flow > 0.0 else (self.back, self.supply)
        self.kept_supply, self.kept_back = self.kept(out, abs(flow)), self.kept(back, abs(flow))

    def _column(self, y, flow: float) -> float:
        """Return what drives the air upwards when it moves at a flow [Pa]."""
        self._move(flow)
        room, p = y[self.rows * self.n], self.panes
        ambient = self.hour.ambient
        air = ambient + self.kept_back * (room - ambient)
        total = 0.0
        for s in range(self.n):
            t = y[self.rows * s : self.rows * (s + 1)]
            plate, lining = t[p], t[p + 1]
            film = mixed(self.forced, self.rear.conductance(plate, lining))
            units = 2.0 * film * self.segment_area / (self.flow * CP)
            wall = 0.5 * (plate + lining)
            total += mean_inverse_temperature(air, wall, units) / self.n
            air = wall + (air - wall) * math.exp(-units)
        top = air if flow > 0.0 else room
        lift = self.path.box_height * (1.0 / room - total) + self.path.riser * (1.0 / room - 1.0 / top)
        return GRAVITY * self.pressure / GAS * lift

    def _drift(self, y) -> float:
        if self.path is None:
            return 0.0
        for way, extra, opening in (
            (1.0, self.path.extra_forward, self.path.opening_pressure),
            (-1.0, self.path.extra_reverse, 0.0),
        ):
            if not math.isfinite(extra):
                continue

            def surplus(m: float, way=way, extra=extra, opening=opening) -> float:
                loss = (self.path.quadratic + extra) * m**2
                loss += self.path.blasius * m**1.75 + self.path.linear * m
                return way * self._column(y, way * m) - opening - loss

            if surplus(LEAST) > 0.0:
                return way * float(brentq(surplus, LEAST, self.fan.mass_flow, xtol=1e-12, rtol=1e-10))
        return 0.0


def signed_kwh(march_hours: np.ndarray, delivered: int, drawn: int) -> float:
    """Return delivered heat less what was drawn from the room [kWh]."""
    return float((march_hours[:, delivered, 0] - march_hours[:, drawn, 0]).sum()) / 3.6e6
