"""A whole scenario as compiled differential equations, in the form in which `node_solver` takes a plant."""

import math
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from simengine.air.gases import gas_named
from simengine.airflow.loop import given_flow_loop
from simengine.collector.build import SENSOR_WEIGHTS, flow_path, segment_depths
from simengine.collector.flow_table import build_flow_table
from simengine.collector.gap_filling import filling
from simengine.collector.network import AirFlow
from simengine.collector.spec import Collector
from simengine.control.spec import ControlRule
from simengine.heat_transfer.conduction import inside_resistance
from simengine.heat_transfer.gap_curve import gap_table
from simengine.heat_transfer.gas_fit import gas_fit
from simengine.heat_transfer.natural_convection import gap_nusselt
from simengine.house.network import network
from simengine.house.spec import House
from simengine.simulate.drive import Drive
from simengine.simulate.fan_drive import drive as fan_drive
from simengine.simulate.forcing import demand_rows
from simengine.simulate.opening import house_with
from simengine.simulate.resolve import Resolved
from tests.reference import compiled_equations as eq

SPEEDS = 401
"""Rows of the table by fan speed where a fan also turns slower; the march has 33."""

TABLE = (
    "mass_flow", "fan_heat", "effectiveness", "contact", "supply_kept", "return_kept", "leak_in", "leak_out",
)  # fmt: skip
AIR_MODES = {"free": eq.FREE, "held": eq.HELD, "vented": eq.VENTED}


@dataclass(frozen=True)
class NodeHour:
    """An hour as the compiled equations read it, with the names that the solver asks for."""

    numbers: np.ndarray

    @property
    def setpoint(self) -> float:
        """Wanted room temperature [K]."""
        return float(self.numbers[eq.SETPOINT])

    @property
    def vent(self) -> float:
        """Room temperature that is not passed [K]."""
        return float(self.numbers[eq.VENT])

    @property
    def drive(self) -> float:
        """Factor on the fan's speed, 0 where it may not run."""
        return float(self.numbers[eq.DRIVE])


@dataclass
class CompiledPlant:
    """Collector, loop, control and one house; its last two unknowns are delivered heat and heating [kWh]."""

    numbers: tuple[np.ndarray, ...]
    rule: ControlRule
    running: bool = False
    air_mode: str = "free"
    hour: NodeHour | None = None
    high: bool = False
    calls: int = 0
    work: tuple[np.ndarray, ...] = field(default_factory=tuple)

    def __post_init__(self) -> None:
        _, nodes, _, ends, *_, table = self.numbers
        self.rows, self.n = nodes.shape[1], ends.shape[1]
        self.work = eq.new_work(self.rows, self.n, table.shape[1])

    def __call__(self, _: float, y: np.ndarray) -> np.ndarray:
        """Return the rate of every unknown."""
        self.calls += 1
        mode = AIR_MODES[self.air_mode]
        eq.right_hand_side(y, *self.numbers, self.hour.numbers, self.running, self.high, mode, *self.work)
        return self.work[0].copy()

    def surplus(self, y: np.ndarray) -> float:
        """Return the heat that would warm the room's air [W]."""
        brought, other, _ = eq.flows(y, *self.numbers, self.hour.numbers, self.running, self.high, *self.work)
        return brought + other

    def signal(self, y: np.ndarray) -> float:
        """Return what the rule compares with its thresholds [K]."""
        at = self.rows * self.n
        return float(y[at + 2] - self.rule.reference_weight * y[at + 3])

    def at_one_temperature(self, temperature: float) -> np.ndarray:
        """Return a start at which everything stands at one temperature [K]."""
        return np.full(self.rows * self.n + 4, temperature)


def plant_of(resolved: Resolved, house: House) -> CompiledPlant:
    """Return the equations of a scenario with a given flow and a tight damper, on one of its houses."""
    parts = resolved.parts
    if parts.passive is not None or parts.spaces.second is not None or parts.fan_curve is not None:
        raise ValueError("these equations know a given flow, one space, and a damper that shuts tight")
    box, rule = parts.collector, parts.control
    if not box.panes:
        raise ValueError("these equations need a pane")
    speeds = SPEEDS if rule.part_speeds else 2
    loop = given_flow_loop(parts.fan, parts.supply_ducts, parts.return_ducts, speeds)
    table = build_flow_table(box, loop, resolved.pressure)
    columns = [table.flow[:, AirFlow._fields.index(name), 0] for name in TABLE]
    films = table.film[:, :, :, 0].reshape(table.film.shape[0], -1)
    near = (loop.supply_room, loop.return_room)
    path = flow_path(box.arrangement)
    ends = [np.linspace(*pair, box.segments + 1) for pair in ((path[0], path[1]), (path[2], path[3]))]
    return CompiledPlant(
        (
            _scalars(box, rule, house_with(house, parts), near),
            _nodes(box),
            eq.SIGMA * np.array(_exchanges(box)),
            np.array([ends[0][:-1], ends[0][1:], ends[1][:-1], ends[1][1:]]),
            *_gaps(box, resolved.pressure),
            np.ascontiguousarray(np.column_stack([*columns, films])),
        ),
        rule,
    )


