"""What one stage says about air and sensors, held against closed forms where everything stands still."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from simengine.airflow.spec import Duct, Fan
from simengine.collector.network import COVER_FACE
from simengine.collector.spec import Collector, Leak
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.control.spec import ControlRule
from simengine.engine.ledger import Column
from simengine.engine.state import NOW, SENSOR, Member
from simengine.heat_transfer.conduction import duct_conductance
from tests.engine.drive import (
    ALWAYS,
    BOX,
    FAN,
    Ran,
    frozen,
    go,
    made_demand,
    made_forcing,
    member,
    start,
    started,
    steps,
)
from tests.engine.test_march import KINDS

HOURS, AMBIENT, ROOM = 60, 275.0, 293.15
FLOW = FAN.mass_flow * SPECIFIC_HEAT_AIR  # [W/K]
RUNS = {"outside": 0.0, "unheated": 0.5}  # weight of the room round the duct; common practice


def steady(box: Collector, sun: float = 700.0, ducts=((), ()), fan: Fan = FAN, rule=ALWAYS) -> Ran:
    """March a steady sun until nothing moves any more; the heater holds the room."""
    whole = member(
        box,
        made_forcing(np.full(HOURS, sun), AMBIENT),
        rule,
        demand=made_demand(HOURS, vent=ROOM),
        fan=fan,
        ducts=ducts,
    )
    return go(whole, steps(30, HOURS), started(whole) if rule is ALWAYS else start(whole))


def mean(ran: Ran, column: Column) -> float:
    """Return the mean of the last hour."""
    return float(ran.hours[-1, column, 0]) / 3600.0


def along(duct: Duct, entering: float, share: float = 1.0) -> float:
    """Return the air at a duct's end [K]: the exact exponential in what surrounds it; share of the flow."""
    per_length = duct_conductance(duct.diameter, 8.0, duct.insulation_resistance, 10.0)
    kept = math.exp(-per_length * duct.length / (share * FLOW))
    round_it = AMBIENT + RUNS[duct.surroundings] * (ROOM - AMBIENT)
    return round_it + kept * (entering - round_it)


@pytest.mark.parametrize("runs", RUNS)
@pytest.mark.parametrize("kind", ["behind", "two_pass"])
def test_air_passes_ducts_by_their_exponential_and_brings_what_it_holds(kind, runs) -> None:
    supply, back = Duct(3.0, 0.15, 0.3, runs), Duct(5.0, 0.15, 0.1, runs)
    ran = steady(KINDS[kind], ducts=((supply,), (back,)))
    outlet, inlet = mean(ran, Column.OUTLET), along(back, ROOM)
    assert mean(ran, Column.COLLECTED) == pytest.approx(FLOW * (outlet - inlet), rel=1e-9)
    assert mean(ran, Column.SUPPLY) == pytest.approx(along(supply, outlet), rel=1e-9)
    fan_heat = FAN.electric_power * FAN.heat_to_air
    brought = FLOW * (along(supply, outlet) - ROOM) + fan_heat
    assert mean(ran, Column.DELIVERED) == pytest.approx(brought, rel=1e-9)
    lost = FLOW * (outlet - along(supply, outlet) + ROOM - inlet)
    assert mean(ran, Column.DUCT_LOSS) == pytest.approx(lost, rel=1e-9)
    assert ran.hours[-1, Column.PEAK_SUPPLY, 0] == pytest.approx(along(supply, outlet), rel=1e-9)


def test_the_fan_is_paid_for_whole_and_warms_the_air_in_part() -> None:
    ran = steady(BOX, fan=Fan(FAN.mass_flow, 40.0, 0.6))
    assert mean(ran, Column.FAN_POWER) == pytest.approx(40.0, rel=1e-12)
    assert mean(ran, Column.FAN_HEAT) == pytest.approx(24.0, rel=1e-12)
    assert mean(ran, Column.AIR_MASS) == pytest.approx(FAN.mass_flow, rel=1e-12)
    assert mean(ran, Column.FAN_ON) == pytest.approx(1.0, rel=1e-12)


@pytest.mark.parametrize("pressure", [-8.0, 8.0])
def test_a_leak_costs_what_its_air_was_warmed_by(pressure) -> None:
    # power law C dp^n of the box pressure; what leaks out comes into the house from outdoors, what leaks in
    # pushes as much room air out
    leak = Leak(0.002, 0.65, pressure)
    share = 0.002 * 8.0**0.65 / FAN.mass_flow
    ran = steady(replace(BOX, leak=leak))
    outlet = mean(ran, Column.OUTLET)
    inlet = ROOM if pressure > 0.0 else (1.0 - share) * ROOM + share * AMBIENT
    warmed = (outlet if pressure > 0.0 else ROOM) - AMBIENT
    assert mean(ran, Column.COLLECTED) == pytest.approx(FLOW * (outlet - inlet), rel=1e-9)
    assert mean(ran, Column.SUPPLY) == pytest.approx(outlet, rel=1e-9)
    assert mean(ran, Column.LEAK_LOSS) == pytest.approx(FLOW * share * warmed, rel=1e-9)
    assert mean(ran, Column.DUCT_LOSS) == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize("runs", RUNS)
