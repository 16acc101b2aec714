"""One step: a state in, a state out; exact nodes, empty parts, least times and splits."""

import itertools
import math

import numpy as np
import pytest

from simengine.control.spec import ControlRule
from simengine.engine.ledger import Column
from simengine.engine.state import NOW, ROOM, ROOM_SENSOR, RUNNING, SENSOR, SINCE
from tests.engine.drive import BOX, NEVER, SNAP, go, made_demand, made_forcing, member, start, steps

BOX_LINK, OUTER_LINK = 4, 5  # rows of network.box


def test_at_one_temperature_without_sun_nothing_moves() -> None:
    forcing = made_forcing(np.zeros(24), 293.15, colder_sky=0.0)
    still = member(BOX, forcing, SNAP, demand=made_demand(24))
    ran = go(still, steps(4, 24), start(still))
    assert ran.state.nodes[NOW] == pytest.approx(293.15, abs=1e-9)
    assert ran.state.zone[NOW] == pytest.approx(293.15, abs=1e-9)
    flows = [c for c in Column if Column.COVER_CONVECTION <= c <= Column.HOUSE_STORED]
    assert np.abs(ran.hours[:, flows, 0]).max() < 1e-3  # J an hour, of heat flows that rounding alone makes


def test_a_step_without_length_changes_nothing_bit_for_bit() -> None:
    some = member(BOX, made_forcing(np.full(3, 500.0), 275.0), SNAP)
    before = go(some, steps(60, 3), start(some)).state
    after = go(some, steps(1, 1), before, seconds=0.0).state
    assert np.array_equal(before.nodes[NOW], after.nodes[NOW])
    assert np.array_equal(before.zone[NOW], after.zone[NOW])
    assert np.array_equal(before.rate[NOW], after.rate[NOW])


def test_the_march_leaves_what_it_is_given_and_says_the_same_twice() -> None:
    some = member(BOX, made_forcing(np.full(3, 500.0), 275.0), SNAP)
    first, second = (go(some, steps(60, 3), start(some)) for _ in range(2))
    assert np.array_equal(first.hours, second.hours)
    assert np.array_equal(first.state.nodes, second.state.nodes)


def cooled_skin(count: int) -> float:
    """Return the outer skin after an hour, cut off from the mass behind it [K]."""
    alone = member(BOX, made_forcing(np.zeros(1), 273.15), NEVER)
    alone.network.box[BOX_LINK] = 0.0
    return float(go(alone, steps(count, 1), start(alone)).state.nodes[NOW, -2, 0, 0])


def test_one_node_cools_by_the_exact_exponential_at_second_order() -> None:
    # C dT/dt = -h (T - T_a): mathematics
    alone = member(BOX, made_forcing(np.zeros(1), 273.15), NEVER)
    rate = alone.network.box[OUTER_LINK, 0] / alone.network.capacity[-2, 0]
    exact = 273.15 + 20.0 * math.exp(-3600.0 * rate)
    errors = [abs(cooled_skin(count) - exact) for count in (24, 48, 96)]
    for coarse, fine in itertools.pairwise(errors):
        assert math.log2(coarse / fine) == pytest.approx(2.0, abs=0.15)
    assert errors[-1] < 1e-5


@pytest.mark.parametrize("count", [1, 3, 60])
def test_a_sensor_before_a_still_place_follows_the_exact_exponential_at_any_step(count) -> None:
    # tau dS/dt = P - S: mathematics; the heater holds the room at its setpoint
    held = member(BOX, made_forcing(np.zeros(1), 273.15), NEVER, demand=made_demand(1))
    before = start(held)
    before.zone[:, ROOM_SENSOR] = 283.15
    after = go(held, steps(count, 1), before, seconds=120.0)
    assert after.state.zone[NOW, ROOM_SENSOR, 0] == pytest.approx(293.15 - 10.0 * math.exp(-2.0), abs=1e-9)


def minutes(rule: ControlRule, sun: float = 420.0, count: int = 600, length: float = 60.0):
    """March steady weather in steps of a minute, each its own interval."""
    steady = member(BOX, made_forcing(np.full(count, sun), 282.0), rule)
    return go(steady, steps(1, count), start(steady), seconds=length)


def test_a_snap_switch_cycles_near_its_threshold_sun() -> None:
    ran = minutes(SNAP)
    assert ran.total(Column.FAN_STARTS) > 50
    assert 0.2 < ran.total(Column.FAN_ON) / 36000.0 < 0.8
    assert minutes(SNAP, sun=900.0).total(Column.FAN_STARTS) == 1
    assert minutes(SNAP, sun=150.0).total(Column.FAN_STARTS) == 0


