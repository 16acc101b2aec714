"""The collector driven by what was measured on it: inlet, flow and weather as logged, outlet by the model."""

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from simengine.airflow.loop import ducts_in_series, given_flow_loop
from simengine.airflow.spec import Fan
from simengine.collector.absorbed import absorbed_sun
from simengine.collector.build import build_network, exchanging_sides
from simengine.collector.flow_table import build_flow_table, leak_shares
from simengine.collector.network import AirFlow, Box, FlowTable, Forcing, Network, Weather
from simengine.collector.steady import steady_point
from simengine.control.spec import ControlRule
from simengine.engine.ledger import COLUMNS, Column
from simengine.engine.march import march
from simengine.engine.state import RUNNING, WARM, Member, State, new_scratch, new_state
from simengine.heat_transfer.wind import WIND_RELATIONS
from simengine.house.zone import Demand
from simengine.simulate.course import Course, pieces
from simengine.simulate.forcing import absorbed_rows
from simengine.simulate.lanes import rule_rows
from simengine.simulate.resolve import Resolved
from simengine.simulate.time_constant import HELD, NO_DRIFT

Array = NDArray[np.float64]

LONGEST_STEP = 60.0
"""[s]"""
FREE = ControlRule(start=1.0, stop=0.5, room_limit=1.0e4, minimum_on=0.0, minimum_off=0.0)
"""A fan that runs wherever it is driven."""


class Factors(NamedTuple):
    """What a test can change in a scenario: factors on its own figures, and a share of leaking air."""

    cover_transmittance: float = 1.0  # [-] on the sun that panes and absorber take up
    back_loss: float = 1.0  # [-] on the conductance of back and edges
    effectiveness: float = 1.0  # [-] on the exchange (NTU) between absorber and air
    leakage: float = 0.0  # [-] share of the flow; drawn in where the fan pulls, lost where it pushes
    duct_loss: float = 1.0  # [-] on the conductance of the supply duct


class Followed(NamedTuple):
    """What the model has for it: interval means [interval]."""

    outlet: Array  # [K]
    absorber: Array  # [K] in the last segment from the inlet
    supply: Array  # [K] at the end of the supply duct


