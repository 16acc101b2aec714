"""Discount factors against printed tables and a finance library."""

import numpy as np
import numpy_financial as npf
import pytest

from simengine.economics import present_value as pv
from simengine.errors import RangeError


@pytest.mark.parametrize(
    ("rate", "years", "expected"),
    [
        # Printed present-value-of-annuity table (McGraw-Hill, 9th edition of a cost textbook), 0.01 %.
        (0.04, 20, 13.59),
        (0.08, 10, 6.71),
        (0.07, 20, 10.594),
        # From memory of the NIST Handbook 135 supplement, 0.01 %.
        (0.03, 20, 14.877),
    ],
)
def test_uniform_present_value_of_printed_tables(rate, years, expected):
    assert pv.present_value_of_series(rate, years) == pytest.approx(expected, rel=1e-4)


def test_single_factors():
    # ASTM E917 definitions: 3 %, 20 a: 1.8061 (derived) and 0.5537 (from memory), 0.01 %.
    assert pv.compound_amount(0.03, 20) == pytest.approx(1.8061, rel=1e-4)
    assert pv.present_value_of_one(0.03, 20) == pytest.approx(0.5537, rel=1e-4)


def test_capital_recovery():
    # Definition: 8 %, 10 a: 0.14903, 0.01 %.
    assert pv.capital_recovery(0.08, 10) == pytest.approx(0.14903, rel=1e-4)


def test_inflation_behind_published_rates():
    # US DOE, 2010-03-15 (published): real 3.0 %, nominal 4.0 %, inflation 0.97 +- 0.08 %.
    assert pv.real_rate(0.04, 0.03) == pytest.approx(0.0097, abs=8e-4)
    assert pv.real_rate(0.04, pv.real_rate(0.04, 0.03)) == pytest.approx(0.03)


@pytest.mark.parametrize("rate", [-0.02, 0.0, 1e-12, 0.03, 0.5])
@pytest.mark.parametrize("years", [1, 7, 40])
def test_series_is_the_sum_of_its_years(rate, years):
    # Mathematics.
    ones = [pv.present_value_of_one(rate, year) for year in range(1, years + 1)]
    assert pv.present_value_of_series(rate, years) == pytest.approx(sum(ones), rel=1e-9)


@pytest.mark.parametrize("rate", [-0.02, 0.03, 0.5])
@pytest.mark.parametrize("years", [1, 7, 40])
def test_series_and_recovery_of_a_finance_library(rate, years):
    # numpy-financial as the reference.
    assert pv.present_value_of_series(rate, years) == pytest.approx(-npf.pv(rate, years, 1.0), rel=1e-9)
    assert pv.capital_recovery(rate, years) == pytest.approx(-npf.pmt(rate, years, 1.0), rel=1e-9)


@pytest.mark.parametrize(("rate", "growth"), [(0.03, 0.02), (0.03, 0.03), (0.03, 0.06), (0.0, -0.01)])
def test_growing_series_is_the_sum_of_its_years(rate, growth):
    years = np.arange(1, 16)
    total = (((1.0 + growth) / (1.0 + rate)) ** years).sum()
    assert pv.present_value_of_series(rate, 15, growth) == pytest.approx(total, rel=1e-9)


def test_a_rate_that_loses_everything_is_refused():
    for call in (pv.compound_amount, pv.present_value_of_one):
        with pytest.raises(RangeError, match="accepted: above -1"):
            call(-1.0, 3)