def hours_of(resolved: Resolved, drive: Drive, house: House, first: int, last: int) -> list[NodeHour]:
    """Return the hours from `first` to before `last`, as the march has them."""
    seen = house_with(house, resolved.parts)
    demand = demand_rows(drive.here, (seen,))[first:last, :, 0]
    runs = fan_drive(resolved.parts.control, drive.here, resolved, 1)[first:last]
    weather, absorbed = drive.forcing.weather[first:last, :3], drive.forcing.absorbed[first:last]
    return [NodeHour(row) for row in np.hstack([weather, demand[:, :6], runs, absorbed])]


def _scalars(box: Collector, rule: ControlRule, house: House, near: tuple[float, float]) -> np.ndarray:
    path, tubes, zone = flow_path(box.arrangement), box.absorber.tubes, network(house)
    rear_area = box.absorber.rear_area
    if box.arrangement == "tubes":
        rear_area *= math.pi * tubes.diameter / tubes.pitch
    wall = box.back.wall_resistance
    outside = box.back.outside_film if wall is None else wall + inside_resistance("horizontal")
    p = np.zeros(eq.SCALARS)
    p[eq.AREA] = box.width * box.length / box.segments
    p[eq.VIEW] = 0.5 * (1.0 + math.cos(math.radians(box.tilt)))
    p[eq.EMITTANCE] = box.panes[0].emittance_outside
    p[eq.HALF] = 2.0 / sum(layer.thickness / layer.conductivity for layer in box.back.layers)
    p[eq.OUTSIDE], p[eq.WALLED] = 1.0 / outside, wall is not None
    p[eq.EDGE] = box.edge_conductance / (box.width * box.length)
    p[eq.REAR_SHARE] = 1.0 if path.counterflow else path.rear_outlet / (path.rear_outlet + path.front_outlet)
    p[[eq.AT_ABSORBER, eq.AT_BOX, eq.AT_OUTLET]] = SENSOR_WEIGHTS[rule.sensor_place]
    p[eq.FRONT_AREA], p[eq.REAR_AREA] = box.absorber.front_area, rear_area
    p[eq.TUBES], p[eq.COUNTER] = box.arrangement == "tubes", path.counterflow
    p[eq.VENTILATION], p[eq.H_IS], p[eq.H_W] = zone.ventilation, zone.surface, zone.window
    p[eq.H_MS], p[eq.H_EM] = zone.inner, zone.outer
    p[eq.C_AIR], p[eq.C_MASS] = zone.air_capacity, zone.mass_capacity
    p[eq.TAU], p[eq.WEIGHT], p[eq.STOP] = rule.sensor_time_constant, rule.reference_weight, rule.stop
    p[eq.LOW], p[eq.SLOPE] = rule.low_speed, rule.slope
    p[eq.NEAR_SUPPLY], p[eq.NEAR_RETURN] = near
    return p


def _nodes(box: Collector) -> np.ndarray:
    """Return heat capacity of every node [J/m2K], and of the panes the conductance to a face [W/m2K]."""
    back = box.back
    capacity = [
        *(pane.thickness * pane.density * pane.specific_heat for pane in box.panes),
        box.absorber.heat_capacity,
        back.lining_heat_capacity,
        sum(layer.thickness * layer.density * layer.specific_heat for layer in back.layers),
        box.box_heat_capacity,
    ]
    halves = [2.0 * pane.conductivity / pane.thickness for pane in box.panes]
    return np.array([capacity, [*halves, 0.0, 0.0, 0.0, 0.0]])


def _exchanges(box: Collector) -> list[float]:
    """Return 1/(1/e1 + 1/e2 - 1) of every space, from the sun inwards."""
    faces = [(pane.emittance_outside, pane.emittance_inside) for pane in box.panes]
    faces += [(box.absorber.emittance_front, box.absorber.emittance_back), (box.back.emittance, 1.0)]
    return [1.0 / (1.0 / a[1] + 1.0 / b[0] - 1.0) for a, b in pairwise(faces)]


def _gaps(box: Collector, pressure: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    depths = [np.full(box.segments, gap.depth) for gap in box.pane_gaps]
    depths += [segment_depths(box.front, box.segments), segment_depths(box.rear, box.segments)]
    gases = [*(filling(gap) for gap in box.pane_gaps), gas_named("air"), gas_named("air")]
    curves = [gap_table(gap_nusselt, box.tilt, box.length / float(depth.mean())) for depth in depths]
    return np.array(curves), np.array([gas_fit(gas, pressure) for gas in gases]), np.array(depths)
