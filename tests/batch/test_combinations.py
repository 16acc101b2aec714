"""Which members a sweep has: grids, lists that advance together, drawn ones, and what is left out."""

import itertools
from typing import Any

import pytest

from simengine.batch.combinations import Members, members_of
from simengine.batch.plan import chunk_size, plan_of
from simengine.errors import InputError, ScenarioError
from tests.batch.sweeps import VARY, small


def members(**sweep: Any) -> Members:
    scenario = small(**sweep)
    assert scenario.inputs.sweep is not None
    return members_of(scenario.inputs, scenario.inputs.sweep)


def everyone(found: Members) -> list[dict[str, Any]]:
    return [found.changes(member) for member in range(found.count)]


def test_a_grid_holds_every_combination_once() -> None:
    found = everyone(members())
    expected = [dict(zip(VARY, values, strict=True)) for values in itertools.product(*VARY.values())]
    assert len(found) == 8
    assert all(one in found for one in expected)


def test_members_that_share_the_sun_are_neighbours() -> None:
    tilts = [one["collector.tilt"] for one in everyone(members())]
    assert tilts == ["60 deg"] * 4 + ["90 deg"] * 4


def test_lists_that_advance_together_are_not_combined() -> None:
    found = everyone(members(together=[["fan.flow", "economics.first_cost"]]))
    pairs = {(one["fan.flow"], one["economics.first_cost"]) for one in found}
    assert len(found) == 4
    assert pairs == {("80 cfm", "0 USD"), ("120 cfm", "900 USD")}


@pytest.mark.parametrize(
    ("rule", "left"),
    [
        ({"collector.tilt": "60 deg"}, 4),
        ({"collector.tilt": "1.0471975511965976 rad"}, 4),  # the same angle: mathematics
        ({"collector.tilt": "60 deg", "fan.flow": {"from": "100 cfm"}}, 6),
        ({"fan.flow": {"to": "80 cfm"}}, 4),
        ({"fan.flow": ["80 cfm", "120 cfm"], "economics.first_cost": "0 USD"}, 4),
        ({"collector.tilt": "45 deg"}, 8),
    ],
)
def test_combinations_are_left_out(rule: dict[str, Any], left: int) -> None:
    assert members(leave_out=[rule]).count == left


def test_several_rules_leave_out_what_any_of_them_does() -> None:
    rules = [{"collector.tilt": "60 deg", "fan.flow": "80 cfm"}, {"economics.first_cost": "0 USD"}]
    assert members(leave_out=rules).count == 3  # 8 - 2 - 4 + 1: mathematics


def test_nothing_left_is_an_error() -> None:
    with pytest.raises(InputError, match="leaves no combination over"):
        members(leave_out=[{"collector.tilt": ["60 deg", "90 deg"]}])


def test_drawn_members_take_lists_and_spreads() -> None:
    vary = {"collector.tilt": {"from": "40 deg", "to": "80 deg"}, "fan.flow": ["80 cfm", "120 cfm"]}
    found = everyone(members(vary=vary, samples=10, seed=3))
    assert found == everyone(members(vary=vary, samples=10, seed=3))
    assert [one["fan.flow"] for one in found].count("80 cfm") == 5  # strata: mathematics
    assert len({one["collector.tilt"] for one in found}) == 10


@pytest.mark.parametrize(
    ("sweep", "line"),
    [
        ({"leave_out": [{"fan.power": "3 W"}]}, '"fan.power" is not varied'),
        ({"together": [["fan.flow", "fan.power"]]}, "cannot advance together"),
        ({"together": [["fan.flow", "collector.tilt"]], "samples": 9}, "have no lists that advance"),
        ({"measure": "luck"}, '"luck" is no measure'),
        ({"vary": {"collector.absorber.absorptance": [0.9, 2.0]}}, '"2.0" is above 1'),
        ({"vary": {"collector.tilt": {"from": "1 deg", "to": "9 deg"}}}, "a range has no end of values"),
        ({"leave_out": "none"}, "where combinations are due"),
    ],
)
def test_what_makes_no_sense_is_refused_in_one_line(sweep: dict[str, Any], line: str) -> None:
    with pytest.raises(ScenarioError) as refused:
        small(**sweep)
    assert len(refused.value.problems) == 1
    assert line in refused.value.problems[0]


def test_the_plan_tells_other_plans_apart_and_spelling_not() -> None:
    plan = plan_of(small())
    assert plan.digest == plan_of(small()).digest
    changed = plan_of(small(leave_out=[{"collector.tilt": "60 deg"}]))
    assert {name for name in plan.parts if plan.parts[name] != changed.parts[name]} == {"sweep"}
    steeper = plan_of(small().changed({"collector.azimuth": "200 deg"}))
    assert {name for name in plan.parts if plan.parts[name] != steeper.parts[name]} == {"scenario"}


def test_chunks_hold_every_member_once() -> None:
    plan = plan_of(small())
    assert plan.size == chunk_size(8) == 1
    members = [member for task in plan.tasks(range(plan.chunks)) for member in task.members]
    assert members == list(range(8))


def test_a_weather_file_that_is_not_there_is_told_before_the_first_member() -> None:
    with pytest.raises(InputError, match=r"nowhere\.csv"):
        plan_of(small(vary={"site.weather": ["builtin:greensboro", "nowhere.csv"]}))
