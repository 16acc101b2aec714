"""Every measure that members are compared by has a name in words, and its number a unit where it has one."""

import pytest

from simengine.report.lines import MISSING
from simengine.report.measures import measure_name, measure_text
from simengine.report.shown import Shown
from simengine.scenario.schema.combinations import MEASURES

BARE = {"saving_to_investment"}


@pytest.mark.parametrize("measure", MEASURES)
def test_it_is_told_in_words_and_with_its_unit(measure: str) -> None:
    assert measure_name(measure)[0].isupper() and "_" not in measure_name(measure)
    for system in ("si", "us"):
        number, _, unit = measure_text(measure, 12.5, "EUR", Shown(system)).partition(" ")
        assert float(number) > 0.0
        assert bool(unit) is (measure not in BARE)


def test_money_without_a_currency_and_a_number_that_is_missing() -> None:
    assert measure_text("first_cost", 900.0, "", Shown("si")) == "900"
    assert measure_text("first_cost", None, "EUR", Shown("si")) == MISSING