def test_a_sensor_without_lag_is_its_place() -> None:
    ran = minutes(ControlRule(start=313.7, stop=302.6, sensor_time_constant=0.0, minimum_on=120.0))
    assert np.isfinite(ran.hours).all()
    assert ran.total(Column.FAN_STARTS) > 50
    assert ran.state.zone[NOW, ROOM_SENSOR, 0] == pytest.approx(ran.state.zone[NOW, ROOM, 0], abs=1e-3)


def test_a_sensor_without_lag_and_without_least_times_ends_every_step() -> None:
    # it would chatter without end: parts are cut 24 times at most, one of which is forgotten in 10 s, and
    # each cut is one switch; other parts last 20 s, and at the end of each the fan may switch once more
    ran = minutes(ControlRule(start=300.0, stop=299.999, sensor_time_constant=0.0), sun=420.0, count=60)
    assert np.isfinite(ran.hours).all()
    switches = 2.0 * ran.hours[:, Column.FAN_STARTS, 0]
    assert 24.0 <= switches.max() <= 24.0 + 60.0 / 10.0 + 60.0 / 20.0
    assert ran.hours[:, Column.RESIDUAL].max() < 1e-9
    assert ran.hours[:, Column.HOUSE_RESIDUAL].max() < 1e-9


def runs(ran) -> list[float]:
    """Return the lengths of the finished runs [s], from the share of every minute."""
    lengths, current = [], 0.0
    for on, began in ran.hours[:, (Column.FAN_ON, Column.FAN_STARTS), 0].tolist():
        current += on
        if current > 0.0 and on < 60.0 - 1e-9 and not began:
            lengths.append(current)
            current = 0.0
    return lengths


@pytest.mark.parametrize("least", [260.0, 333.3, 400.0])
def test_a_least_running_time_ends_to_the_moment_within_a_step(least) -> None:
    ran = minutes(ControlRule(start=313.7, stop=302.6, minimum_on=least), sun=380.0)
    lengths = runs(ran)
    assert len(lengths) > 10
    assert lengths == pytest.approx([least] * len(lengths), abs=1e-6)


def test_least_times_are_never_cut_short() -> None:
    rule = ControlRule(start=313.7, stop=302.6, minimum_on=100.0, minimum_off=500.0)
    ran = minutes(rule)
    assert min(runs(ran)) >= 100.0
    off = 36000.0 - ran.total(Column.FAN_ON)
    assert off >= 500.0 * (ran.total(Column.FAN_STARTS) - 1)


def test_the_memory_counts_the_time_since_the_last_switch() -> None:
    ran = minutes(ControlRule(start=313.7, stop=302.6, minimum_on=400.0), sun=380.0)
    on = ran.hours[:, Column.FAN_ON, 0]
    last = int(np.flatnonzero(np.diff(on > 0.0))[-1])
    state = ran.state.control[:, 0]
    since = 60.0 * (600 - last - 2)
    assert since - 1e-6 <= state[SINCE] <= since + 120.0 + 1e-6
    assert state[RUNNING] == float(on[-1] > 0.0)


def test_the_sensor_stands_between_its_thresholds_after_a_cycle() -> None:
    ran = minutes(SNAP)
    assert 302.0 < ran.state.zone[NOW, SENSOR, 0] < 314.5


def test_out_of_season_the_fan_rests() -> None:
    winter = ControlRule(start=313.7, stop=302.6, months=(12, 1, 2))
    sunny = member(BOX, made_forcing(np.full(6, 800.0), 282.0), winter)  # six hours of January
    rests = sunny._replace(drive=np.zeros((6, 1)))
    assert go(rests, steps(60, 6), start(sunny)).total(Column.FAN_ON) == 0.0
    assert go(sunny, steps(60, 6), start(sunny)).total(Column.FAN_ON) > 0.0


def test_above_the_room_limit_no_heat_is_brought() -> None:
    limited = ControlRule(start=313.7, stop=302.6, room_limit=294.15, room_limit_band=0.5)
    sunny = member(BOX, made_forcing(np.full(12, 900.0), 290.0), limited, demand=made_demand(12, 400.0))
    ran = go(sunny, steps(60, 12), start(sunny))
    free = member(BOX, made_forcing(np.full(12, 900.0), 290.0), SNAP, demand=made_demand(12, 400.0))
    assert 0.0 < ran.total(Column.FAN_ON) < go(free, steps(60, 12), start(free)).total(Column.FAN_ON)
    assert ran.state.zone[NOW, ROOM_SENSOR, 0] > 293.6
