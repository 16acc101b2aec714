"""Years side by side, told from an invented summary of round numbers."""

from typing import Any

import pytest

from simengine.report.shown import Shown
from simengine.report.weather_years import years_block, years_note, years_rows, years_title
from simengine.results import Result

SI = Shown("si")


def with_years(result: Result, weathers: int) -> dict[str, Any]:
    """Return the summary with three invented years: 100, 200 and 300 kWh saved."""
    rows = [
        {
            "weather": "Town <b>one</b> with a very long name indeed",
            "year": 2019 + number,
            "hdd18_kd": 2000.0,
            "houses": {"standard": {"offset_kwh": 100.0 * (number + 1)}},
        }
        for number in range(3)
    ]
    spread = {"standard": {"offset_kwh": {"min": 100.0, "mean": 200.0, "max": 300.0}}}
    block = {"told_in_full": "Town", "weathers": weathers, "rows": rows, "spread": spread}
    return {**result.summary, "weather_years": block}


def test_the_title_says_least_most_and_mean(result: Result) -> None:
    title = years_title(with_years(result, 3), SI)
    assert title == "Heating saved over 3 weather years: standard house 100 kWh to 300 kWh, mean 200 kWh"


def test_the_table_has_a_row_a_year_and_three_for_the_spread(result: Result) -> None:
    rows = years_rows(with_years(result, 3), SI)
    assert len(rows) == 1 + 3 + 3
    assert [row[0] for row in rows[-3:]] == ["least", "mean", "most"]
    assert rows[2][1:] == ["2020", "2000 K d", "200 kWh"]


@pytest.mark.parametrize(
    ("weathers", "words"), [(3, "first weather alone: Town"), (1, "mean of these years")]
)
def test_it_says_what_the_rest_is_told_for(result: Result, weathers: int, words: str) -> None:
    assert words in years_note(with_years(result, weathers))


def test_one_year_has_no_block(result: Result) -> None:
    assert years_block(result.summary) is None
    assert years_rows(result.summary, SI) == [] and years_title(result.summary, SI) == ""
    assert years_note(result.summary) == ""
