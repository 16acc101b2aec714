"""Side by side: the same lines, a column a result, and a warning where results don't compare."""

import copy

from simengine.report.compare import side_by_side
from simengine.report.shown import Shown
from simengine.results import Result

SI = Shown("si")


def test_every_house_has_a_table_with_a_column_a_result(result: Result) -> None:
    text = side_by_side([("one", result.summary), ("two", result.summary)], SI)
    assert text.count("Heating saved") == 2
    line = next(line for line in text.splitlines() if "Heating saved" in line)
    assert line.split()[-4:] == ["1752", "kWh", "1752", "kWh"]


def test_a_house_that_one_result_lacks_is_left_blank(result: Result) -> None:
    other = copy.deepcopy(result.summary)
    other["houses"]["barn"] = other["houses"].pop("low_energy")
    text = side_by_side([("one", result.summary), ("two", other)], SI)
    assert "barn" in text.lower() and "–" in text


def test_different_weather_is_said(result: Result) -> None:
    other = copy.deepcopy(result.summary)
    other["weather"]["sha256"] = "e" * 64
    assert "different weather files" in side_by_side([("one", result.summary), ("two", other)], SI)
