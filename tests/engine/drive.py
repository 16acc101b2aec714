"""How tests drive the march by hand: an invented collector and house, over a real year or a made one."""

from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np

from simengine.airflow.loop import given_flow_loop
from simengine.airflow.passive import Passive
from simengine.airflow.spec import Fan
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table
from simengine.collector.network import FlowTable, Forcing, Network
from simengine.collector.spec import Absorber, AirSpace, Back, Collector, Layer, Pane
from simengine.constants import STANDARD_PRESSURE
from simengine.control.spec import ControlRule
from simengine.engine.ledger import COLUMNS, Column
from simengine.engine.march import march, march_house
from simengine.engine.state import RUNNING, WARM, Member, State, new_scratch, new_state
from simengine.house.presets import standard
from simengine.house.spec import House
from simengine.house.zone import Demand
from simengine.scenario import load
from simengine.simulate.forcing import (
    Place,
    collector_forcing,
    demand_rows,
    on_plane,
    place,
    step_plan,
    zone_rows,
)
from simengine.simulate.lanes import rule_rows
from simengine.simulate.resolve import Resolved, resolve

REPOSITORY = Path(__file__).resolve().parents[2]

FAN = Fan(0.055, 28.0, 0.9)

SNAP = ControlRule(start=313.7, stop=302.6)
"""Snap switch on the outlet air, 105 and 85 degF."""

NO_DRIFT = np.zeros((len(Passive._fields), 1))
"""A loop that a tight damper shuts while the fan rests."""

ALWAYS = ControlRule(start=100.0, stop=50.0, room_limit=1000.0)
"""Thresholds far below: the fan runs from the first step on."""

NEVER = ControlRule(start=1000.0, stop=900.0)

BOX = Collector(
    width=1.2,
    length=2.4,
    tilt=90.0,
    azimuth=180.0,
    arrangement="behind",
    panes=(Pane("clear", 0.004),),
    pane_gaps=(),
    front=AirSpace(0.025, 0.025),
    absorber=Absorber("black"),
    rear=AirSpace(0.03, 0.03),
    back=Back((Layer("wool", 0.05, 0.036, 60.0, 840.0, "mineral_wool"),)),
    edge_conductance=0.3,
)
"""An invented collector of 2.9 m2, back to the open."""


@cache
def demo() -> Resolved:
    """Return the demo scenario with its weather and houses."""
    return resolve(load(REPOSITORY / "scenarios" / "demo.toml"))


@cache
def greensboro() -> Place:
    """Return sun and sky of the built-in year."""
    return place(demo().series, demo().parts.site, "berdahl_martin")


def real_forcing(collector: Collector, here: Place | None = None) -> Forcing:
    """Return what the built-in year does to a collector at the demo's site."""
    resolved = replace(demo(), parts=replace(demo().parts, collector=collector))
    there = greensboro() if here is None else here
    return collector_forcing(there, resolved, on_plane(there, resolved))


def made_forcing(
    sun: np.ndarray, ambient: np.ndarray | float, colder_sky: float = 12.0, wind: float = 11.8
) -> Forcing:
    """Return a forcing from sun on the aperture [W/m2], outdoors [K] and a wind coefficient [W/m2K]."""
    air = np.broadcast_to(np.asarray(ambient, dtype=float), sun.shape)
    weather = np.stack([air, air - colder_sky, np.full(sun.shape, wind), sun], axis=1)
    return Forcing(
        np.ascontiguousarray(weather), np.ascontiguousarray(np.stack([0.03 * sun, 0.8 * sun], axis=1))
    )


def made_demand(
    intervals: int, gain: float = 0.0, setpoint: float = 293.15, vent: float = 299.15
) -> np.ndarray:
    """Return the same wish and the same gains [W] at each node in every interval, one lane."""
    row = np.array(Demand(gain, gain, gain, setpoint, vent))
    return np.repeat(row[None, :, None], intervals, axis=0)  # its own: a read-only view compiles anew


def member(
    collector: Collector,
    forcing: Forcing,
    rule: ControlRule = SNAP,
    *,
    house: House | None = None,
    demand: np.ndarray | None = None,
    fan: Fan = FAN,
    ducts: tuple = ((), ()),
) -> Member:
    """Return one collector on one house."""
    house = standard(140.0) if house is None else house
    network = build_network(collector, STANDARD_PRESSURE, rule.sensor_place)
    table = build_flow_table(collector, given_flow_loop(fan, *ducts), STANDARD_PRESSURE)
    rows, months = rule_rows(rule, 1), [month in rule.months for month in range(1, 13)]
    runs = np.ones((forcing.weather.shape[0], 1))
    if not all(months):  # the tests' years begin in January
        runs = np.array(months, dtype=np.float64)[greensboro().month][:, None]
    if demand is None:
        demand = made_demand(forcing.weather.shape[0], 150.0)
    return Member(network, table, forcing, rows, runs, NO_DRIFT, zone_rows((house,)), demand)


