"""The year's dictionary: sums by hand from the invented year, and null with a reason, never NaN."""

import json
import math
from types import ModuleType
from typing import Any

import numpy as np
import pytest

from simengine.results import Result
from simengine.results.settle import reason_key, settle
from simengine.results.summary import summarise
from tests.contracts.summary_keys import BLOCKS, NUMBERS


def walk(value: Any, path: str = "") -> list[tuple[str, Any, Any]]:
    """Return every leaf as (path, parent, value)."""
    leaves: list[tuple[str, Any, Any]] = []
    items = value.items() if isinstance(value, dict) else enumerate(value)
    for key, item in items:
        if isinstance(item, dict | list):
            leaves += walk(item, f"{path}/{key}")
        else:
            leaves.append((f"{path}/{key}", value, item))
    return leaves


def test_a_house_has_every_key_of_the_contract(result: Result) -> None:
    assert list(result.summary["houses"]) == ["standard", "low_energy"]
    for house in result.summary["houses"].values():
        assert {*NUMBERS, *BLOCKS} <= set(house)
        assert len(house["months"]) == 12


@pytest.mark.parametrize(
    ("key", "expected"),
    [  # mathematics: W x hours of the invented year
        ("incident_kwh", 2000 * 2920 / 1000),
        ("cover_loss_kwh", 600 * 2920 / 1000),
        ("delivered_kwh", 1000 * 2920 / 1000),
        ("night_loss_kwh", 12.5 * 5840 / 1000),
        ("opening_loss_kwh", -2.5 * 5840 / 1000),
        ("net_kwh", 2920.0 - 73.0 + 14.6),
        ("heating_without_kwh", 17520.0),
        ("offset_kwh", 600 * 2920 / 1000),
        ("fan_hours", 2920.0),
        ("fan_kwh", 73.0),
        ("fan_starts", 365),
        ("peak_supply_c", 50.0),
        ("useful_share", 0.6),
        ("solar_fraction", 1752.0 / 17520.0),
        ("efficiency", (1000.0 - 20.0) / 2000.0),
        ("overheating_hours_added", 0.0),
    ],
)
def test_sums_of_the_standard_house(result: Result, key: str, expected: float) -> None:
    assert result.summary["houses"]["standard"][key] == pytest.approx(expected, rel=1e-12)


def test_overheating_is_counted_where_venting_is_new(result: Result) -> None:
    low_energy = result.summary["houses"]["low_energy"]
    assert low_energy["overheating_hours_added"] == pytest.approx(2920.0)
    assert low_energy["vented_kwh"] == pytest.approx(146.0)


def test_the_sun_splits_into_what_the_ledger_names(result: Result) -> None:
    house = result.summary["houses"]["standard"]
    losses = [house[f"{part}_loss_kwh"] for part in ("cover", "back", "edge", "leak", "duct")]
    given = house["incident_kwh"] + house["fan_heat_kwh"]
    # duct loss comes after the collector outlet: collected holds it still in the invented year
    taken = house["reflected_kwh"] + sum(losses) + house["delivered_kwh"]
    assert given == pytest.approx(taken, rel=1e-12)


def test_the_months_add_up_to_the_year(result: Result) -> None:
    for house in result.summary["houses"].values():
        for key in house["months"][0]:
            total = sum(month[key] for month in house["months"])
            assert total == pytest.approx(house[key], rel=1e-9)


def test_january_has_31_days(result: Result) -> None:
    january = result.summary["houses"]["standard"]["months"][0]
    assert january["fan_hours"] == pytest.approx(31 * 8)


def test_degree_days_come_from_the_weather(result: Result) -> None:
    assert result.summary["weather"]["hdd18_kd"] == pytest.approx(3650.0)


def test_the_summary_is_strict_json(result: Result) -> None:
    text = json.dumps(result.summary, allow_nan=False)
    assert json.loads(text) == result.summary


def test_every_null_has_its_reason(result: Result) -> None:
    for path, parent, value in walk(result.summary):
        if value is None:
            assert parent[reason_key(path.rsplit("/", 1)[-1])], path
        assert not (isinstance(value, float) and not math.isfinite(value)), path


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, np.float64("nan")])
def test_no_number_that_is_not_one_gets_through(made_up: ModuleType, bad: float) -> None:
    money = {"fuel": {"price": bad}, "economics": {"npv": bad}, "co2_saved_kg": bad}
    summary = summarise(made_up.record(money={"standard": money}, closure={"collector": bad}))
    house = summary["houses"]["standard"]
    assert house["co2_saved_kg"] is None and house["co2_saved_reason"]
    assert house["economics"] == {"npv": None, "npv_reason": "no finite number came out"}
    assert summary["closure"]["collector"] is None
    json.dumps(summary, allow_nan=False)


def test_no_sun_and_no_need_give_null_with_a_reason(made_up: ModuleType) -> None:
    dark = {name: np.zeros_like(values) for name, values in made_up.hourly().items()}
    house = summarise(made_up.record(hourly=dark))["houses"]["standard"]
    for key in ("useful_share", "solar_fraction", "efficiency", "peak_supply_c"):
        assert house[key] is None
        assert house[reason_key(key)]


def test_a_negative_offset_is_shown_as_such(made_up: ModuleType) -> None:
    hourly = made_up.hourly()
    hourly["heating_with"] = hourly["heating_without"] + 10.0
    house = summarise(made_up.record(hourly=hourly))["houses"]["standard"]
    assert house["offset_kwh"] == pytest.approx(-87.6)


def test_the_worst_hour_is_told_in_local_time(made_up: ModuleType) -> None:
    limits = [{"part": "glass", "hour": "36"}, {"part": "pane", "hour": "design point"}]
    told = summarise(made_up.record(limits=limits))["limits"]
    assert [limit["hour"] for limit in told] == ["2001-01-02 12:00", "design point"]


def test_settle_keeps_whole_numbers_text_and_lists() -> None:
    value = {"a": 1, "b": "x", "c": [1.5, None], "d": True, "e": np.int64(3)}
    assert settle(value) == value


def test_a_reason_drops_the_unit_of_its_number() -> None:
    told = {"simple_payback_a": None, "simple_payback_a_reason": "no first cost is given"}
    assert settle(told) == {"simple_payback_a": None, "simple_payback_reason": "no first cost is given"}


def test_settle_keeps_a_reason_that_is_there() -> None:
    assert settle({"irr": None, "irr_reason": "no saving"}) == {"irr": None, "irr_reason": "no saving"}
