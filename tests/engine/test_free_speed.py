"""A fan of two speeds, one that follows its signal, one that a module drives: definitions, small steps."""

import itertools
from dataclasses import replace

import numpy as np
import pytest

from simengine.airflow.loop import given_flow_loop
from simengine.airflow.spec import Duct
from simengine.collector.flow_table import build_flow_table
from simengine.constants import STANDARD_PRESSURE
from simengine.control.spec import ControlRule
from simengine.engine.ledger import Column
from simengine.engine.state import HIGH, RUNNING, SENSOR, Member
from tests.engine.drive import (
    BOX,
    FAN,
    SNAP,
    go,
    made_forcing,
    member,
    plan_of,
    real_member,
    side_by_side,
    start,
    steps,
    window,
)

HOUR = 3600.0
SPEEDS = 33
FULL, POWER = FAN.mass_flow, FAN.electric_power
DUCTS = ((Duct(1.2, 0.152, 0.9),), (Duct(1.5, 0.152, 0.9),))
TWO = replace(SNAP, low_speed=0.5, second_start=325.0, second_stop=312.0)
RISING = replace(SNAP, low_speed=0.3, slope=0.7 / 30.0)
DIFFERENTIAL = ControlRule(start=8.0, stop=2.5, reference_weight=1.0)
DIFFERENCE_RISING = replace(DIFFERENTIAL, low_speed=0.3, slope=0.7 / 20.0)
STEEP = replace(DIFFERENTIAL, low_speed=0.15, slope=0.85 / 3.0)
RULES = {"two speeds": TWO, "rising": RISING, "rising difference": DIFFERENCE_RISING, "steep": STEEP}


def with_speeds(whole: Member, ducts=((), ())) -> Member:
    """Return a member whose flow table knows the speeds between rest and full."""
    table = build_flow_table(BOX, given_flow_loop(FAN, *ducts, speeds=SPEEDS), STANDARD_PRESSURE)
    return whole._replace(table=table)


def steady(rule: ControlRule, sun: float, hours: int = 8, ambient: float = 280.0, drive: float = 1.0):
    whole = with_speeds(member(BOX, made_forcing(np.full(hours, sun), ambient), rule))
    whole.drive[:] = drive
    return go(whole, steps(40, hours), start(whole))


def speed_of(ran) -> float:
    """Return the speed in the last hour."""
    return float(ran.hours[-1, Column.AIR_MASS, 0]) / HOUR / FULL


# ---- steady states: definitions --------------------------------------------------------------------------


def test_a_fan_at_a_speed_of_the_table_is_the_fan_of_that_flow() -> None:
    # at half speed: half the flow, an eighth of the power (fan laws, common practice)
    half = steady(replace(SNAP, low_speed=0.5), 800.0)
    assert speed_of(half) == pytest.approx(0.5, rel=1e-12)
    assert half.hours[-1, Column.FAN_POWER, 0] / HOUR == pytest.approx(POWER / 8.0, rel=1e-12)
    assert half.hours[-1, Column.FAN_HEAT, 0] / HOUR == pytest.approx(0.9 * POWER / 8.0, rel=1e-12)


def test_a_part_speed_delivers_what_a_smaller_fan_does() -> None:
    small = replace(FAN, mass_flow=0.5 * FULL, electric_power=POWER / 8.0)
    whole = member(BOX, made_forcing(np.full(8, 800.0), 280.0), SNAP, fan=small)
    ran = go(whole, steps(40, 8), start(whole))
    half = steady(replace(SNAP, low_speed=0.5), 800.0)
    assert half.total(Column.DELIVERED) == pytest.approx(ran.total(Column.DELIVERED), rel=1e-9)


@pytest.mark.parametrize(("sun", "speed"), [(450.0, 0.5), (1000.0, 1.0)])
def test_two_speeds_are_low_in_a_weak_sun_and_full_in_a_strong_one(sun, speed) -> None:
    ran = steady(TWO, sun)
    assert speed_of(ran) == pytest.approx(speed, rel=1e-9)
    assert ran.state.control[HIGH, 0] == float(speed == 1.0)


@pytest.mark.parametrize("sun", [400.0, 600.0, 800.0])
@pytest.mark.parametrize("rule", [RISING, DIFFERENCE_RISING, STEEP], ids=["snap", "difference", "steep"])
def test_a_rising_speed_settles_where_the_signal_asks_for_it(sun, rule) -> None:
    ran = steady(rule, sun, hours=12)
    assert ran.state.control[RUNNING, 0] == 1.0
    room = ran.state.zone[0, SENSOR + 1, 0]
    signal = ran.state.zone[0, SENSOR, 0] - rule.reference_weight * room
    asked = min(rule.low_speed + rule.slope * (signal - rule.stop), 1.0)
    assert asked > 0.2
    assert speed_of(ran) == pytest.approx(asked, rel=0.003)


@pytest.mark.parametrize("constant", [1.0, 60.0, 300.0])
@pytest.mark.parametrize("slope", [0.02, 0.1, 0.5, 5.0])
def test_a_rising_speed_does_not_swing_in_a_steady_sun_however_steep_it_is(constant, slope) -> None:
    # taken from the start of a step, a steep speed and its sensor would chase each other
    rule = replace(DIFFERENTIAL, start=6.0, low_speed=0.2, slope=slope, sensor_time_constant=constant)
    whole = with_speeds(member(BOX, made_forcing(np.full(120, 500.0), 280.0), rule))
    ran = go(whole, steps(1, 120), start(whole), seconds=90.0)
    flow = ran.hours[-20:, Column.AIR_MASS, 0] / 90.0 / FULL
    assert np.ptp(flow) < 0.01


