"""The slider's numbers: those of the summary at the price given, and straight lines from there."""

from types import ModuleType

import pytest

from simengine.report.price_curve import price_curve
from simengine.report.prices import prices
from simengine.results import Result

HOUSE = {
    "fuel": {
        "saved": 20.0,
        "price": 3.0,
        "net_saving": 55.0,
        "unit": "gal",
        "price_unit": "USD/gal",
        "currency": "USD",
    },
    "economics": {"first_cost": 1100.0},
}


def test_at_the_price_given_the_saving_is_the_summarys() -> None:
    curve = price_curve(HOUSE)
    assert curve is not None
    assert curve.net_saving(3.0) == pytest.approx(55.0)
    assert curve.payback(3.0) == pytest.approx(20.0)  # 1100 / 55
    assert curve.net_saving(6.0) == pytest.approx(115.0)  # 60 more for 20 gal at 3 more


@pytest.mark.parametrize("lacking", [("fuel", "price"), ("fuel", "saved"), ("economics", "first_cost")])
def test_without_price_or_cost_there_is_no_curve(lacking: tuple[str, str]) -> None:
    block, key = lacking
    assert price_curve({**HOUSE, block: {**HOUSE[block], key: None}}) is None


def test_no_curve_of_any_house_leaves_the_part_out() -> None:
    assert prices({"standard": {"fuel": {}, "economics": {}}}) is None


def test_a_house_that_saves_nothing_never_pays() -> None:
    worse = {**HOUSE, "fuel": {**HOUSE["fuel"], "saved": -1.0, "net_saving": -8.0}}
    part = prices({"standard": worse})
    assert part is not None
    assert part.houses[0].payback == "never" and set(part.rows[0][1]) == {"never"}


def test_the_middle_column_is_the_price_given(made_up: ModuleType) -> None:
    part = prices(Result.of(made_up.record()).summary["houses"])
    assert part is not None and part.given in part.heads
