"""Heaters of every kind: standby, tariffs by month, own fuels, shares, rising prices; by hand sums."""

from dataclasses import replace

import numpy as np
import numpy_financial as npf
import pytest

from simengine.economics import FuelUse, HeatSaved, HourlyHeat, Line, Money, money_ledger
from simengine.economics.fuels import Fuel
from simengine.economics.savings import fan_running_cost, fuel_saved
from simengine.errors import InputError

OIL = FuelUse("heating_oil", 0.80, price=3.63, price_date="2013-08-22", name="boiler")
WOOD = FuelUse("firewood", 0.65, price=250.0, name="stove")
POWER = FuelUse("electricity", 1.0, price=0.12)
STRAW = Fuel("straw", "straw", "kg", 4.0, 0.9, 0.3, "invented", "2026-01-01", (("t", 1000.0),), True)


def hours(without, with_it, fan=None, month=None, outdoors=None):
    count = len(without)
    return HourlyHeat(
        np.array(without, float),
        np.array(with_it, float),
        np.zeros(count) if fan is None else np.array(fan, float),
        np.full(count, 273.15) if outdoors is None else np.array(outdoors, float),
        np.arange(count) % 24,
        month=None if month is None else np.array(month),
    )


def test_a_warm_boiler_saves_less_than_its_rating_says():
    # Hand sum: fuel = F (0.1 + 0.9 load), F = full load / 0.9; a kWh less of heat saves 0.9 / 0.9 = 1 kWh.
    warm = FuelUse("natural_gas", 0.9, idle_share=0.1)
    assert fuel_saved(HeatSaved(1000.0, 0.0), warm).fuel_kwh == pytest.approx(1000.0)
    by_hour = HeatSaved(3.0, 0.0, hours([2.0, 4.0], [1.0, 2.0]))
    priced = replace(warm, price_by_hour=(0.1,) * 24, unit="kWh")
    assert fuel_saved(by_hour, priced).fuel_kwh == pytest.approx(3.0)


def test_part_load_without_a_rating_takes_the_largest_need():
    # Hand sum: full load 4 kW; 2 kW (half) at 0.9 before, 1 kW (quarter) at 0.85 after.
    line = Line((0.0, 0.5, 1.0), (0.8, 0.9, 0.9))
    heat = HeatSaved(1.0, 0.0, hours([2.0, 4.0], [1.0, 4.0]))
    saved = fuel_saved(heat, FuelUse("natural_gas", 0.9, efficiency_by_load=line))
    assert saved.fuel_kwh == pytest.approx(2.0 / 0.9 - 1.0 / 0.85)


def test_a_tariff_of_months_and_hours():
    # Hand sum: 1 kWh at hour 0 of January at 0.30, 1 kWh at hour 1 of July at 0.05; the fan in both.
    prices = [0.10] * 288
    prices[0], prices[6 * 24 + 1] = 0.30, 0.05
    use = FuelUse("electricity", 1.0, price_by_hour=tuple(prices))
    heat = HeatSaved(2.0, 1.0, hours([1.0, 1.0], [0.0, 0.0], [0.5, 0.5], [0, 6]))
    assert fuel_saved(heat, use).money == pytest.approx(0.35)
    assert fan_running_cost(heat, use)[0] == pytest.approx(0.175)
    with pytest.raises(InputError, match="need the months"):
        fuel_saved(HeatSaved(1.0, 0.0, hours([1.0], [0.0])), use)


def test_a_heat_pump_on_a_tariff_is_valued_hour_by_hour():
    # Hand sum: 1 kWh at -5 degC (COP 2.25) and 0.40, 1 kWh at 5 degC (COP 3.25) and 0.10 per kWh.
    line = Line((263.15, 283.15), (1.75, 3.75))
    use = FuelUse("electricity", 1.0, price_by_hour=(0.40,) + (0.10,) * 23, cop_by_outdoor_temperature=line)
    saved = fuel_saved(HeatSaved(2.0, 0.0, hours([1, 1], [0, 0], outdoors=[268.15, 278.15])), use)
    assert saved.money == pytest.approx(0.40 / 2.25 + 0.10 / 3.25)
    assert saved.amount == pytest.approx(1 / 2.25 + 1 / 3.25)


