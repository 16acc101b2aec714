"""What has no number has words: zero price, nothing saved, a fan that eats it up, parts for nothing."""

import json
import math
from dataclasses import replace

import pytest

from simengine.economics import FuelUse, HeatSaved, Money, Part, bill_of_materials, money_ledger
from simengine.results.settle import settle

OIL = FuelUse("heating_oil", 0.80, price=3.63, price_date="2013-08-22")
POWER = FuelUse("electricity", 1.0, price=0.12)
MONEY = Money(600.0)

CASES = {
    "zero price": (
        HeatSaved(1000.0, 0.0),
        replace(OIL, price=0.0),
        MONEY,
        "the fuel that is saved costs nothing",
    ),
    "zero price, a fan": (
        HeatSaved(1000.0, 9.0),
        replace(OIL, price=0.0),
        MONEY,
        "the fuel that is saved costs",
    ),
    "zero saving": (HeatSaved(0.0, 0.0), OIL, MONEY, "no heating is saved"),
    "negative saving": (HeatSaved(-50.0, 9.0), OIL, MONEY, "costs the house more heat than it brings"),
    "a fan that eats it up": (HeatSaved(10.0, 90.0), OIL, MONEY, "electricity costs more than the fuel"),
    "parts for nothing, no saving": (HeatSaved(0.0, 0.0), OIL, Money(0.0), "no heating is saved"),
}


def walk(value, path=""):
    """Yield every leaf with its path."""
    if isinstance(value, dict):
        for key, item in value.items():
            yield from walk(item, f"{path}.{key}")
    elif isinstance(value, list):
        for item in value:
            yield from walk(item, path)
    else:
        yield path, value


@pytest.mark.parametrize("name", CASES)
def test_every_case_has_its_words_and_no_infinity(name):
    heat, use, money, words = CASES[name]
    ledger = money_ledger(heat, [use], POWER, money)
    assert ledger["economics"]["simple_payback_a"] is None
    assert words in ledger["economics"]["simple_payback_a_reason"]
    settled = settle(ledger)
    json.dumps(settled, allow_nan=False)
    assert words in settled["economics"]["simple_payback_reason"]
    assert all(math.isfinite(leaf) for _, leaf in walk(settled) if isinstance(leaf, float))
    for block in ("fuel", "economics"):
        for key, value in ledger[block].items():
            if value is None:
                assert ledger[block][f"{key}_reason"], key


def test_payback_beyond_life_is_a_number_with_a_word():
    economics = money_ledger(HeatSaved(100.0, 0.0), [OIL], POWER, MONEY)["economics"]
    assert economics["simple_payback_a"] > 20.0
    assert economics["simple_payback_note"] == "longer than the 20 years that are counted"
    assert economics["discounted_payback_a"] is None
    assert "20 years" in economics["discounted_payback_a_reason"]
    sooner = money_ledger(HeatSaved(5000.0, 0.0), [OIL], POWER, MONEY)["economics"]
    assert "simple_payback_note" not in sooner


def test_parts_for_nothing_pay_back_at_once_and_say_so():
    bill = bill_of_materials([Part("old window", 2.0, 0.0), Part("fan from the attic", 1.0, 0.0)])
    money = Money(bill.first_cost, parts=bill.parts)
    economics = money_ledger(HeatSaved(500.0, 5.0), [OIL], POWER, money)["economics"]
    assert (economics["first_cost"], economics["simple_payback_a"]) == (0.0, 0.0)
    assert economics["saving_to_investment"] is None and economics["irr"] is None
    assert any("cost nothing" in note for note in economics["notes"])
    assert [part["cost"] for part in economics["parts"]] == [0.0, 0.0]
    assert economics["payback_table"]["first_cost"] == [0.0]


def test_a_part_at_hand_is_named_and_one_without_a_price_leaves_the_cost_open():
    parts = [Part("pane", 2.0, 40.0), Part("old door", 1.0, 0.0)]
    bill = bill_of_materials(parts)
    notes = money_ledger(HeatSaved(500.0, 5.0), [OIL], POWER, Money(bill.first_cost, parts=bill.parts))
    assert "at hand and counted at nothing: old door" in notes["economics"]["notes"]
    open_ = bill_of_materials([*parts, Part("fan", 1.0, None)])
    money = Money(open_.first_cost, parts=open_.parts, first_cost_reason="; ".join(open_.notes))
    economics = money_ledger(HeatSaved(500.0, 5.0), [OIL], POWER, money)["economics"]
    assert economics["simple_payback_a"] is None
    assert economics["first_cost_reason"] == "no price is given for: fan"
    assert economics["payback_table"] is None and economics["payback_table_reason"]


def test_the_table_of_a_result_lies_round_its_own_price_and_cost():
    heat = HeatSaved(1050.0, 32.5)
    economics = money_ledger(heat, [OIL], POWER, MONEY)["economics"]
    table = economics["payback_table"]
    price, cost = table["price"].index(3.63), table["first_cost"].index(600.0)
    assert table["simple_payback_a"][price][cost] == pytest.approx(economics["simple_payback_a"])
    assert table["discounted_payback_a"][price][cost] == pytest.approx(economics["discounted_payback_a"])
    double = money_ledger(heat, [replace(OIL, price=2 * 3.63)], POWER, MONEY)["economics"]
    assert table["simple_payback_a"][-1][cost] == pytest.approx(double["simple_payback_a"])


@pytest.mark.parametrize(
    ("uses", "power", "money", "words"),
    [
        ([], POWER, MONEY, "no heater"),
        ([replace(OIL, price=None)], POWER, MONEY, "no fuel price"),
        ([OIL], POWER, Money(), "no first cost"),
        ([OIL], None, MONEY, "fan's electricity"),
    ],
)
def test_a_missing_table_has_a_reason(uses, power, money, words):
    economics = money_ledger(HeatSaved(1000.0, 9.0), uses, power, money)["economics"]
    assert economics["payback_table"] is None
    assert words in economics["payback_table_reason"]
