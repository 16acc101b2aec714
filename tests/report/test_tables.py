"""The screen: verdict first, one screen full, nothing that steers the terminal."""

from types import ModuleType

import pytest

from simengine.report.lines import LINES
from simengine.report.shown import Shown
from simengine.report.tables import WIDTH, columns, console
from simengine.report.verdict import verdict
from simengine.report.words import plain
from simengine.results import Result


@pytest.mark.parametrize("system", ["us", "si"])
def test_the_verdict_comes_first_and_the_rest_fits_a_screen(result: Result, system: str) -> None:
    units = Shown("us" if system == "us" else "si")
    lines = console(result.summary, units).splitlines()
    assert lines[0] == verdict(result.summary, units)
    assert len(lines) <= 45
    assert all(len(line) <= WIDTH for line in lines[1:])


def test_every_line_of_the_table_is_there(result: Result) -> None:
    text = console(result.summary, Shown("si"))
    assert all(line.label in text for line in LINES if line.always and line.screen)


def test_replaced_ventilation_is_told_where_there_is_some(made_up: ModuleType) -> None:
    hourly = made_up.hourly()
    hourly["ventilation_replaced"] = hourly["ventilation_replaced"] + 100.0
    fresh = Result.of(made_up.record(hourly=hourly)).summary
    assert "Own ventilation loss replaced" in console(fresh, Shown("si"))
    assert "Own ventilation loss replaced" not in console(Result.of(made_up.record()).summary, Shown("si"))


def test_a_missing_number_shows_its_reason(result: Result) -> None:
    text = console(result.summary, Shown("si"))
    assert "Simple payback (low-energy house): the saving never covers the first cost" in text


def test_it_can_be_written_in_ascii(result: Result) -> None:
    assert plain(console(result.summary, Shown("us"))).isascii()


def test_control_characters_of_a_file_do_not_reach_the_screen(made_up: ModuleType) -> None:
    weather = {"station": "a\x1b[2Jb", "warnings": ["c\rd\x1b]0;x\x07"] * 5}
    summary = Result.of(made_up.record(title="t\x1b[31m", weather=weather)).summary
    text = console(summary, Shown("us"))
    assert all(line.isprintable() for line in text.splitlines())
    assert "and 2 more about the weather file" in text


def test_a_third_house_has_its_own_column(made_up: ModuleType) -> None:
    year = made_up.hourly()
    own = {name: means[[0, 0, 1]] if means.ndim == 2 else means for name, means in year.items()}
    summary = Result.of(made_up.record(houses=("barn", "standard", "low_energy"), hourly=own)).summary
    assert "Barn" in console(summary, Shown("si"))


def test_columns_line_up() -> None:
    assert columns([["", "a"], ["label", "1000"]]) == ["          a", "label  1000"]


def test_what_this_case_asks_to_be_careful_about_is_on_the_screen(made_up: ModuleType) -> None:
    summary = Result.of(made_up.record(cautions=["The sheet is outside what was measured."])).summary
    assert "! The sheet is outside what was measured." in console(summary, Shown("si"))


def test_fuel_price_date_and_heating_value_are_said(result: Result) -> None:
    text = " ".join(console(result.summary, Shown("us")).split())
    assert "Fuel: heating oil at 3.5 USD/gal (2026-01); counted on the higher heating value" in text
