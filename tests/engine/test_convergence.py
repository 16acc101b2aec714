"""How the march comes closer with smaller steps: its order on a smooth day, and cycles of the fan."""

import itertools
import math
from dataclasses import replace

import numpy as np
import pytest

from simengine.engine.ledger import Column
from simengine.engine.state import NOW
from tests.engine.drive import (
    ALWAYS,
    BOX,
    NEVER,
    SNAP,
    Ran,
    go,
    greensboro,
    made_forcing,
    member,
    plan_of,
    real_member,
    start,
    started,
    steps,
    window,
)

HOUR = np.arange(24)
SUN = np.maximum(0.0, 800.0 * np.sin((HOUR - 6.0) / 12.0 * np.pi))
AMBIENT = 278.0 + 5.0 * np.sin((HOUR - 9.0) / 24.0 * 2.0 * np.pi)


def smooth_day(rule, count: int) -> Ran:
    whole = member(BOX, made_forcing(SUN, AMBIENT), rule)
    return go(whole, steps(count, 24), started(whole) if rule is ALWAYS else start(whole))


def worst(ran: Ran, reference: Ran) -> list[float]:
    """Return the worst hour's error of absorber and air, and the worst node's at the end [K]."""
    hourly = [
        np.abs(ran.hours[:, column, 0] - reference.hours[:, column, 0]).max() / 3600.0
        for column in (Column.ABSORBER, Column.OUTLET)
    ]
    return [*hourly, np.abs(ran.state.nodes[NOW] - reference.state.nodes[NOW]).max()]


@pytest.mark.parametrize("rule", [ALWAYS, NEVER], ids=["fan on", "fan off"])
def test_a_smooth_day_converges_at_second_order(rule) -> None:
    reference = smooth_day(rule, 7680)
    errors = [worst(smooth_day(rule, count), reference) for count in (15, 30, 60, 120)]
    for coarse, fine in itertools.pairwise(errors):
        for before, after in zip(coarse, fine, strict=True):
            assert math.log2(before / after) == pytest.approx(2.0, abs=0.2)


@pytest.mark.parametrize("rule", [ALWAYS, NEVER], ids=["fan on", "fan off"])
def test_fine_steps_leave_next_to_nothing(rule) -> None:
    # where the error no longer falls with the square of the step it is below 0.05 mK
    assert max(worst(smooth_day(rule, 480), smooth_day(rule, 7680))) < 5.0e-5


def test_net_heat_of_a_smooth_day_converges_at_second_order() -> None:
    def net(ran: Ran) -> np.ndarray:
        return ran.hours[:, Column.DELIVERED, 0] - ran.hours[:, Column.NIGHT_LOSS, 0]

    exact = net(smooth_day(ALWAYS, 7680))
    errors = [np.sqrt(((net(smooth_day(ALWAYS, n)) - exact) ** 2).mean()) for n in (15, 30, 60, 120)]
    for coarse, fine in itertools.pairwise(errors):
        assert math.log2(coarse / fine) == pytest.approx(2.0, abs=0.2)


@pytest.mark.parametrize(("count", "tolerance"), [(60, 0.002), (120, 0.001), (240, 0.0005)])
def test_a_cycling_day_is_split_so_well_that_its_heat_is_that_of_one_second_steps(count, tolerance) -> None:
    cycling = member(BOX, made_forcing(np.full(12, 420.0), 282.0), SNAP)
    fine = go(cycling, steps(3600, 12), start(cycling))
    coarse = go(cycling, steps(count, 12), start(cycling))
    assert fine.total(Column.FAN_STARTS) > 100
    assert coarse.total(Column.FAN_STARTS) == pytest.approx(fine.total(Column.FAN_STARTS), abs=1)
    assert coarse.total(Column.DELIVERED) == pytest.approx(fine.total(Column.DELIVERED), rel=tolerance)


@pytest.mark.parametrize("constant", [2.0, 10.0, 20.0])
def test_a_quick_sensor_starts_and_stops_the_fan_within_one_default_step(constant) -> None:
    # the fan runs and rests for a minute or less; steps of 90 s against 2 s
    rule = replace(SNAP, sensor_time_constant=constant)
    cycling = member(BOX, made_forcing(np.full(12, 420.0), 282.0), rule)
    fine = go(cycling, steps(1800, 12), start(cycling))
    coarse = go(cycling, steps(40, 12), start(cycling))
    assert fine.total(Column.FAN_STARTS) > 250
    assert coarse.total(Column.FAN_STARTS) == pytest.approx(fine.total(Column.FAN_STARTS), rel=0.02)
    assert coarse.total(Column.DELIVERED) == pytest.approx(fine.total(Column.DELIVERED), rel=0.005)


def fan_starts(first: int, last: int) -> tuple[float, float, float]:
    """Return fan starts with the default step and with half of it, and the change of the heat [-]."""
    whole = real_member(BOX)
    part, plan = window(whole, first, last), plan_of(whole)[first:last]
    coarse = go(part, plan, start(part))
    fine = go(part, 2 * plan, start(part))
    heat = fine.total(Column.DELIVERED) / coarse.total(Column.DELIVERED) - 1.0
    return coarse.total(Column.FAN_STARTS), fine.total(Column.FAN_STARTS), heat


@pytest.mark.parametrize("month", [0, 3])
def test_fan_starts_of_a_month_hardly_change_when_the_step_is_halved(month) -> None:
    hours = np.flatnonzero(greensboro().month == month)
    coarse, fine, heat = fan_starts(int(hours[0]), int(hours[-1]) + 1)
    assert coarse > 100
    assert fine == pytest.approx(coarse, rel=0.05)
    assert abs(heat) < 0.003


@pytest.mark.slow
def test_fan_starts_of_a_year_hardly_change_when_the_step_is_halved() -> None:
    coarse, fine, heat = fan_starts(0, 8760)
    assert fine == pytest.approx(coarse, rel=0.05)
    assert abs(heat) < 0.003


@pytest.mark.slow
def test_four_segments_give_the_year_of_twenty() -> None:
    heat = []
    for segments in (4, 20):
        whole = real_member(replace(BOX, segments=segments))
        ran = go(whole, plan_of(whole), start(whole))
        heat.append(ran.total(Column.DELIVERED))
    assert heat[0] == pytest.approx(heat[1], rel=0.003)
