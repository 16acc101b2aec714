"""The search for the best: known optima of invented measures, bounds, failures, and a real tilt."""

from typing import Any

import numpy as np
import pytest

from simengine.batch import tries
from simengine.batch.measures import COLUMNS, WIDTH
from simengine.batch.optimise import best
from simengine.batch.task import Bench, Outcome, Task
from simengine.batch.tries import Goal, bound_of
from simengine.errors import InputError, RunEnded
from simengine.scenario import Scenario
from tests.batch.sweeps import small


@pytest.fixture(scope="module")
def scenario() -> Scenario:
    return small()


def number(raw: Any) -> float:
    return float(str(raw).split()[0])


def invented(monkeypatch: pytest.MonkeyPatch, hill: Any) -> None:
    """Replace the years by a hill whose top is known."""

    def safely(bench: Bench, task: Task) -> list[Outcome]:
        outcomes = []
        for member, changes in zip(task.members, task.changes, strict=True):
            height = hill(changes)
            row = np.zeros((2, WIDTH))
            row[:, COLUMNS.index("offset_kwh")] = row[:, COLUMNS.index("simple_payback_a")] = height or 0.0
            outcomes.append(Outcome(member, None if height is None else row, "it does not stand"))
        return outcomes

    monkeypatch.setattr(tries, "safely", safely)


def hill(changes: Any) -> float:
    """A round hill with its top at 63 deg and 0.05 m3/s: mathematics."""
    tilt, flow = number(changes.get("collector.tilt", 90)), number(changes.get("fan.flow", 0.02))
    return 100.0 - (tilt - 63.0) ** 2 / 100.0 - 1e5 * (flow - 0.05) ** 2


def test_the_top_of_a_hill_is_found_within_a_hundredth_of_the_bounds(
    scenario: Scenario, monkeypatch: pytest.MonkeyPatch
) -> None:
    invented(monkeypatch, hill)
    bounds = [
        bound_of(scenario, "collector.tilt", "30 deg", "90 deg"),
        bound_of(scenario, "fan.flow", "0.02 m3/s", "0.1 m3/s"),
    ]
    found = best(scenario, bounds, Goal("offset_kwh"), most=80)
    assert number(found.best.changes["collector.tilt"]) == pytest.approx(63.0, abs=0.6)
    assert number(found.best.changes["fan.flow"]) == pytest.approx(0.05, abs=8e-4)
    assert found.best.measure == max(one.measure for one in found.tries if one.measure is not None)
    assert len(found.tries) <= 80
    assert found.start.measure == hill({})
    assert best(scenario, bounds, Goal("offset_kwh"), most=80) == found  # the same seed, the same way


def test_a_measure_of_which_less_is_better_is_made_small(
    scenario: Scenario, monkeypatch: pytest.MonkeyPatch
) -> None:
    invented(monkeypatch, lambda changes: 200.0 - hill(changes))
    bounds = [bound_of(scenario, "collector.tilt", "30 deg", "90 deg")]
    found = best(scenario, bounds, Goal("simple_payback_a"))
    assert number(found.best.changes["collector.tilt"]) == pytest.approx(63.0, abs=0.6)


def test_a_top_at_the_edge_is_found_there(scenario: Scenario, monkeypatch: pytest.MonkeyPatch) -> None:
    invented(monkeypatch, hill)
    found = best(scenario, [bound_of(scenario, "collector.tilt", "30 deg", "50 deg")], Goal("offset_kwh"))
    assert number(found.best.changes["collector.tilt"]) == pytest.approx(50.0, abs=0.2)


def test_tries_that_fail_are_kept_and_avoided(scenario: Scenario, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(changes: Any) -> float | None:
        return None if number(changes.get("collector.tilt", 90)) < 60.0 else hill(changes)

    invented(monkeypatch, broken)
    found = best(scenario, [bound_of(scenario, "collector.tilt", "30 deg", "90 deg")], Goal("offset_kwh"))
    assert number(found.best.changes["collector.tilt"]) == pytest.approx(63.0, abs=0.6)
    assert "it does not stand" in {one.reason for one in found.tries}


def test_nothing_but_failures_ends_with_the_first_reason(
    scenario: Scenario, monkeypatch: pytest.MonkeyPatch
) -> None:
    invented(monkeypatch, lambda changes: None)
    with pytest.raises(RunEnded, match="none of 6 tries has a number, the first because: it does not stand"):
        best(scenario, [bound_of(scenario, "collector.tilt", "30 deg", "90 deg")], Goal("offset_kwh"))


@pytest.mark.parametrize(
    ("key", "low", "high", "line"),
    [
        ("collector.tilt", "90 deg", "30 deg", "the ends make no range"),
        ("collector.tilt", "30 deg", "95 deg", '"95 deg" is above 90 deg'),
        ("collector.tilt", "30", "60", "has no unit"),
        ("collector.arrangement", "behind", "through", "is no quantity"),
        ("collector.tlt", "1 deg", "2 deg", "this scenario has no"),
    ],
)
def test_ends_that_make_no_sense_are_refused(
    scenario: Scenario, key: str, low: str, high: str, line: str
) -> None:
    with pytest.raises(InputError, match=line) as refused:
        bound_of(scenario, key, low, high)
    assert refused.value.problems[0].startswith(f"{key}: ")


def test_an_unknown_measure_or_house_is_refused(scenario: Scenario) -> None:
    bounds = [bound_of(scenario, "collector.tilt", "30 deg", "90 deg")]
    with pytest.raises(InputError, match="'luck' is no measure"):
        best(scenario, bounds, Goal("luck"))
    with pytest.raises(InputError, match="there is no house 'barn'"):
        best(scenario, bounds, Goal("offset_kwh", house="barn"))


def test_workers_find_the_same(scenario: Scenario, monkeypatch: pytest.MonkeyPatch) -> None:
    bounds = [bound_of(scenario, "collector.tilt", "30 deg", "90 deg")]
    here = best(scenario, bounds, Goal("offset_kwh"), most=3)
    monkeypatch.setattr(tries, "SIDE_BY_SIDE", 2)
    monkeypatch.setattr(tries, "WORTH_WORKERS", 2)
    assert best(scenario, bounds, Goal("offset_kwh"), most=3, jobs=2) == here


def test_several_weather_years_count_as_their_mean(scenario: Scenario) -> None:
    bounds = [bound_of(scenario, "collector.tilt", "30 deg", "90 deg")]
    places = ("builtin:greensboro", "builtin:sand_point")
    each = [best(scenario, bounds, Goal("offset_kwh", years=(one,)), most=2) for one in places]
    both = best(scenario, bounds, Goal("offset_kwh", years=places), most=2)
    for number, tried in enumerate(both.tries):
        assert tried.measure == sum(one.tries[number].measure or 0.0 for one in each) / 2.0


def test_a_real_year_prefers_a_tilt_between_flat_and_upright_over_either(scenario: Scenario) -> None:
    found = best(
        scenario, [bound_of(scenario, "collector.tilt", "10 deg", "90 deg")], Goal("delivered_kwh"), most=8
    )
    assert found.best.measure is not None and found.start.measure is not None
    assert found.best.measure > found.start.measure  # the demo stands upright
    assert 10.0 < number(found.best.changes["collector.tilt"]) < 90.0