def test_a_record_of_two_years_counts_as_one():
    year = hours([2.0, 3.0], [1.0, 1.0], [0.1, 0.1])
    twice = HourlyHeat(
        *(np.tile(getattr(year, name), 2) for name in ("heating_without", "heating_with", "fan")),
        np.tile(year.outdoor_temperature, 2),
        np.tile(year.hour_of_day, 2),
    )
    use = FuelUse("electricity", 1.0, price_by_hour=(0.4,) * 24, efficiency_by_load=Line((0.0,), (0.5,)))
    one = fuel_saved(HeatSaved(3.0, 0.2, year), use)
    two = fuel_saved(HeatSaved(3.0, 0.2, twice, years=2.0), use)
    assert (two.amount, two.money, two.heat_kwh) == pytest.approx((one.amount, one.money, one.heat_kwh))
    fans = [
        fan_running_cost(heat, use)[0]
        for heat in (HeatSaved(3, 0.2, year), HeatSaved(3, 0.2, twice, years=2))
    ]
    assert fans[0] == pytest.approx(fans[1])


def test_an_own_fuel_counts_like_one_of_the_table():
    # Hand sum: 720 kWh of heat at 60 % are 1200 kWh, 300 kg of 4 kWh; on the lower value 1/0.9 as much.
    use = FuelUse("straw", 0.60, price=80.0, unit="t", own_fuel=STRAW)
    saved = fuel_saved(HeatSaved(720.0, 0.0), use)
    assert (saved.amount, saved.money, saved.co2_kg) == pytest.approx((0.3, 24.0, 360.0))
    lower = fuel_saved(HeatSaved(720.0, 0.0), replace(use, basis="lower"))
    assert lower.amount == pytest.approx(0.3 / 0.9)


def test_the_main_fuel_is_that_of_the_largest_share():
    uses = [replace(OIL, share=0.3), replace(WOOD, share=0.7)]
    ledger = money_ledger(HeatSaved(1000.0, 10.0), uses, POWER, Money(600.0))
    assert ledger["fuel"]["name"] == ledger["fuels"][1]["name"]
    assert [block["heater"] for block in ledger["fuels"]] == ["boiler", "stove"]
    money = sum(block["money_saved"] for block in ledger["fuels"])
    assert ledger["fuel"]["money_saved"] == pytest.approx(money)
    assert ledger["fuel"]["net_saving"] == pytest.approx(money - 1.2)


def test_each_fuel_rises_at_its_own_rate():
    # Hand sums over two years at 0 %: oil 60 rising 10 %, electric heat 40 rising 5 %, fan 10 rising 5 %.
    oil = FuelUse("heating_oil", 1.0, price=0.12, unit="kWh", share=0.5)
    pump = FuelUse("electricity", 1.0, price=0.08, share=0.5)
    rates = {"fuel_escalation": 0.10, "electricity_escalation": 0.05, "discount_rate": 0.0}
    money = Money(100.0, study_period=2, life=2, **rates)
    flows = money_ledger(HeatSaved(1000.0, 100.0), [oil, pump], replace(POWER, price=0.10), money)
    years = flows["economics"]["cash_flows"]
    assert years == pytest.approx([-100.0, 66.0 + 42.0 - 10.5, 72.6 + 44.1 - 11.025])
    own = money_ledger(HeatSaved(1000.0, 0.0), [replace(oil, share=1.0, escalation=0.0)], POWER, money)
    assert own["economics"]["cash_flows"] == pytest.approx([-100.0, 120.0, 120.0])


@pytest.mark.parametrize("basis", ["real", "nominal"])
def test_present_value_and_rate_of_return_are_the_finance_libraries(basis):
    # numpy-financial as the reference, on the very flows that the ledger shows.
    rates = {"inflation": 0.02, "fuel_escalation": 0.04} if basis == "nominal" else {"fuel_escalation": 0.02}
    money = Money(900.0, upkeep=10.0, grant=100.0, fan_cost=80.0, basis=basis, discount_rate=0.05, **rates)
    uses = [replace(OIL, share=0.6), replace(WOOD, share=0.4)]
    economics = money_ledger(HeatSaved(1500.0, 40.0), uses, POWER, money)["economics"]
    assert economics["npv"] == pytest.approx(npf.npv(0.05, economics["cash_flows"]), abs=1e-9)
    assert economics["irr"] == pytest.approx(npf.irr(economics["cash_flows"]), abs=1e-9)
    assert npf.npv(economics["irr"], economics["cash_flows"]) == pytest.approx(0.0, abs=1e-6)


def test_at_the_break_even_price_of_the_main_fuel_the_present_value_is_zero():
    money = Money(900.0, fuel_escalation=0.03, electricity_escalation=0.01, upkeep=10.0)
    pump = FuelUse("electricity", 3.0, price=0.20, share=0.4)
    uses = [replace(OIL, share=0.6), pump]
    price = money_ledger(HeatSaved(1500.0, 40.0), uses, POWER, money)["economics"]["break_even_price"]
    at_it = [replace(OIL, share=0.6, price=price), pump]
    assert money_ledger(HeatSaved(1500.0, 40.0), at_it, POWER, money)["economics"]["npv"] == pytest.approx(
        0.0, abs=1e-8
    )