@pytest.mark.parametrize("pressure", [-20.0, 20.0])
def test_ducts_of_a_leaky_box_carry_the_flow_less_the_leak(pressure, runs) -> None:
    """Mathematics: what is drawn in never passed the return duct, what is lost never the supply duct."""
    share = 0.002 * 20.0**0.65 / FAN.mass_flow
    into, out = (share, 0.0) if pressure < 0.0 else (0.0, share)
    supply, back = Duct(3.0, 0.15, 0.3, runs), Duct(5.0, 0.15, 0.1, runs)
    ran = steady(replace(BOX, leak=Leak(0.002, 0.65, pressure)), ducts=((supply,), (back,)))
    outlet = mean(ran, Column.OUTLET)
    end, supplied = along(back, ROOM, 1.0 - into), along(supply, outlet, 1.0 - out)
    inlet = (1.0 - into) * end + into * AMBIENT
    lost = (1.0 - into) * (ROOM - end) + (1.0 - out) * (outlet - supplied)
    leak = into * (ROOM - AMBIENT) + out * (outlet - AMBIENT)
    brought = (1.0 - out) * supplied + out * AMBIENT - ROOM
    assert mean(ran, Column.COLLECTED) == pytest.approx(FLOW * (outlet - inlet), rel=1e-9)
    assert mean(ran, Column.SUPPLY) == pytest.approx(supplied, rel=1e-9)
    assert mean(ran, Column.DUCT_LOSS) == pytest.approx(FLOW * lost, rel=1e-9)
    assert mean(ran, Column.LEAK_LOSS) == pytest.approx(FLOW * leak, rel=1e-9)
    delivered = FLOW * brought + FAN.electric_power * FAN.heat_to_air
    assert mean(ran, Column.DELIVERED) == pytest.approx(delivered, rel=1e-9)


def test_a_resting_fan_brings_no_supply() -> None:
    ran = steady(BOX, rule=ControlRule(start=1000.0, stop=900.0))
    assert ran.hours[:, Column.PEAK_SUPPLY].max() == 0.0
    assert mean(ran, Column.COLLECTED) == mean(ran, Column.DELIVERED) == mean(ran, Column.NIGHT_LOSS) == 0.0


def test_sun_that_falls_and_sun_that_is_taken_up_are_told_apart() -> None:
    ran = steady(BOX)
    assert mean(ran, Column.INCIDENT) == pytest.approx(700.0 * BOX.aperture, rel=1e-12)
    assert mean(ran, Column.ABSORBED) == pytest.approx(0.83 * 700.0 * BOX.aperture, rel=1e-12)


@pytest.mark.parametrize("kind", ["behind", "double"])
def test_absorber_and_cover_are_told_where_the_air_leaves(kind) -> None:
    box = KINDS[kind]
    whole = made(box, ALWAYS)
    ran = go(whole, steps(30, HOURS), started(whole))
    nodes, panes = ran.state.nodes[NOW, :, :, 0], len(box.panes)
    assert mean(ran, Column.ABSORBER) == pytest.approx(nodes[panes, -1], abs=1e-6)
    assert mean(ran, Column.COVER) == pytest.approx(nodes[panes + COVER_FACE, -1], abs=1e-6)


# ---- sensors ----------------------------------------------------------------------------------------------


def made(box: Collector, rule: ControlRule) -> Member:
    forcing = made_forcing(np.full(HOURS, 700.0), AMBIENT)
    if len(box.panes) == 2:
        rows = np.broadcast_to([28.0, 21.0, 525.0], (HOURS, 3))
        forcing = forcing._replace(absorbed=np.ascontiguousarray(rows))
    return member(box, forcing, rule, demand=made_demand(HOURS, vent=ROOM))


def sensed(box: Collector, place: str) -> tuple[float, Ran]:
    """Return what the sensor reads where nothing moves any more [K], all conductances frozen."""
    whole = frozen(made(box, replace(ALWAYS, sensor_place=place)))
    ran = go(whole, steps(30, HOURS), started(whole))
    return float(ran.state.zone[NOW, SENSOR, 0]), ran


@pytest.mark.parametrize("kind", ["behind", "in_front", "two_pass", "double"])
def test_a_sensor_in_the_outlet_air_reads_it(kind) -> None:
    reading, ran = sensed(KINDS[kind], "outlet_air")
    assert reading == pytest.approx(mean(ran, Column.OUTLET), abs=1e-6)


LAST = {"behind": -1, "in_front": -1, "two_pass": 0, "double": -1}


@pytest.mark.parametrize("kind", LAST)
def test_a_sensor_on_the_absorber_reads_it_where_the_air_leaves(kind) -> None:
    box = KINDS[kind]
    reading, ran = sensed(box, "absorber")
    plate = ran.state.nodes[NOW, len(box.panes), :, 0]
    assert plate.max() - plate.min() > 1.0
    assert reading == pytest.approx(plate[LAST[kind]], abs=1e-6)


@pytest.mark.parametrize(("kind", "walls"), [("behind", (1, 2)), ("in_front", (1, 1 + COVER_FACE))])
def test_a_sensor_in_the_box_reads_the_mean_air_of_the_last_segment(kind, walls) -> None:
    # both walls of a segment have one film, the same in all segments: the air follows their mean by e^-N
    reading, ran = sensed(KINDS[kind], "box_air")
    wall = 0.5 * (ran.state.nodes[NOW, walls[0], :, 0] + ran.state.nodes[NOW, walls[1], :, 0])

    def edges(units: float) -> list[float]:
        air = [ROOM]
        for temperature in wall:
            air.append(temperature + (air[-1] - temperature) * math.exp(-units))
        return air

    units = brentq(lambda n: edges(n)[-1] - mean(ran, Column.OUTLET), 1e-3, 5.0, xtol=1e-14)
    assert reading == pytest.approx(0.5 * sum(edges(units)[-2:]), abs=1e-5)


def test_in_a_single_segment_the_air_of_the_box_is_that_of_its_outlet() -> None:
    reading, ran = sensed(replace(BOX, segments=1), "box_air")
    assert reading == pytest.approx(mean(ran, Column.OUTLET), abs=1e-6)
