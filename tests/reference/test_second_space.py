"""Days of a collector that warms the room with air from a cellar, against an adaptive solver."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from simengine.airflow.spec import Duct
from simengine.constants import STANDARD_PRESSURE
from simengine.control.spec import ControlRule
from simengine.engine.ledger import Column
from simengine.engine.state import (
    MASS,
    NOW,
    ROOM,
    ROOM_SENSOR,
    SECOND,
    SECOND_MASS,
    SECOND_SPACE,
    SENSOR,
    Member,
)
from simengine.house.presets import standard
from simengine.house.spec import Ground, SecondSpace
from simengine.simulate.forcing import demand_rows
from tests.engine import drive
from tests.reference.node_equations import KWH, Hour
from tests.reference.node_solver import Memory, solve
from tests.reference.second_space_equations import SecondSpacePlant

# invented: a cellar of 60 m2 whose door stands open; its mass made light, so that days move it
CELLAR = SecondSpace(
    60.0,
    132.0,
    40.0,
    0.01,
    9.0,
    6.0,
    30.0,
    0.3,
    (80.0,) * 24,
    None,
    1e9,
    60_000.0,
    2.5,
    Ground(temperature=283.15),
)
HOUSE = replace(standard(140.0, over_space=True), second_space=CELLAR)
SUPPLY, RETURN = Duct(2.0, 0.15, 0.5, "outside"), Duct(2.0, 0.15, 0.5, "outside")
RULES = {"snap": drive.SNAP, "differential": ControlRule(start=8.0, stop=2.5, reference_weight=1.0)}
FIRST, DAYS = 8, 3  # from the 9th of January on, after two days of approach


@cache
def cellar_year(rule: str) -> Member:
    demand = demand_rows(drive.greensboro(), (HOUSE,))
    forcing, ducts = drive.real_forcing(drive.BOX), ((SUPPLY,), (RETURN,))
    whole = drive.member(drive.BOX, forcing, RULES[rule], house=HOUSE, demand=demand, ducts=ducts)
    return whole._replace(taken=SECOND_SPACE)


def hours_of(whole: Member, first: int, last: int) -> list[Hour]:
    found = []
    for i in range(first, last):
        ambient, sky, wind, _ = whole.forcing.weather[i].tolist()
        air, surface, mass, setpoint, vent = whole.demand[i, :5, 0].tolist()
        found.append(
            Hour(
                ambient,
                sky,
                wind,
                tuple(whole.forcing.absorbed[i].tolist()),
                (air, surface, mass),
                setpoint,
                vent,
            )
        )
    return found


@cache
def days(rule: str):
    """Return the march's days and the solver's, from the march's own state at midnight."""
    whole = cellar_year(rule)
    plan = drive.plan_of(whole, step=drive.demo().parts.run.step)
    midnight, end = 24 * FIRST, 24 * (FIRST + DAYS)
    begin = midnight - 48
    before = drive.go(drive.window(whole, begin, midnight), plan[begin:midnight], drive.start(whole))
    marched = drive.go(drive.window(whole, midnight, end), plan[midnight:end], before.state)
    state = before.state
    warm, blocked, running, since = state.control[:4, 0].tolist()
    rows = (ROOM, MASS, SENSOR, ROOM_SENSOR, SECOND, SECOND_MASS)
    at_midnight = np.concatenate([state.nodes[NOW, :-1, :, 0].T.ravel(), state.zone[NOW, rows, 0]])
    parts = (drive.BOX, HOUSE, drive.FAN, SUPPLY, RETURN, RULES[rule], STANDARD_PRESSURE)
    plant = SecondSpacePlant(*parts, running > 0.5, ground=283.15)
    memory = Memory(warm > 0.5, blocked > 0.5, since)
    return marched, solve(plant, hours_of(whole, midnight, end), at_midnight, memory)


@pytest.mark.parametrize("rule", RULES)
def test_heat_brought_and_heat_needed_within_0_2_percent(rule) -> None:
    # independent solution: scipy's LSODA, events located, rtol 1e-8
    marched, solved = days(rule)
    assert solved.delivered > 2.0
    assert marched.total(Column.DELIVERED) / KWH == pytest.approx(solved.delivered, rel=0.002)
    assert marched.total(Column.HEATING) / KWH == pytest.approx(solved.heating, rel=0.001)


@pytest.mark.parametrize("rule", RULES)
def test_both_spaces_end_where_the_solver_ends(rule) -> None:
    marched, solved = days(rule)
    rows = (ROOM, MASS, SECOND, SECOND_MASS)
    at = solved.end.size - 6
    mine = marched.state.zone[NOW, rows, 0]
    assert solved.end[[at, at + 1, at + 4, at + 5]] == pytest.approx(mine, abs=0.01)


def test_the_cellar_is_warmed_by_the_room_air_that_flows_back() -> None:
    whole = cellar_year("differential")
    plan = drive.plan_of(whole)
    span = slice(24 * FIRST, 24 * (FIRST + DAYS))
    cut = drive.window(whole, span.start, span.stop)
    drawn = drive.go(cut, plan[span], drive.start(cut))
    room = drive.go(cut._replace(taken=0), plan[span], drive.start(cut))
    assert drawn.total(Column.CARRIED) > 0.0
    assert room.total(Column.CARRIED) == 0.0
    assert drawn.total(Column.SECOND_SPACE) > room.total(Column.SECOND_SPACE)
    assert drawn.total(Column.COLLECTED) > room.total(Column.COLLECTED)  # colder air takes up more
