"""The same collector, air loop, control and house as differential equations, written down a second time.

Coded from the physics for air behind the absorber; the back stands in the open or on a wall. Only gap curve,
film relations, air properties and the duct's conductance are the package's own.
"""

import math
from dataclasses import dataclass, field

import numpy as np

from simengine.air.properties import dynamic_viscosity, prandtl, thermal_conductivity
from simengine.airflow.spec import Duct, Fan
from simengine.collector.spec import Collector
from simengine.control.spec import ControlRule
from simengine.heat_transfer.conduction import duct_conductance, inside_resistance
from simengine.heat_transfer.forced_convection import channel_nusselt
from simengine.heat_transfer.mixed_convection import faded_forced, mixed
from simengine.house.spec import House
from tests.reference.wall_equations import Gap, Outdoors, between_panes, exchange, from_outside

CP = 1006.0  # [J/kgK]
FILM_TEMPERATURE = 308.15  # [K] at which the package takes its forced films
KWH = 3.6e6


@dataclass
class Hour(Outdoors):
    """The weather and the wishes of one hour."""

    absorbed: tuple[float, ...]  # [W/m2] panes, absorber
    gains: tuple[float, float, float]  # [W] air, surface, mass
    setpoint: float  # [K]
    vent: float  # [K]
    drive: float = 1.0  # [-] factor on the fan's speed, 0 where it may not run


