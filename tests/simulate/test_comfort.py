"""What a switch-off keeps out: the estimate by hand, and beside a march that lets the fan run."""

import numpy as np
import pytest

from simengine.control.spec import ControlRule
from simengine.results import Result
from simengine.scenario import Scenario
from simengine.simulate import run
from simengine.simulate.comfort import held_back

RULE = ControlRule(start=313.0, stop=303.0, room_limit=298.15, room_limit_band=0.5, months=(1, 2))


def made(sun: np.ndarray, room: np.ndarray, on: np.ndarray) -> np.ndarray:
    """Return the estimate for a box that brings 0.5 S - 10 (T_room - T_ambient) while it runs."""
    warmer = np.full(sun.size, 20.0)
    delivered = on * (0.5 * sun - 10.0 * warmer)
    hourly = {"fan_on": on[None], "delivered": delivered[None], "control_temperature": room[None]}
    month = np.where(np.arange(sun.size) < 40, 0, 5)
    return held_back(RULE, month, sun[None], warmer[None], hourly)[0]


def test_a_line_is_found_and_read_where_the_fan_was_held() -> None:
    sun = np.concatenate([np.linspace(800.0, 1600.0, 30), [1000.0] * 5, [300.0] * 5, [1200.0] * 10])
    room = np.full(50, 293.15)
    room[30:35] = 298.0  # at its limit
    on = np.where(np.arange(50) < 30, 1.0, 0.0)
    found = made(sun, room, on)
    assert found[:30] == pytest.approx(0.0)
    assert found[30:35] == pytest.approx(300.0)  # 0.5 x 1000 - 10 x 20: kept out by the limit
    assert found[35:40] == pytest.approx(0.0)  # too little sun
    assert found[40:] == pytest.approx(400.0)  # 0.5 x 1200 - 200: out of season


def test_too_few_hours_tell_nothing() -> None:
    assert not made(np.full(50, 900.0), np.full(50, 300.0), np.zeros(50)).any()


@pytest.fixture(scope="module")
def pair(demo: Scenario) -> tuple[Result, Result]:
    base = demo.changed({"collector.mounting": "open", "collector.wall_resistance": None})
    free = base.changed({"control.months": list(range(1, 13)), "control.room_limit": "45 degC"})
    return run(base), run(free)


@pytest.mark.parametrize("house", ["standard", "low_energy"])
def test_the_estimate_is_what_a_free_fan_brings_more_within_a_tenth(pair, house) -> None:
    # independent: the same year marched again with neither limit nor season
    held, free = (result.summary["houses"][house] for result in pair)
    more = free["delivered_kwh"] - held["delivered_kwh"]
    assert more > 50.0
    assert held["held_back_kwh"] == pytest.approx(more, rel=0.1)
    # letting it run saves hardly more heating, and opens windows for longer
    assert free["offset_kwh"] - held["offset_kwh"] < 0.35 * more
    assert free["overheating_hours_added"] > held["overheating_hours_added"]
    assert free["vented_added_kwh"] > held["vented_added_kwh"]
