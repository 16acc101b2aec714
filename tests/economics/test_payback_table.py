"""Payback over ranges of fuel price and first cost."""

import json
import math

import pytest

from simengine.economics import FuelUse, HeatSaved, Money, payback_table

# The invented project of the money ledger's tests, at dated prices.
HEAT = HeatSaved(1050.0, 32.5)
OIL = FuelUse("heating_oil", 0.80)
POWER = FuelUse("electricity", 1.0, price=0.12)
MONEY = Money(first_cost=600.0, upkeep=10.0)


def test_table_of_payback():
    table = payback_table((HEAT, [OIL], POWER, MONEY), [0.0, 2.0, 4.0], [0.0, 300.0, 900.0])
    assert table["simple_payback_a"][0] == [None, None, None]
    assert table["simple_payback_a"][2][2] == pytest.approx(900.0 / (4.0 * 32.3353 - 3.9), rel=1e-4)
    for row in table["discounted_payback_a"][1:]:
        years = [math.inf if value is None else value for value in row]
        assert years == sorted(years)  # a higher first cost never pays back sooner
    for column in zip(*table["simple_payback_a"][1:], strict=True):
        assert column[0] >= column[1]  # a dearer fuel never pays back later
    json.dumps(table, allow_nan=False)


def test_axes_are_kept():
    table = payback_table((HEAT, [OIL], POWER, MONEY), [3.0], [100.0, 200.0])
    assert (table["price"], table["first_cost"]) == ([3.0], [100.0, 200.0])
