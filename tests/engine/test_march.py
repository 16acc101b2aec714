"""The march: edges of intervals, lanes, closure, and the same source uncompiled."""

import json
import os
import subprocess
import sys
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from simengine.airflow.spec import Duct
from simengine.collector.build import ARRANGEMENTS
from simengine.collector.network import Weather
from simengine.collector.spec import Absorber, AirSpace, Leak, Pane, Perforation, SealedGap, Tubes
from simengine.collector.steady import steady_point
from simengine.control.spec import ControlRule
from simengine.engine.ledger import BOX_TERMS, COLUMNS, HOUSE_TERMS, Column
from simengine.engine.state import NOW
from simengine.house.presets import low_energy
from tests.engine.drive import (
    ALWAYS,
    BOX,
    REPOSITORY,
    SNAP,
    Ran,
    go,
    made_demand,
    made_forcing,
    member,
    plan_of,
    real_member,
    side_by_side,
    start,
    started,
    steps,
    window,
)


@cache
def year() -> Ran:
    whole = real_member(BOX)
    return go(whole, plan_of(whole), start(whole))


def sums(ran: Ran, terms) -> float:
    """Return the residual of the whole over the sum of the terms' sizes [-]."""
    signed = np.array([sign * ran.hours[:, column, 0].sum() for column, sign in terms])
    return float(abs(signed.sum()) / np.abs(signed).sum())


def test_intervals_one_by_one_are_the_march() -> None:
    sun = np.array([100.0, 700.0, 500.0, 0.0])
    whole = member(BOX, made_forcing(sun, np.array([275.0, 276.0, 278.0, 274.0])), SNAP)
    together = go(whole, steps(60, 4), start(whole))
    state, hours = start(whole), []
    for i in range(4):
        one = go(window(whole, i, i + 1), steps(60, 1), state)
        state = one.state
        hours.append(one.hours[0])
    assert np.array_equal(np.array(hours), together.hours)
    assert np.array_equal(state.nodes[NOW], together.state.nodes[NOW])


def test_what_falls_in_one_interval_does_not_reach_back_into_the_one_before() -> None:
    sun = np.array([0.0, 0.0, 800.0, 0.0])
    lit = member(BOX, made_forcing(sun, 280.0), SNAP)
    dark = member(BOX, made_forcing(np.zeros(4), 280.0), SNAP)
    one, other = (go(x, steps(7, 4), start(x)) for x in (lit, dark))
    assert np.array_equal(one.hours[:2], other.hours[:2])
    assert one.hours[2, Column.INCIDENT, 0] == pytest.approx(800.0 * BOX.aperture * 3600.0, rel=1e-12)


def test_every_step_and_the_year_close() -> None:
    # 1e-9 a step of max(terms, 1 W/m2 A), 1e-6 the year
    ran = year()
    assert ran.hours[:, Column.RESIDUAL].max() < 1e-9
    assert ran.hours[:, Column.HOUSE_RESIDUAL].max() < 1e-9
    assert sums(ran, BOX_TERMS) < 1e-6
    assert sums(ran, HOUSE_TERMS) < 1e-6


@pytest.mark.parametrize("count", [3600, 7200])
def test_steps_of_a_second_and_less_close_as_well(count) -> None:
    whole = real_member(BOX)
    part = window(whole, 24 * 90 + 8, 24 * 90 + 16)
    ran = go(part, steps(count, 8), start(part))
    assert ran.hours[:, Column.RESIDUAL].max() < 1e-9
    assert ran.hours[:, Column.HOUSE_RESIDUAL].max() < 1e-9


SHEET = Absorber("holes", perforation=Perforation(0.2, effectiveness=0.7, rated_flow=0.02))
KINDS = {
    **{name: replace(BOX, arrangement=name) for name in ARRANGEMENTS if name not in ("through", "tubes")},
    "through": replace(
        BOX, arrangement="through", absorber=SHEET, front=AirSpace(0.08, 0.02), rear=AirSpace(0.02, 0.08)
    ),
    "tubes": replace(BOX, arrangement="tubes", absorber=Absorber("tubes", tubes=Tubes(0.06, 0.065))),
    "wall": replace(BOX, back=replace(BOX.back, wall_resistance=2.3)),
    "leaks in": replace(BOX, leak=Leak(0.002, 0.65, -8.0)),
    "leaks out": replace(BOX, leak=Leak(0.002, 0.65, 8.0)),
    "double": replace(BOX, panes=(Pane("a", 0.003), Pane("b", 0.003)), pane_gaps=(SealedGap(0.012),)),
    "bare": replace(BOX, panes=()),
    "ten segments": replace(BOX, segments=10),
}
DUCTS = ((Duct(2.0, 0.15, 0.5), Duct(1.0, 0.15, 0.5, "unheated")), (Duct(3.0, 0.15),))