@dataclass(frozen=True)
class Bench:
    """A scenario's collector on a test bench: its network, and how it draws or loses air."""

    resolved: Resolved
    network: Network
    pulls: bool  # the fan stands behind the collector: leaks draw outdoor air in
    leakage: float = 0.0  # [-] share of the flow that leaks, as the scenario has it

    @classmethod
    def of(cls, resolved: Resolved) -> "Bench":
        """Return the bench of a scenario at hand."""
        network = build_network(resolved.parts.collector, resolved.pressure)
        pulls = resolved.parts.fan_place == "hot_side"
        loop = given_flow_loop(resolved.parts.fan)
        shares = leak_shares(resolved.parts.collector.leak, loop, resolved.parts.fan.mass_flow)
        return cls(resolved, network, pulls, shares[0 if pulls else 1])

    def factors(self, **changed: float) -> Factors:
        """Return the scenario's own figures as factors, with some changed [-]."""
        return Factors(leakage=self.leakage)._replace(**changed)

    def forcing(self, course: Course) -> Forcing:
        """Return what sun and weather do to the collector, before any factor."""
        collector = self.resolved.parts.collector
        sun = absorbed_sun(collector, course.incidence, course.beam, course.sky_diffuse, course.ground)
        film = self.wind_films(course.wind)
        weather = np.stack([course.ambient, course.sky, film, course.irradiance], axis=1)
        return Forcing(np.ascontiguousarray(weather), absorbed_rows(sun))

    def wind_films(self, wind: Array) -> Array:
        """Return the wind coefficient [W/m2K] at some wind speeds [m/s]."""
        collector = self.resolved.parts.collector
        relation = WIND_RELATIONS[collector.wind_relation]
        return np.array([relation(float(speed), collector.length) for speed in wind])

    def follow(self, course: Course, factors: Factors, forcing: Forcing | None = None) -> Followed:
        """Return the model's temperatures along a course.

        Parameters
        ----------
        course : what was measured
        factors : on the scenario's figures [-]
        forcing : of the same course, where it is at hand

        Returns
        -------
        Followed [K]; where the fan rests the outlet is that of still air

        Source: the march of the year; the room is held at the measured inlet, a flow within `SAME_FLOW`
        counts as constant, and the first interval starts from its steady state.
        """
        given = self.forcing(course) if forcing is None else forcing
        given = Forcing(given.weather, given.absorbed * factors.cover_transmittance)
        network = self._changed(factors)
        panes, segments = network.panes, network.path.shape[1]
        count = course.ambient.size
        state, hours = new_state(panes, segments, 1, float(course.inlet[0])), np.zeros((count, COLUMNS, 1))
        stretches = list(pieces(course.flow))
        for number, (first, last, flow) in enumerate(stretches):
            table = self.table(flow, factors)
            if number == 0:
                _begin(network, table, given, float(course.inlet[0]), flow > 0.0, state)
            piece = slice(first, last)
            part = Forcing(given.weather[piece], given.absorbed[piece])
            hours[piece] = _march(
                _held(network, table, part, course.inlet[piece], flow > 0.0), course.step, state
            )
        means = hours[:, :, 0] / course.step
        outlet = means[:, Column.OUTLET]
        return Followed(outlet, means[:, Column.ABSORBER], self._supply(course, outlet, factors, stretches))

    def _supply(
        self, course: Course, outlet: Array, factors: Factors, stretches: list[tuple[int, int, float]]
    ) -> Array:
        """Return what is left of the outlet temperature at the end of the supply duct [K]."""
        supply = outlet.copy()
        for first, last, flow in stretches:
            if flow <= 0.0:
                continue
            passed = flow * (1.0 if self.pulls else 1.0 - factors.leakage)
            kept, room = ducts_in_series(self.resolved.parts.supply_ducts, passed)
            piece = slice(first, last)
            around = course.ambient[piece] + room * (course.inlet[piece] - course.ambient[piece])
            supply[piece] = around + kept**factors.duct_loss * (outlet[piece] - around)
        return supply

    def _changed(self, factors: Factors) -> Network:
        box = self.network.box.copy()
        fields = Box._fields
        for name in ("face_link", "box_link", "edge"):
            box[fields.index(name)] *= factors.back_loss
        for name in exchanging_sides(self.resolved.parts.collector.arrangement):
            box[fields.index(name)] *= factors.effectiveness
        return self.network._replace(box=box)

    def table(self, flow: float, factors: Factors) -> FlowTable:
        """Return the flow table at a measured flow [kg/s]; the fan's heat is not in it."""
        parts = self.resolved.parts
        fan = Fan(max(flow, 1.0e-3), 0.0)
        loop = given_flow_loop(fan)
        table = build_flow_table(parts.collector, loop, self.resolved.pressure)
        rows = table.flow.copy()
        at = AirFlow._fields.index
        if parts.collector.arrangement == "through":
            kept = 1.0 - rows[1, at("effectiveness")]
            rows[1, at("effectiveness")] = 1.0 - kept**factors.effectiveness
        rows[1, at("leak_in")] = factors.leakage if self.pulls else 0.0
        rows[1, at("leak_out")] = 0.0  # air that is lost behind the absorber changes nothing before it
        return FlowTable(rows, table.film)


def _begin(
    network: Network, table: FlowTable, forcing: Forcing, inlet: float, runs: bool, state: State
) -> None:
    """Set the state to the steady one of the first interval."""
    weather = Weather(*(float(v) for v in forcing.weather[0]))
    at = AirFlow._fields.index
    shares = table.flow[1]
    drawn = float(shares[at("leak_in"), 0]) if runs else 0.0
    entering = inlet + drawn * (weather.ambient - inlet)
    speed = 1.0 if runs else 0.0
    state.nodes[0, :, :, 0] = steady_point(
        network, table, weather, forcing.absorbed[0], entering, speed
    ).nodes
    state.control[WARM] = 1.0
    state.control[RUNNING] = speed


def _held(network: Network, table: FlowTable, forcing: Forcing, inlet: Array, runs: bool) -> Member:
    """Return the collector of one stretch of equal flow, with the room held at the measured inlet."""
    none = np.zeros(inlet.size)
    rows = Demand(none, none, none, inlet, inlet, none)  # type: ignore[arg-type]
    demand = np.ascontiguousarray(np.stack(rows, axis=1)[:, :, None])
    zone, drive = np.array(HELD)[:, None], np.full((inlet.size, 1), float(runs))
    return Member(network, table, forcing, rule_rows(FREE, 1), drive, NO_DRIFT, zone, demand)


def _march(member: Member, step: float, state: State) -> Array:
    """March one stretch; the state goes on to the next. Return its ledger [interval, column, 1]."""
    count = member.forcing.weather.shape[0]
    plan = np.full(count, max(1, int(np.ceil(step / LONGEST_STEP))), dtype=np.int64)
    hours = np.zeros((count, COLUMNS, 1))
    work = new_scratch(member.network.panes, member.network.path.shape[1], 1)
    march(member, plan, step, state, work, hours)
    return hours
