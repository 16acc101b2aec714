"""A march that breaks is taken again with shorter steps there, or ends with its reason.

The fault is put into what the compiled march reads: while an hour is marched in too few steps, the gain
of the house in it is no number, so that the real march loses its state there.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from simengine.data_files import data_path
from simengine.engine.ledger import Column
from simengine.engine.state import FIRST
from simengine.errors import RunEnded
from simengine.results import Result
from simengine.scenario import Scenario, load
from simengine.simulate import blocks, houses_alone, resolve, run
from simengine.simulate.blocks import Ride, march_year
from simengine.simulate.drive import drive_of
from simengine.simulate.shorter import LARGEST_RESIDUAL, MOST_MARCHES, first_unsound
from simengine.simulate.together import run_together
from simengine.simulate.year import finished, finished_in_brief, first_temperature, member_of
from simengine.vector import BLOCKS

HOUR = 972
NOON = 12  # of the warm-up's first day, which is lit
NAMED = "02-10 12:00"
"""The hour of that number, from 0, in a year that begins on 1 January."""
NEVER = 10**6


@pytest.fixture(scope="module")
def scenario() -> Scenario:
    return load(data_path("scenarios", "demo.toml")).changed({"run.step": "30 min", "collector.segments": 1})


@pytest.fixture
def frail(monkeypatch: pytest.MonkeyPatch) -> Callable[..., list[int]]:
    """Let hours break while they are marched in fewer steps than said; return the size of every march."""
    name = "march_block" if BLOCKS else "march"
    sound = getattr(blocks, name)

    def make(
        *faults: tuple[int, int], warming: bool = False, value: float = np.nan, sound_lanes: int = 1
    ) -> list[int]:
        marched: list[int] = []

        def march(member: Any, plan: Any, seconds: float, state: Any, work: Any, *rest: Any) -> None:
            warms_up = member.drive.shape[0] < 8760
            begins = int(work.clock[FIRST, 0])
            if not warms_up:
                marched.append(member.zone.shape[-1])
            demand = member.demand.copy()
            if warms_up == warming:
                for hour, needed in faults:
                    if plan[begins + hour] < needed:
                        demand[hour, 0, sound_lanes:] = value
            sound(member._replace(demand=demand), plan, seconds, state, work, *rest)

        monkeypatch.setattr(blocks, name, march)
        return marched

    return make


@pytest.mark.parametrize("needed", [3, 5], ids=["half", "quarter"])
def test_an_hour_that_breaks_is_taken_in_shorter_steps(
    scenario: Scenario, frail: Callable[..., list[int]], needed: int
) -> None:
    whole = resolve(scenario)
    drive = drive_of(whole)
    usual = int(drive.plan[HOUR])
    assert usual == 2
    plan = drive.plan.copy()
    plan[HOUR] = 4 if needed == 3 else 8
    marched = frail((HOUR, needed))
    result = run(scenario)
    assert len(marched) == (2 if needed == 3 else 3)
    # the very year that those steps give, and in it nothing that does not balance
    other = replace(drive, plan=plan)
    ledger = march_year([Ride(member_of(whole, other), other, first_temperature(whole))])[0]
    assert result.hours.identical(finished(whole, other, ledger).hours)
    assert max(result.summary["closure"].values()) < LARGEST_RESIDUAL
    assert [text for text in result.summary["cautions"] if "shorter than usual" in text and NAMED in text]


def test_what_shorter_steps_do_not_mend_ends_with_reason_and_hour(
    scenario: Scenario, frail: Callable[..., list[int]]
) -> None:
    marched = frail((HOUR, NEVER))
    with pytest.raises(RunEnded) as ended:
        run(scenario)
    assert len(marched) == 3
    assert str(ended.value) == (
        f"the march found no finite state in the interval that starts {NAMED}; "
        "shorter steps, of a half and a quarter of the length, did not help"
    )


def test_an_infinite_gain_ends_in_the_same_way(scenario: Scenario, frail: Callable[..., list[int]]) -> None:
    frail((HOUR, NEVER), value=np.inf)
    with pytest.raises(RunEnded, match=f"interval that starts {NAMED}; shorter steps"):
        run(scenario)


def test_a_warm_up_that_breaks_is_taken_in_shorter_steps(
    scenario: Scenario, frail: Callable[..., list[int]]
) -> None:
    marched = frail((NOON, 2), warming=True)
    result = run(scenario)
    assert len(marched) == 2
    assert [text for text in result.summary["cautions"] if "shorter than usual in all intervals" in text]


def test_the_first_hour_that_breaks_for_good_names_the_warm_up(
    scenario: Scenario, frail: Callable[..., list[int]]
) -> None:
    frail((100, NEVER), warming=True)
    with pytest.raises(RunEnded, match="01-01 00:00, or in the warm-up before it; shorter steps"):
        run(scenario)


def test_many_hours_that_break_are_given_up(scenario: Scenario, frail: Callable[..., list[int]]) -> None:
    marched = frail(*((HOUR + 100 * n, 3) for n in range(20)))
    with pytest.raises(RunEnded, match=f"given up after {MOST_MARCHES - 1} marches with shorter steps"):
        run(scenario)
    assert len(marched) == MOST_MARCHES


@pytest.mark.parametrize("finish", [finished, finished_in_brief])
def test_in_company_it_is_what_it_is_alone_and_touches_no_other(
    scenario: Scenario, frail: Callable[..., list[int]], finish: Any
) -> None:
    both = [scenario, scenario.changed({"fan.flow": "80 cfm"})]
    (sound,) = run_together([resolve(both[0])], finish)
    marched = frail((HOUR, 3), sound_lanes=3)  # the last house of the second breaks
    first, second = run_together([resolve(one) for one in both], finish)
    assert not isinstance(first, str) and not isinstance(second, str)
    assert len(marched) == 2
    if isinstance(first, Result):
        assert first.summary == sound.summary and first.hours.identical(sound.hours)
    else:
        assert first == sound


def test_heat_that_does_not_balance_is_unsound() -> None:
    hours = np.zeros((4, len(Column), 2))
    hours[2, Column.HOUSE_RESIDUAL, 1] = 2.0 * LARGEST_RESIDUAL
    assert first_unsound(hours) == 2
    hours[1, Column.RESIDUAL, 0] = np.nan
    assert first_unsound(hours) == 1


def test_a_house_without_the_collector_that_breaks_ends_with_its_hour(
    scenario: Scenario, monkeypatch: pytest.MonkeyPatch
) -> None:
    sound = houses_alone.march_house

    def march_house(zones: Any, demand: Any, ambient: Any, *rest: Any) -> None:
        broken = demand.copy()
        if demand.shape[0] == 8760:
            broken[HOUR, 0, 1] = np.nan
        sound(zones, broken, ambient, *rest)

    monkeypatch.setattr(houses_alone, "march_house", march_house)
    with pytest.raises(RunEnded, match=f"without the collector .* starts {NAMED}"):
        run(scenario)