@pytest.mark.parametrize("rule", [SNAP, ALWAYS], ids=["snap", "always"])
@pytest.mark.parametrize("kind", KINDS)
def test_every_kind_of_collector_closes(kind, rule) -> None:
    day = np.maximum(0.0, 850.0 * np.sin((np.arange(48) % 24 - 6.0) / 12.0 * np.pi))
    forcing = made_forcing(day, 278.0 + 5.0 * np.sin((np.arange(48) - 9.0) / 24.0 * 2.0 * np.pi))
    box = KINDS[kind]
    if len(box.panes) == 2:
        rows = np.stack([0.04 * day, 0.03 * day, 0.75 * day], axis=1)
        forcing = forcing._replace(absorbed=np.ascontiguousarray(rows))
    whole = member(box, forcing, rule, ducts=DUCTS)
    ran = go(whole, np.where(day > 0.0, 60, 6), start(whole))
    assert np.isfinite(ran.hours).all()
    assert ran.total(Column.DELIVERED) > 0.0
    assert ran.hours[:, Column.RESIDUAL].max() < 1e-9
    assert ran.hours[:, Column.HOUSE_RESIDUAL].max() < 1e-9
    assert sums(ran, BOX_TERMS) < 1e-6
    assert sums(ran, HOUSE_TERMS) < 1e-6


@pytest.mark.parametrize("kind", ["behind", "in_front", "both_sides", "two_pass", "through"])
def test_a_steady_march_ends_at_the_steady_point(kind) -> None:
    # two ways of this package to one point: 1e-6 K; the heater holds the room, which is the inlet
    sun, hours = 700.0, 60
    whole = member(KINDS[kind], made_forcing(np.full(hours, sun), 275.0), ALWAYS, demand=made_demand(hours))
    ran = go(whole, steps(30, hours), started(whole))
    weather = Weather(*whole.forcing.weather[0].tolist())
    point = steady_point(whole.network, whole.table, weather, whole.forcing.absorbed[0], 293.15)
    assert ran.state.zone[NOW, 0, 0] == pytest.approx(293.15, abs=1e-9)
    assert ran.state.nodes[NOW, :, :, 0] == pytest.approx(point.nodes, abs=1e-6)
    assert ran.hours[-1, Column.COLLECTED, 0] / 3600.0 == pytest.approx(point.useful_gain, rel=1e-7)


def test_the_ledger_says_what_the_state_says() -> None:
    whole = real_member(BOX)
    part = window(whole, 24 * 90, 24 * 97)
    before = start(part)
    ran = go(part, plan_of(whole)[24 * 90 : 24 * 97], before)
    gained = ran.state.nodes[NOW] - before.nodes[NOW]
    stored = (part.network.capacity[:, None, :] * gained).sum() * part.network.box[0, 0]
    assert ran.total(Column.STORED) == pytest.approx(stored, rel=1e-6)
    room, mass = (ran.state.zone[NOW, :2, 0] - before.zone[NOW, :2, 0]).tolist()
    held = part.zone[5, 0] * room + part.zone[6, 0] * mass
    assert ran.total(Column.HOUSE_STORED) == pytest.approx(held, rel=1e-6)


def test_members_side_by_side_are_each_alone_bit_for_bit() -> None:
    # one switches within a step while the other does not: its empty part must change nothing
    slow = ControlRule(start=8.0, stop=2.5, reference_weight=1.0, minimum_on=300.0)
    thick = replace(BOX, absorber=Absorber("heavy", heat_capacity=4000.0), edge_conductance=1.0)
    one = real_member(BOX, SNAP)
    other = real_member(thick, slow, low_energy(140.0))._replace(forcing=one.forcing)
    plan = plan_of(one)[24 * 90 : 24 * 104]
    alone = [window(x, 24 * 90, 24 * 104) for x in (one, other)]
    both = side_by_side(*alone)
    together = go(both, plan, start(both))
    for lane, single in enumerate(alone):
        ran = go(single, plan, start(single))
        assert ran.total(Column.FAN_STARTS) >= 5
        assert np.array_equal(ran.hours[:, :, 0], together.hours[:, :, lane])
        assert np.array_equal(ran.state.nodes[NOW, :, :, 0], together.state.nodes[NOW, :, :, lane])
        assert np.array_equal(ran.state.zone[NOW, :, 0], together.state.zone[NOW, :, lane])
        assert np.array_equal(ran.state.control[:, 0], together.state.control[:, lane])


def few_steps() -> Ran:
    """March a few steps with a fan that starts, stops and is held by its least time."""
    rule = ControlRule(start=313.7, stop=302.6, minimum_on=100.0)
    some = member(BOX, made_forcing(np.array([800.0, 800.0, 0.0]), 280.0), rule)
    return go(some, steps(8, 3), start(some), seconds=480.0)


def test_the_same_source_uncompiled_gives_the_same_numbers() -> None:
    # stated rounding: 1e-10 of every column's size; the compiler may order sums in another way
    code = (
        "import json, sys\nfrom tests.engine.test_march import few_steps\n"
        "ran = few_steps()\njson.dump([ran.hours.tolist(), ran.state.nodes.tolist()], sys.stdout)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=REPOSITORY,
        env={**os.environ, "NUMBA_DISABLE_JIT": "1", "PYTHONPATH": str(REPOSITORY)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    hours, nodes = (np.array(part) for part in json.loads(done.stdout))
    compiled = few_steps()
    assert compiled.total(Column.FAN_STARTS) == 1.0
    assert nodes == pytest.approx(compiled.state.nodes, rel=1e-12)
    for column in range(COLUMNS):
        if column not in (Column.RESIDUAL, Column.HOUSE_RESIDUAL):
            size = np.abs(compiled.hours[:, column]).max()
            assert hours[:, column] == pytest.approx(compiled.hours[:, column], rel=1e-9, abs=1e-10 * size)
