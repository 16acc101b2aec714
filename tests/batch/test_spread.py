"""The band: a linear toy with known percentiles, honesty about what never pays, and years from end to end."""

import json

import numpy as np
import pytest

from simengine.batch.band import band_blocks
from simengine.batch.measures import COLUMNS
from simengine.batch.spread import run_spread
from simengine.batch.task import Outcome
from simengine.errors import InputError, RunEnded
from simengine.scenario import Scenario
from tests.batch.conftest import Toy


def test_a_straight_line_gives_straight_percentiles_and_a_rank_correlation_of_one(toy: Toy) -> None:
    sample, outcomes = toy(101)
    block = band_blocks(["standard"], sample, outcomes)["standard"]
    # x = 0..100: rank r stands at share (r + 0.5)/101, so P10 is x = 101 * 0.1 - 0.5; mathematics
    expected = {"p10": 100.0 + 9.6, "p50": 150.0, "p90": 100.0 + 90.4}
    assert block["offset_kwh"] == pytest.approx(expected)
    drivers = {one["key"]: one for one in block["drivers"]}
    assert drivers["rising"]["offset_kwh"] == 1.0 and drivers["rising"]["simple_payback_a"] == -1.0
    assert drivers["falling"]["offset_kwh"] == -1.0 and drivers["falling"]["simple_payback_a"] == 1.0
    assert abs(drivers["idle"]["offset_kwh"]) < 0.3
    assert block["drivers"][-1]["key"] == "idle"


def test_what_never_pays_lies_beyond_every_year_and_is_counted(toy: Toy) -> None:
    sample, outcomes = toy(10, shift=-2.0)  # savings -20, -10, 0, 10 .. 70: three of ten never pay
    block = band_blocks(["standard"], sample, outcomes)["standard"]
    assert block["never_paid_back"] == 3
    assert block["simple_payback_a"]["p10"] == pytest.approx(0.5 * (1000.0 / 70.0 + 1000.0 / 60.0))
    assert block["simple_payback_a"]["p90"] is None
    assert "in 3 of 10 members" in block["simple_payback_a"]["p90_reason"]
    assert {one["key"]: one["simple_payback_a"] for one in block["drivers"]}["rising"] < -0.95
    json.dumps(block, allow_nan=False)


def test_without_prices_there_is_no_band_of_payback_but_one_of_heat(toy: Toy) -> None:
    sample, outcomes = toy(5)
    for outcome in outcomes:
        assert outcome.numbers is not None
        outcome.numbers[0, [COLUMNS.index("net_saving"), COLUMNS.index("simple_payback_a")]] = np.nan
    block = band_blocks(["standard"], sample, outcomes)["standard"]
    assert block["offset_kwh"]["p50"] == 102.0
    assert block["simple_payback_a"]["p50"] is None
    assert "price" in block["simple_payback_a"]["p50_reason"]


def test_members_that_failed_are_counted_and_named(toy: Toy) -> None:
    sample, outcomes = toy(5)
    outcomes[2] = Outcome(2, None, "no such file")
    block = band_blocks(["standard"], sample, outcomes)["standard"]
    assert (block["members"], block["failed"]) == (5, 1)
    assert block["failures"] == [{"member": 2, "reason": "no such file"}]


def test_a_batch_of_failures_ends_with_the_first_reason(toy: Toy) -> None:
    sample, outcomes = toy(3)
    with pytest.raises(RunEnded, match="3 of 3 members failed, the first because: no such file"):
        band_blocks(["standard"], sample, [Outcome(one.member, None, "no such file") for one in outcomes])


@pytest.mark.parametrize("members", [0, 1, 10**9])
def test_a_band_of_too_few_or_too_many_is_refused(demo: Scenario, members: int) -> None:
    with pytest.raises(InputError, match="accepted: 2 to 100000"):
        run_spread(demo, members)


def test_a_band_of_years_with_one_that_fails_is_the_same_from_workers(demo: Scenario) -> None:
    vary = {
        "site.weather": {
            "kind": "choice",
            "values": ["builtin:greensboro", "nowhere.csv"],
            "weights": [2, 1],
        },
        "control.sensor": False,
    }
    quick = demo.changed({"run.step": "10 min", "collector.segments": 1, "spread": {"vary": vary, "seed": 4}})
    here = run_spread(quick, 3)
    there = run_spread(quick, 3, jobs=2)
    assert here.summary == there.summary
    assert here.hours.identical(there.hours)
    for house in here.summary["houses"].values():
        block = house["spread"]
        assert (block["members"], block["failed"], block["seed"]) == (3, 1, 4)
        assert "nowhere.csv" in block["failures"][0]["reason"]
        assert block["offset_kwh"]["p10"] <= block["offset_kwh"]["p50"] <= block["offset_kwh"]["p90"]
    json.dumps(here.summary, allow_nan=False)
