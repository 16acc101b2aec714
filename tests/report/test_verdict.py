"""One sentence that holds the answer, whatever the year was like."""

import copy
from types import ModuleType
from typing import Any

import pytest

from simengine.report.shown import Shown
from simengine.report.verdict import verdict
from simengine.results import Result

SI = Shown("si")


def changed(result: Result, **values: Any) -> dict[str, Any]:
    """Return the summary with the standard house changed."""
    summary = copy.deepcopy(result.summary)
    summary["houses"]["standard"].update(values)
    return summary


def test_it_names_both_houses_and_what_is_too_hot(result: Result) -> None:
    line = verdict(result.summary, SI)
    assert line.startswith("Standard house saves 12.3 gal of heating oil (1752 kWh, 33 USD) a year")
    assert "low-energy house saves 12.3 gal of heating oil (438 kWh" in line
    assert line.endswith("Too hot with the fan off: polyiso board.")
    assert "\n" not in line


def test_a_collector_that_saves_nothing_is_called_so(result: Result) -> None:
    assert "saves no heating (-5 kWh a year)" in verdict(changed(result, offset_kwh=-5.0), SI)


def test_a_fan_that_eats_the_saving_is_called_so(result: Result) -> None:
    assert "the fan costs more" in verdict(changed(result, fuel={"net_saving": -1.0, "currency": "USD"}), SI)


@pytest.mark.parametrize("fuel", [None, {}, {"net_saving": None}])
def test_without_prices_it_speaks_of_heat_only(result: Result, fuel: Any) -> None:
    line = verdict(changed(result, fuel=fuel), SI)
    assert line.startswith("Standard house saves 1752 kWh of heating a year;")


def test_a_payback_past_the_life_is_called_so(result: Result) -> None:
    line = verdict(changed(result, economics={"simple_payback_a": 40.0, "years": 20}), SI)
    assert "not paid back within 20 years" in line


def test_nothing_too_hot_is_not_mentioned(made_up: ModuleType) -> None:
    assert "hot" not in verdict(Result.of(made_up.record(limits=[])).summary, SI)
