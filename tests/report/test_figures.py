"""Drawings are true to their numbers: steps add up, lengths keep proportion."""

import pytest

from simengine.report import figures
from simengine.results import Result


def test_the_steps_end_where_the_house_begins(result: Result) -> None:
    *_, last, delivered, _, _ = figures.ledger(result.summary["houses"]["standard"])
    assert last.start == pytest.approx(delivered.width)


def test_a_step_of_nothing_is_not_drawn(result: Result) -> None:
    house = result.summary["houses"]["standard"]
    label = "Into the house wall behind it"
    assert label in {bar.label for bar in figures.ledger(house)}
    assert label not in {bar.label for bar in figures.ledger({**house, "wall_heat_kwh": 0.0})}


def test_lengths_are_in_proportion(result: Result) -> None:
    house = result.summary["houses"]["standard"]
    bars = [bar for bar in figures.ledger(house) if bar.kwh]
    scales = [bar.width / abs(bar.kwh) for bar in bars]
    assert scales == pytest.approx([scales[0]] * len(scales))
    assert all(bar.start >= -1e-9 and bar.start + bar.width <= 100.0 + 1e-9 for bar in bars)


def test_what_came_in_is_parted_into_saved_and_spare(result: Result) -> None:
    house = result.summary["houses"]["low_energy"]
    *_, delivered, saved, spare = figures.ledger(house)
    assert saved.kwh + spare.kwh == pytest.approx(delivered.kwh)
    assert spare.start == pytest.approx(saved.start + saved.width)


@pytest.mark.parametrize("offset", [-100.0, 0.0])
def test_a_saving_below_zero_stays_in_the_drawing(result: Result, offset: float) -> None:
    house = {**result.summary["houses"]["standard"], "offset_kwh": offset}
    assert all(bar.start >= -1e-9 and bar.width >= 0.0 for bar in figures.ledger(house))


def test_months_stand_inside_the_drawing(result: Result) -> None:
    house = result.summary["houses"]["standard"]
    months = [dict(month) for month in house["months"]]
    months[6]["offset_kwh"] = -30.0
    for column in figures.months({**house, "months": months}, 360.0, 150.0):
        assert column.x >= 0.0 and column.x + column.width <= 360.0
        assert column.y >= -1e-9 and column.y + column.height <= 150.0 + 1e-9