def real_member(
    collector: Collector, rule: ControlRule = SNAP, house: House | None = None, fan: Fan = FAN
) -> Member:
    """Return one collector on one house in the built-in year."""
    house = standard(140.0) if house is None else house
    demand = demand_rows(greensboro(), (house,))
    return member(collector, real_forcing(collector), rule, house=house, demand=demand, fan=fan)


def frozen(whole: Member) -> Member:
    """Freeze every conductance of a member: no long-wave, no buoyancy, one conductivity; all is linear."""
    network = whole.network
    network.box[1] = 0.0  # emittance of the cover
    network.exchange[:] = 0.0
    network.nusselt[:] = 1.0
    network.gas[:] = 0.0
    network.gas[:, 0, 0] = 0.026  # [W/mK] at any temperature
    return whole


def side_by_side(one: Member, other: Member) -> Member:
    """Return two members of one layout and one weather as two lanes."""

    def beside(a, b):
        return np.ascontiguousarray(np.concatenate([a, b], axis=lane_axis(a, one)))

    def lane_axis(array, _):
        return 1 if array is one.network.nusselt else array.ndim - 1

    network = Network(
        one.network.panes,
        one.network.counterflow,
        *(beside(a, b) for a, b in zip(one.network[2:], other.network[2:], strict=True)),
    )
    table = FlowTable(*(beside(a, b) for a, b in zip(one.table, other.table, strict=True)))
    lanes = [beside(a, b) for a, b in zip(one[3:], other[3:], strict=True) if isinstance(a, np.ndarray)]
    return Member(network, table, one.forcing, *lanes, taken=one.taken, given=one.given)


def window(whole: Member, first: int, last: int) -> Member:
    """Return a member over the intervals first to last - 1 alone."""
    forcing = Forcing(whole.forcing.weather[first:last], whole.forcing.absorbed[first:last])
    return whole._replace(forcing=forcing, drive=whole.drive[first:last], demand=whole.demand[first:last])


@dataclass(frozen=True)
class Ran:
    """What a march leaves: the ledger of the intervals, and the state at its end."""

    hours: np.ndarray
    state: State

    def total(self, column: Column, lane: int = 0) -> float:
        """Return the sum of a column over all intervals."""
        return float(self.hours[:, column, lane].sum())


def plan_of(whole: Member, seconds: float = 3600.0, step: float = 60.0) -> np.ndarray:
    """Return the plan of steps for a mean step [s]."""
    free = [Passive._fields.index(way) for way in ("forward", "reverse")]
    return step_plan(whole.forcing, seconds, step, passive=bool(whole.passive[free].any()))


def start(whole: Member, temperature: float = 293.15) -> State:
    """Return a state in which everything stands at one temperature [K]."""
    return new_state(whole.network.panes, whole.network.path.shape[1], whole.zone.shape[1], temperature)


def started(whole: Member, temperature: float = 293.15) -> State:
    """Return the same with the fan running."""
    state = start(whole, temperature)
    state.control[WARM] = state.control[RUNNING] = 1.0
    return state


def copied(state: State) -> State:
    """Return an independent copy of a state."""
    return State(*(array.copy() for array in state))


def go(
    whole: Member,
    plan: np.ndarray,
    state: State,
    *,
    seconds: float = 3600.0,
) -> Ran:
    """March from a state, which stays as it is."""
    lanes = whole.zone.shape[1]
    after = copied(state)
    work = new_scratch(whole.network.panes, whole.network.path.shape[1], lanes)
    hours = np.zeros((plan.size, COLUMNS, lanes))
    march(whole, plan.astype(np.int64), seconds, after, work, hours)
    return Ran(hours, after)


def steps(count: int, intervals: int) -> np.ndarray:
    """Return a plan of so many steps in each of so many intervals."""
    return np.full(intervals, count, dtype=np.int64)


def go_house(whole: Member, plan: np.ndarray, seconds: float = 3600.0, temperature: float = 293.15):
    """March the heated space alone; return its hours [interval, 4, lane] and its end [4, lane]."""
    lanes = whole.zone.shape[1]
    state, hours = np.full((4, lanes), temperature), np.zeros((plan.size, 4, lanes))
    ambient = np.ascontiguousarray(whole.forcing.weather[:, 0])
    march_house(whole.zone, whole.demand, ambient, plan.astype(np.int64), seconds, state, hours)
    return hours, state