def test_more_sun_never_turns_slower() -> None:
    flows = [
        steady(DIFFERENCE_RISING, sun).hours[-1, Column.AIR_MASS, 0] for sun in (200, 300, 400, 600, 900)
    ]
    assert all(b >= a for a, b in itertools.pairwise(flows))


@pytest.mark.parametrize("share", [0.25, 0.6, 1.0])
def test_what_a_module_gives_is_the_speed(share) -> None:
    always = ControlRule(start=1.0, stop=0.5)
    ran = steady(always, 700.0, drive=share)
    assert speed_of(ran) == pytest.approx(share, rel=1e-9)
    nothing = steady(always, 700.0, drive=0.0)
    assert nothing.total(Column.FAN_ON) == nothing.total(Column.FAN_STARTS) == 0.0


# ---- a schedule ------------------------------------------------------------------------------------------


def test_a_closed_hour_stops_the_fan_at_its_first_moment_and_an_open_one_frees_it() -> None:
    whole = member(BOX, made_forcing(np.full(8, 800.0), 280.0), SNAP)
    whole.drive[3:5] = 0.0
    ran = go(whole, steps(40, 8), start(whole))
    on = ran.hours[:, Column.FAN_ON, 0]
    assert on[2] == pytest.approx(HOUR)
    assert on[3:5].tolist() == [0.0, 0.0]
    assert on[5] == pytest.approx(HOUR)  # the box is hot: it starts at once
    assert ran.total(Column.FAN_STARTS) == 2.0


def test_a_least_running_time_reaches_into_a_closed_hour() -> None:
    rule = replace(SNAP, minimum_on=1.5 * HOUR)
    whole = member(BOX, made_forcing(np.full(4, 800.0), 280.0), rule)
    whole.drive[1:] = 0.0
    ran = go(whole, steps(40, 4), start(whole))
    assert ran.total(Column.FAN_ON) == pytest.approx(1.5 * HOUR, abs=1e-6)


# ---- against small steps ---------------------------------------------------------------------------------


def days(rule: ControlRule, first: int, last: int, step: float, ducts=DUCTS):
    whole = with_speeds(real_member(BOX, rule), ducts)
    plan = plan_of(whole, step=step)[24 * first : 24 * last]
    part = window(whole, 24 * first, 24 * last)
    return go(part, plan, start(part))


@pytest.mark.parametrize("rule", RULES)
@pytest.mark.parametrize(("first", "last"), [(10, 13), (88, 95), (115, 120)])
def test_delivered_heat_is_that_of_steps_of_five_seconds(rule, first, last) -> None:
    coarse, fine = (days(RULES[rule], first, last, step) for step in (90.0, 5.0))
    assert fine.total(Column.DELIVERED) > 3.6e6
    assert coarse.total(Column.DELIVERED) == pytest.approx(fine.total(Column.DELIVERED), rel=0.005)
    assert coarse.total(Column.FAN_POWER) == pytest.approx(fine.total(Column.FAN_POWER), rel=0.02)


@pytest.mark.parametrize("rule", RULES)
def test_the_ledger_closes_at_every_step_at_every_speed(rule) -> None:
    ran = days(RULES[rule], 85, 95, 90.0)
    assert ran.hours[:, Column.RESIDUAL].max() < 1e-9
    assert ran.hours[:, Column.HOUSE_RESIDUAL].max() < 1e-9
    assert 0.0 < ran.total(Column.AIR_MASS) < FULL * ran.total(Column.FAN_ON)
    assert ran.total(Column.DRIFT_ON) == 0.0


def test_speeds_between_the_rows_of_the_table_are_read_closely_enough() -> None:
    # films bend below a Reynolds number of some hundred and where they turn turbulent
    heat = []
    for speeds in (SPEEDS, 8 * (SPEEDS - 1) + 1):
        whole = real_member(BOX, RISING)
        table = build_flow_table(BOX, given_flow_loop(FAN, speeds=speeds), STANDARD_PRESSURE)
        part = window(whole._replace(table=table), 24 * 85, 24 * 95)
        plan = plan_of(whole, step=90.0)[24 * 85 : 24 * 95]
        heat.append(go(part, plan, start(part)).total(Column.DELIVERED))
    assert heat[0] == pytest.approx(heat[1], rel=0.001)


def test_a_rising_speed_is_found_the_same_alone_and_in_company() -> None:
    one = with_speeds(member(BOX, made_forcing(np.full(6, 500.0), 280.0), RISING))
    other = with_speeds(member(BOX, made_forcing(np.full(6, 500.0), 280.0), STEEP))
    both = side_by_side(one, other)
    together = go(both, steps(40, 6), start(both))
    for lane, alone in enumerate((one, other)):
        ran = go(alone, steps(40, 6), start(alone))
        assert np.array_equal(ran.hours[:, :, 0], together.hours[:, :, lane])


def test_a_rule_of_one_speed_is_the_same_to_the_last_bit_with_and_without_the_speeds_between() -> None:
    # what is not in use costs nothing and changes nothing
    whole = member(BOX, made_forcing(np.full(8, 420.0), 282.0), SNAP)
    few = go(whole, steps(40, 8), start(whole))
    many = go(with_speeds(whole), steps(40, 8), start(whole))
    assert few.total(Column.FAN_STARTS) > 50
    assert np.array_equal(few.hours, many.hours)
