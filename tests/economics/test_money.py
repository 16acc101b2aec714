"""The money ledger: the invented project, every case that has no answer, and laws."""

import json
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.economics.fuels import FUELS
from simengine.economics.money import FuelUse, HeatSaved, HourlyHeat, Money, money_ledger
from simengine.economics.present_value import real_rate
from simengine.errors import InputError

# An invented project at dated prices: oil 3.63 $/gal and electricity 0.12 $/kWh, EIA, winter 2013-14.
HEAT = HeatSaved(1050.0, 32.5)
OIL = FuelUse("heating_oil", 0.80, price=3.63, price_date="2013-08-22", price_place="US mean")
POWER = FuelUse("electricity", 1.0, price=0.12)
MONEY = Money(first_cost=600.0, upkeep=10.0)

FUEL_NAMES = ("name", "saved", "unit", "basis", "price", "price_unit", "price_date")
FUEL_NAMES += ("money_saved", "fan_cost", "net_saving", "currency")
ECONOMICS_NAMES = ("first_cost", "simple_payback_a", "discounted_payback_a", "npv", "saving_to_investment")
ECONOMICS_NAMES += ("irr", "levelised_heat_cost", "break_even_price")


def check_whole(part, names):
    """Every name is there, and None has its reason."""
    for name in names:
        assert name in part
    for name, value in part.items():
        if value is None:
            assert part[f"{name}_reason"], name
    json.dumps(part, allow_nan=False)


def check_ledger(ledger):
    check_whole(ledger["fuel"], FUEL_NAMES)
    check_whole(ledger["economics"], ECONOMICS_NAMES)
    assert ledger["co2_saved_kg"] is not None or ledger["co2_saved_kg_reason"]
    json.dumps(ledger, allow_nan=False)


def test_the_invented_project():
    ledger = money_ledger(HEAT, [OIL], POWER, MONEY)
    check_ledger(ledger)
    fuel, economics = ledger["fuel"], ledger["economics"]
    # Definitions; tolerances 0.1, 0.2, 0.3 and 0.5 %.
    assert fuel["saved"] == pytest.approx(32.33, rel=1e-3)
    assert fuel["net_saving"] == pytest.approx(113.5, rel=2e-3)
    assert economics["simple_payback_a"] == pytest.approx(5.29, rel=3e-3)
    assert economics["npv"] == pytest.approx(939.0, rel=5e-3)
    assert (fuel["unit"], fuel["basis"], fuel["price_unit"]) == ("gal", "higher", "USD/gal")
    assert economics["simple_payback_after_upkeep_a"] == pytest.approx(600.0 / 103.477, rel=1e-4)
    # 40 CFR 98 table C-1 (published) 73.96 kg/MMBtu; grid 0.366 kg/kWh (EIA, 2023).
    assert ledger["co2_saved_kg"] == pytest.approx(1050.0 / 0.8 * 0.25236 - 32.5 * 0.36622, rel=1e-3)


def test_saving_to_investment_of_a_worked_example():
    # NIST Handbook 135 definition: 10,000, 2,500 a year, 6 a, 8 %: 1.1557, 0.1 %.
    heat = HeatSaved(2500.0, 0.0)
    money = Money(first_cost=10_000.0, study_period=6, life=6, discount_rate=0.08)
    economics = money_ledger(heat, [FuelUse("electricity", 1.0, price=1.0)], POWER, money)["economics"]
    assert economics["saving_to_investment"] == pytest.approx(1.1557, rel=1e-3)


def test_discounted_payback_of_a_worked_example():
    # Definition: 25,000, 15,000 a year, 18 %: 2.166 a, 0.1 %.
    money = Money(first_cost=25_000.0, discount_rate=0.18)
    ledger = money_ledger(HeatSaved(15_000.0, 0.0), [FuelUse("electricity", 1.0, price=1.0)], POWER, money)
    assert ledger["economics"]["discounted_payback_a"] == pytest.approx(2.166, rel=1e-3)


def test_at_the_break_even_price_the_present_value_is_zero():
    money = replace(MONEY, fuel_escalation=0.02, fan_cost=70.0, fan_life=8, electricity_escalation=0.01)
    price = money_ledger(HEAT, [OIL], POWER, money)["economics"]["break_even_price"]
    economics = money_ledger(HEAT, [replace(OIL, price=price)], POWER, money)["economics"]
    assert economics["npv"] == pytest.approx(0.0, abs=1e-8)
    assert economics["irr"] == pytest.approx(money.discount_rate)
    assert economics["saving_to_investment"] == pytest.approx(1.0)
    assert economics["discounted_payback_a"] == pytest.approx(20.0)


