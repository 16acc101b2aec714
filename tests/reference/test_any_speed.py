"""Days with a fan of several speeds, and with air that moves by itself, against scipy's solver.

Standing: independent solution of the same equations (scipy LSODA, switches located), built-in typical year of
Greensboro. The march reads films between 33 speeds and steps by 90 s; the solver takes them exactly.
"""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from simengine.airflow.loop import given_flow_loop
from simengine.airflow.passive import passive_numbers
from simengine.collector.flow_table import build_flow_table
from simengine.constants import STANDARD_PRESSURE
from simengine.control.spec import ControlRule
from simengine.engine.ledger import Column
from simengine.engine.state import MASS, NOW, ROOM, ROOM_SENSOR, SENSOR, Member
from simengine.simulate.forcing import demand_rows
from tests.engine import drive
from tests.engine.passive import FLAP, UNDAMPED
from tests.reference.drift_equations import AnySpeedPlant, signed_kwh
from tests.reference.node_equations import KWH
from tests.reference.node_solver import Memory, Trace, solve
from tests.reference.test_solve_ivp import DEFAULT_STEP, HOUSE, RETURN, SNAP, SUPPLY, hours_of

SPEEDS = 33
TWO = replace(SNAP, low_speed=0.5, second_start=325.0, second_stop=312.0)
RISING = ControlRule(start=8.0, stop=2.5, reference_weight=1.0, low_speed=0.3, slope=0.7 / 20.0)
RULES = {"two speeds": TWO, "rising": RISING, "snap": SNAP, "no fan": drive.NEVER}
PATHS = {"none": UNDAMPED, "flap": FLAP, "tight": None}
CLEAR, BROKEN, WEAK, NIGHT = 10, 91, 103, 20


@cache
def year(rule: str, path: str) -> Member:
    demand = demand_rows(drive.greensboro(), (HOUSE,))
    forcing = drive.real_forcing(drive.BOX)
    whole = drive.member(drive.BOX, forcing, RULES[rule], house=HOUSE, demand=demand)
    loop = given_flow_loop(drive.FAN, (SUPPLY,), (RETURN,), speeds=SPEEDS)
    numbers = passive_numbers(PATHS[path], drive.FAN.mass_flow, STANDARD_PRESSURE)
    return whole._replace(
        table=build_flow_table(drive.BOX, loop, STANDARD_PRESSURE),
        passive=np.array(numbers)[:, None].copy(),
    )


def both(rule: str, path: str, first: int, hours: int, step: float) -> tuple[drive.Ran, Trace]:
    """Return the march's hours from a midnight on and the solver's, from one state after two days."""
    whole = year(rule, path)
    plan = drive.plan_of(whole, step=step)
    begin, midnight, end = 24 * (first - 2), 24 * first, 24 * first + hours
    before = drive.go(drive.window(whole, begin, midnight), plan[begin:midnight], drive.start(whole))
    marched = drive.go(drive.window(whole, midnight, end), plan[midnight:end], before.state)
    state = before.state
    warm, blocked, running, since, high = state.control[:5, 0].tolist()
    rows = (ROOM, MASS, SENSOR, ROOM_SENSOR)
    start = np.concatenate([state.nodes[NOW, :-1, :, 0].T.ravel(), state.zone[NOW, rows, 0]])
    plant = AnySpeedPlant(
        drive.BOX,
        HOUSE,
        drive.FAN,
        SUPPLY,
        RETURN,
        RULES[rule],
        STANDARD_PRESSURE,
        running > 0.5,
        signed=True,
        path=PATHS[path],
    )
    weather = [hour for day in range(first, first + (hours + 23) // 24) for hour in hours_of(whole, day)]
    memory = Memory(warm > 0.5, blocked > 0.5, since, high > 0.5)
    return marched, solve(plant, weather[:hours], start, memory, rtol=1e-6)


def net(ran: drive.Ran) -> float:
    return signed_kwh(ran.hours, Column.DELIVERED, Column.NIGHT_LOSS)


@pytest.mark.slow
@pytest.mark.parametrize("day", [CLEAR, BROKEN])
@pytest.mark.parametrize("rule", ["two speeds", "rising"])
def test_a_day_of_a_fan_with_speeds_within_0_5_percent(rule, day) -> None:
    marched, solved = both(rule, "tight", day, 24, DEFAULT_STEP)
    assert solved.delivered > 0.5
    assert net(marched) == pytest.approx(solved.delivered, rel=0.005)
    assert marched.total(Column.FAN_STARTS) == pytest.approx(solved.starts, abs=1)
    assert marched.total(Column.FAN_ON) == pytest.approx(solved.running, rel=0.005)


@pytest.mark.slow
@pytest.mark.parametrize("path", ["none", "flap"])
@pytest.mark.parametrize("rule", ["no fan", "snap"])
@pytest.mark.parametrize("day", [CLEAR, BROKEN])
def test_a_day_with_passive_flow_within_0_5_percent(rule, path, day) -> None:
    marched, solved = both(rule, path, day, 24, DEFAULT_STEP)
    gained = marched.total(Column.DELIVERED) / KWH
    assert gained > 0.5
    assert net(marched) == pytest.approx(solved.delivered, abs=0.005 * gained)
    assert marched.total(Column.FAN_STARTS) == pytest.approx(solved.starts, abs=1)


@pytest.mark.slow
@pytest.mark.parametrize("path", PATHS)
def test_a_weak_day_of_many_starts_within_one_start(path) -> None:
    # 0.8 kWh in all: a start that just happens, or just does not, is worth a hundredth of it
    marched, solved = both("snap", path, WEAK, 24, DEFAULT_STEP)
    assert net(marched) == pytest.approx(solved.delivered, rel=0.01)
    assert marched.total(Column.FAN_STARTS) == pytest.approx(solved.starts, abs=1)
    fine, _ = both("snap", path, WEAK, 24, 5.0)
    assert net(fine) == pytest.approx(solved.delivered, rel=0.003)
    assert fine.total(Column.FAN_STARTS) == solved.starts


def test_a_night_without_a_damper_within_0_5_percent() -> None:
    marched, solved = both("no fan", "none", NIGHT, 6, DEFAULT_STEP)
    assert solved.delivered < -0.25
    assert net(marched) == pytest.approx(solved.delivered, rel=0.005)
    nodes = marched.state.nodes[NOW, :-1, :, 0].T.ravel()
    assert solved.end[: nodes.size] == pytest.approx(nodes, abs=0.05)


def test_hours_of_a_morning_with_a_flap_within_0_5_percent() -> None:
    marched, solved = both("no fan", "flap", CLEAR, 12, DEFAULT_STEP)
    assert solved.delivered > 0.3
    assert net(marched) == pytest.approx(solved.delivered, rel=0.005)