@dataclass
class Plant:
    """Collector, loop and house in one right-hand side.

    The last two unknowns are the heat delivered by the air and that of the heater [kWh].
    """

    collector: Collector
    house: House
    fan: Fan
    supply: Duct
    back: Duct
    rule: ControlRule
    pressure: float
    running: bool = False
    air_mode: str = "free"  # "held" by the heater or "vented": the room's temperature stands
    hour: Hour | None = None
    calls: int = field(default=0)
    high: bool = False  # the second speed
    signed: bool = False  # heat drawn from the room is taken off what is delivered

    def __post_init__(self) -> None:
        box, house = self.collector, self.house
        self.n = box.segments
        self.panes = len(box.panes)
        self.rows = self.panes + 4
        self.segment_area = box.width * box.length / self.n
        self.view = 0.5 * (1.0 + math.cos(math.radians(box.tilt)))
        self.gaps = [Gap(gap.depth, box.length, box.tilt, self.pressure) for gap in box.pane_gaps]
        self.front = Gap(box.front.depth_inlet, box.length, box.tilt, self.pressure)
        self.rear = Gap(box.rear.depth_inlet, box.length, box.tilt, self.pressure)
        resistance = sum(la.thickness / la.conductivity for la in box.back.layers)
        self.half = 2.0 / resistance
        self.walled = box.back.wall_resistance is not None
        self.outside = 1.0 / box.back.outside_film
        if self.walled:
            self.outside = 1.0 / (box.back.wall_resistance + inside_resistance("horizontal"))
        self.capacity = [
            *(p.thickness * p.density * p.specific_heat for p in box.panes),
            box.absorber.heat_capacity,
            box.back.lining_heat_capacity,
            sum(la.thickness * la.density * la.specific_heat for la in box.back.layers),
            box.box_heat_capacity,
        ]
        self.pane_half = [2.0 * p.conductivity / p.thickness for p in box.panes]
        faces = [p.emittance_inside for p in box.panes]
        behind = [p.emittance_outside for p in box.panes[1:]] + [box.absorber.emittance_front]
        self.exchange = [exchange(a, b) for a, b in zip(faces, behind, strict=True)]
        self.rear_exchange = exchange(box.absorber.emittance_back, box.back.emittance)
        self.forced = self.film_at(self.fan.mass_flow)
        self.kept_supply, self.kept_back = (
            self.kept(duct, self.fan.mass_flow) for duct in (self.supply, self.back)
        )
        # ISO 13790 annex C
        area_t, area_m = house.surface_area_ratio * house.floor_area, house.mass_area_ratio * house.floor_area
        self.h_is, self.h_ms = 3.45 * area_t, 9.1 * area_m
        self.h_em = 1.0 / (1.0 / house.opaque_conductance - 1.0 / self.h_ms)
        self.c_m = house.heat_capacity_per_area * house.floor_area
        self.c_air = house.air_capacity_factor * 1.2014 * CP * house.volume

    @property
    def flow(self) -> float:
        """Air that moves [kg/s]."""
        return self.fan.mass_flow if self.running else 0.0

    @property
    def fan_heat(self) -> float:
        """Heat of the fan in the air [W]."""
        return self.fan.electric_power * self.fan.heat_to_air

    def film_at(self, flow: float) -> float:
        """Return the forced film behind the absorber [W/m2K]."""
        depth, k = self.collector.rear.depth_inlet, thermal_conductivity(FILM_TEMPERATURE)
        re = 2.0 * flow / (self.collector.width * dynamic_viscosity(FILM_TEMPERATURE))
        nusselt = channel_nusselt(re, prandtl(FILM_TEMPERATURE), 2.0 * depth / self.collector.length)
        return faded_forced(nusselt * k / (2.0 * depth), k / depth, re)

    @staticmethod
    def kept(duct: Duct, flow: float) -> float:
        """Return the share of its excess that air keeps along a duct."""
        per_length = duct_conductance(duct.diameter, 8.0, duct.insulation_resistance, 10.0)
        return math.exp(-per_length * duct.length / (flow * CP))

    def flows(self, y: np.ndarray) -> tuple[list[float], float, float, float]:
        """Return node rates [K/s], heat brought to the room, its other heat [W], and the outlet [K]."""
        hour, n, rows = self.hour, self.n, self.rows
        box = self.collector
        room = y[rows * n]
        entering = hour.ambient + self.kept_back * (self.source(y) - hour.ambient)
        air = (entering, entering)
        rates = [0.0] * (rows * n)
        behind, into_wall = room if self.walled else hour.ambient, 0.0
        edge = box.edge_conductance / (box.width * box.length)
        emittance = box.panes[0].emittance_outside
        for s in range(n):
            t = y[rows * s : rows * (s + 1)]
            heat = [*hour.absorbed, 0.0, 0.0, 0.0]
            heat[0] += from_outside(t[0], self.pane_half[0], emittance, self.view, hour)
            for i in range(self.panes - 1):
                halves = (self.pane_half[i], self.pane_half[i + 1])
                self._pass(heat, i, between_panes(t[i], t[i + 1], halves, self.gaps[i], self.exchange[i]))
            p = self.panes
            plate, lining, mass, skin = t[p], t[p + 1], t[p + 2], t[p + 3]
            heat[p] += edge * (hour.ambient - plate)
            self._pass(heat, p, self.rear_exchange * (lining**4 - plate**4))
            air = self._past_the_face(s, t[p - 1], plate, lining, air, heat)
            heat[p + 1] -= self.half * (lining - mass)
            heat[p + 2] += self.half * (lining - mass) - self.half * (mass - skin)
            heat[p + 3] += self.half * (mass - skin) - self.outside * (skin - behind)
            into_wall += self.segment_area * self.outside * (skin - behind)
            for i in range(rows):
                rates[rows * s + i] = heat[i] / self.capacity[i]
        out = air[1]
        brought = 0.0
        if self.flow > 0.0:
            supplied = hour.ambient + self.kept_supply * (out - hour.ambient)
            brought = self.flow * CP * (supplied - room) + self.fan_heat
        surface = self._surface(room, y[rows * n + 1])
        other = self.house.ventilation_conductance * (hour.ambient - room)
        other += self.h_is * (surface - room) + hour.gains[0] + (into_wall if self.walled else 0.0)
        other += self.beside(y)
        return rates, brought, other, out

    def source(self, y: np.ndarray) -> float:
        """Return the air where it is taken [K]."""
        return y[self.rows * self.n]

    def beside(self, y: np.ndarray) -> float:
        """Return the heat that a space beside brings to the room [W]."""
        return 0.0

    def _past_the_face(
        self,
        segment: int,
        middle: float,
        plate: float,
        lining: float,
        entering: tuple[float, float],
        heat: list[float],
    ) -> tuple[float, float]:
        """Let air and radiation meet the inner face of the cover; its temperature by the secant rule."""
        p, link = self.panes, self.pane_half[-1]

        def balance(face: float) -> tuple[float, list[float], tuple[float, float]]:
            taken = [0.0] * len(heat)
            self._pass(taken, p - 1, self.exchange[-1] * (plate**4 - face**4))
            left = self.air(segment, face, plate, lining, entering, taken)
            return taken[p - 1] + link * (middle - face), taken, left

        old, face = middle, middle
        rest, taken, left = balance(middle)
        face += rest / link
        for _ in range(4):
            before = rest
            rest, taken, left = balance(face)
            if rest == before or abs(rest) < 1.0e-11 * link:
                break
            old, face = face, face - rest * (face - old) / (rest - before)
        for node, flow in enumerate(taken):
            heat[node] += flow
        return left

    @staticmethod
    def _pass(heat: list[float], node: int, flow: float) -> None:
        """Let a flow [W/m2] pass from the next node inwards to a node."""
        heat[node] += flow
        heat[node + 1] -= flow

    def air(
        self,
        segment: int,
        glass: float,
        plate: float,
        lining: float,
        entering: tuple[float, float],
        heat: list[float],
    ) -> tuple[float, float]:
        """Let the air before and behind the absorber take its heat; return both streams as they leave [K]."""
        p = self.panes
        self._pass(heat, p - 1, self.front.conductance(glass, plate) * (plate - glass))
        film = mixed(self.forced if self.flow > 0.0 else 0.0, self.rear.conductance(plate, lining))
        wall = 0.5 * (plate + lining)
        out, mean = wall, wall
        if self.flow > 0.0:
            ntu = 2.0 * film * self.segment_area / (self.flow * CP)
            left = math.exp(-ntu)
            out = wall + (entering[1] - wall) * left
            mean = wall + (entering[1] - wall) * (1.0 - left) / ntu
        heat[p] -= film * (plate - mean)
        heat[p + 1] -= film * (lining - mean)
        return entering[0], out

    def _surface(self, room: float, mass: float) -> float:
        hour, h_w = self.hour, self.house.window_conductance
        total = self.h_is + h_w + self.h_ms
        return (self.h_is * room + h_w * hour.ambient + self.h_ms * mass + hour.gains[1]) / total

    def __call__(self, _: float, y: np.ndarray) -> list[float]:
        self.calls += 1
        y = y.tolist()
        rates, brought, other, out = self.flows(y)
        at = self.rows * self.n
        room, mass, sensor, room_sensor = y[at : at + 4]
        free = self.air_mode == "free"
        rates.append((brought + other) / self.c_air if free else 0.0)
        to_mass = self.h_ms * (self._surface(room, mass) - mass) + self.h_em * (self.hour.ambient - mass)
        rates.append((to_mass + self.hour.gains[2]) / self.c_m)
        tau = self.rule.sensor_time_constant
        rates.append((out - sensor) / tau)
        rates.append((room - room_sensor) / tau)
        rates.append((brought if self.signed else max(brought, 0.0)) / KWH)
        rates.append(-(brought + other) / KWH if self.air_mode == "held" else 0.0)
        return rates

    def surplus(self, y: np.ndarray) -> float:
        """Return the heat that would warm the room's air [W]."""
        _, brought, other, _ = self.flows(y.tolist())
        return brought + other