def test_levelised_cost_is_the_break_even_price_of_heat():
    # Algebra: with no fuel escalation, what the fuel may cost a kWh of useful heat is the levelised cost.
    economics = money_ledger(HEAT, [OIL], POWER, MONEY)["economics"]
    gallon = FUELS["heating_oil"].heat_content * 0.80
    assert economics["break_even_price"] / gallon == pytest.approx(economics["levelised_heat_cost"])


def test_break_even_price_needs_no_price():
    known = money_ledger(HEAT, [OIL], POWER, MONEY)["economics"]
    unknown = money_ledger(HEAT, [replace(OIL, price=None)], POWER, MONEY)["economics"]
    check_whole(unknown, ECONOMICS_NAMES)
    assert unknown["break_even_price"] == pytest.approx(known["break_even_price"])
    assert unknown["simple_payback_a"] is None
    assert unknown["simple_payback_a_reason"] == "no fuel price is given"


def test_parts_that_cost_nothing():
    economics = money_ledger(HEAT, [OIL], POWER, Money(first_cost=0.0))["economics"]
    check_whole(economics, ECONOMICS_NAMES)
    assert economics["simple_payback_a"] == economics["discounted_payback_a"] == 0.0
    assert economics["irr"] is None
    assert economics["saving_to_investment"] is None
    assert "the parts cost nothing" in economics["notes"][0]


@pytest.mark.parametrize(
    ("heat", "uses", "power", "money", "name", "said"),
    [
        (HEAT, [OIL], POWER, Money(), "simple_payback_a", "no first cost"),
        (HEAT, [replace(OIL, price=0.0)], POWER, MONEY, "simple_payback_a", "less than nothing"),
        (HeatSaved(0.0, 0.0), [OIL], POWER, MONEY, "simple_payback_a", "saves nothing"),
        (HeatSaved(0.0, 0.0), [OIL], POWER, MONEY, "levelised_heat_cost", "no heat is offset"),
        (HeatSaved(-50.0, 9.0), [OIL], POWER, MONEY, "break_even_price", "no fuel is saved"),
        (HeatSaved(-50.0, 9.0), [OIL], POWER, MONEY, "irr", "no year brings money back"),
        (HeatSaved(-50.0, 9.0), [OIL], POWER, Money(first_cost=0.0), "discounted_payback_a", "nothing is"),
        (HEAT, [OIL], FuelUse("electricity", 1.0), MONEY, "npv", "fan's electricity"),
        (HEAT, [OIL], POWER, replace(MONEY, first_cost=9e4), "discounted_payback_a", "below the costs"),
    ],
)
def test_what_has_no_answer_has_a_reason(heat, uses, power, money, name, said):
    ledger = money_ledger(heat, uses, power, money)
    check_ledger(ledger)
    assert ledger["economics"][name] is None
    assert said in ledger["economics"][f"{name}_reason"]


@pytest.mark.parametrize(("power", "money"), [(None, None), (POWER, None), (None, MONEY), (POWER, MONEY)])
@pytest.mark.parametrize("uses", [[], [OIL], [replace(OIL, price=None)]])
def test_whatever_is_left_out_the_ledger_is_whole(uses, power, money):
    ledger = money_ledger(HEAT, uses, power, money)
    check_ledger(ledger)
    if not uses:
        assert ledger["fuel"]["saved_reason"] == "no heater with its fuel is given"
        assert ledger["co2_saved_kg"] is None


def test_a_currency_counts_only_where_there_is_a_sum():
    euro = replace(OIL, currency="EUR")
    assert money_ledger(HEAT, [euro])["fuel"]["currency"] == "EUR"
    unpriced = [replace(OIL, price=None)]
    assert money_ledger(HEAT, unpriced, None, replace(MONEY, currency="EUR"))["fuel"]["currency"] == "EUR"


def test_a_grant_above_the_cost():
    economics = money_ledger(HEAT, [OIL], POWER, Money(first_cost=500.0, grant=900.0))["economics"]
    check_whole(economics, ECONOMICS_NAMES)
    assert economics["simple_payback_a"] == 0.0
    assert "at any fuel price" in economics["break_even_price_reason"]


def test_dip_below_zero_is_shown_with_both_crossings():
    money = Money(first_cost=600.0, fan_life=7, fan_cost=300.0, discount_rate=0.0, study_period=15)
    economics = money_ledger(HEAT, [OIL], POWER, money)["economics"]
    assert economics["discounted_payback_first_a"] == pytest.approx(600.0 / 113.477, rel=1e-4)
    # Hand sum: 7 x 113.477 - 900 = -105.7 after the new fan, made up within the eighth year.
    assert economics["discounted_payback_a"] == pytest.approx(7.0 + 105.66 / 113.477, rel=1e-4)


def test_a_missing_date_has_a_reason():
    ledger = money_ledger(HEAT, [replace(OIL, price_date="", invented=True)], POWER, MONEY)
    check_ledger(ledger)
    assert ledger["fuel"]["price_date"] is None
    assert ledger["fuel"]["price_invented"] is True
    assert "the fuel price is invented for an example" in ledger["economics"]["notes"]


def test_several_fuels():
    wood = FuelUse("firewood", 0.65, price=250.0, share=0.4)
    ledger = money_ledger(HEAT, [replace(OIL, share=0.6), wood], POWER, MONEY)
    check_ledger(ledger)
    alone = money_ledger(HEAT, [OIL], POWER, MONEY)
    parts = ledger["fuels"]
    assert [part["share"] for part in parts] == [0.6, 0.4]
    assert ledger["fuel"]["name"] == parts[0]["name"] == alone["fuel"]["name"]  # the main one
    assert parts[0]["saved"] == pytest.approx(0.6 * alone["fuel"]["saved"])
    assert ledger["fuel"]["money_saved"] == pytest.approx(sum(part["money_saved"] for part in parts))
    assert "regrows" in ledger["co2_saved_kg_note"]
    # The break-even price is that of the main fuel, the others held.
    price = ledger["economics"]["break_even_price"]
    uses = [replace(OIL, share=0.6, price=price), wood]
    assert money_ledger(HEAT, uses, POWER, MONEY)["economics"]["npv"] == pytest.approx(0.0, abs=1e-8)


def test_district_heat_has_no_emission_factor_of_its_own():
    ledger = money_ledger(HEAT, [FuelUse("district_heat", 1.0, price=0.1)], POWER, MONEY)
    assert ledger["co2_saved_kg"] is None
    assert "emission factor" in ledger["co2_saved_kg_reason"]


def test_a_tariff_by_the_hour_goes_through():
    flat = np.full(24, 1050.0 / 24.0)
    hours = HourlyHeat(2.0 * flat, flat, np.full(24, 32.5 / 24.0), np.full(24, 280.0), np.arange(24))
    heat = HeatSaved(1050.0, 32.5, hours)
    tariff = tuple(0.08 if hour < 12 else 0.16 for hour in range(24))
    by_hour = FuelUse("electricity", 1.0, price_by_hour=tariff)
    mean = money_ledger(HEAT, [POWER], POWER, MONEY)
    ledger = money_ledger(heat, [by_hour], by_hour, MONEY)
    check_ledger(ledger)
    assert ledger["fuel"]["price"] == pytest.approx(0.12)
    assert ledger["economics"]["npv"] == pytest.approx(mean["economics"]["npv"])


def test_shown_efficiency_is_that_of_the_heat_saved():
    assert money_ledger(HEAT, [OIL])["fuel"]["efficiency"] == pytest.approx(0.80)
    assert money_ledger(HeatSaved(0.0, 0.0), [OIL])["fuel"]["efficiency"] == 0.80


def test_real_and_nominal_agree():
    # ASTM E917: the same project in real and in nominal money has one present value.
    inflation = real_rate(0.0506, 0.03)
    nominal = Money(600.0, discount_rate=0.0506, basis="nominal", inflation=inflation, upkeep=10.0)
    nominal = replace(nominal, fuel_escalation=inflation, electricity_escalation=inflation)
    values = [money_ledger(HEAT, [OIL], POWER, money)["economics"]["npv"] for money in (MONEY, nominal)]
    assert values[0] == pytest.approx(values[1])


@pytest.mark.parametrize(
    ("uses", "power", "money", "said"),
    [
        ([replace(OIL, share=0.5)], POWER, MONEY, "shares sum to 0.5; accepted: 1"),
        ([OIL], replace(POWER, currency="EUR"), MONEY, r"several currencies \(USD, EUR\)"),
        ([replace(OIL, currency="EUR")], POWER, MONEY, r"several currencies \(EUR, USD\)"),
        ([OIL], OIL, MONEY, "accepted: electricity"),
        ([replace(OIL, fuel="peat")], POWER, MONEY, "not in the table"),
        ([replace(OIL, unit="cord")], POWER, MONEY, "unit 'cord'"),
    ],
)
def test_what_cannot_be_is_refused(uses, power, money, said):
    with pytest.raises(InputError, match=said):
        money_ledger(HEAT, uses, power, money)


@settings(derandomize=True, deadline=None, max_examples=50)
@given(
    offset=st.floats(-1e4, 1e4),
    fan=st.floats(0.0, 500.0),
    price=st.one_of(st.none(), st.floats(0.0, 20.0)),
    cost=st.one_of(st.none(), st.floats(0.0, 1e5)),
    rate=st.floats(-0.05, 0.3),
    fuel=st.sampled_from(sorted(FUELS)),
)
def test_every_ledger_is_whole(offset, fan, price, cost, rate, fuel):
    money = Money(first_cost=cost, discount_rate=rate, upkeep=5.0, fan_cost=80.0)
    check_ledger(money_ledger(HeatSaved(offset, fan), [FuelUse(fuel, 0.8, price=price)], POWER, money))
