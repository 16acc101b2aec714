"""Fuel, money and CO2 from saved heat, by the year and by the hour."""

from dataclasses import replace

import numpy as np
import pytest

from simengine.economics.fuels import FUELS, heat_per_unit
from simengine.economics.savings import fan_running_cost, fuel_saved, part_load_fuel
from simengine.economics.spec import FuelUse, HeatSaved, HourlyHeat, Line
from simengine.errors import InputError

OIL = FuelUse("heating_oil", 0.80, price=3.63)
HOURS = HourlyHeat(
    heating_without=np.array([4.0, 2.0, 1.0, 0.0]),
    heating_with=np.array([4.0, 1.0, 0.0, 0.0]),
    fan=np.array([0.0, 0.05, 0.05, 0.0]),
    outdoor_temperature=np.array([263.15, 273.15, 283.15, 293.15]),
    hour_of_day=np.array([7, 8, 12, 20]),
)
DAY = HeatSaved(2.0, 0.1, HOURS)


def test_the_invented_project():
    # Definition, invented project: 1,050 kWh of useful heat, oil of 138,500 Btu/gal at 80 %: 32.33 gal,
    # 0.1 %; at 3.63 $/gal (EIA, winter 2013-14, published) less a 25 W fan for 1,300 h at 0.12 $/kWh:
    # 113.5 $, 0.2 %.
    heat = HeatSaved(1050.0, 25.0 * 1300.0 / 1000.0)
    saved = fuel_saved(heat, OIL)
    cost, _ = fan_running_cost(heat, FuelUse("electricity", 1.0, price=0.12))
    assert saved.amount == pytest.approx(32.33, rel=1e-3)
    assert saved.money - cost == pytest.approx(113.5, rel=2e-3)


def test_a_better_furnace():
    # Efficiency ratio (published example): $1200 a year at 55 % is $805 at 82 %, 0.1 %.
    heat = HeatSaved(1000.0, 0.0)
    old, new = (fuel_saved(heat, FuelUse("natural_gas", share, price=1.0)).money for share in (0.55, 0.82))
    assert 1200.0 * new / old == pytest.approx(805.0, rel=1e-3)


def test_efficiency_on_the_lower_value_burns_the_same_fuel():
    # Identity: 90 % on the lower value is 90 % x lower/higher on the higher one.
    heat, ratio = HeatSaved(1000.0, 0.0), FUELS["natural_gas"].lower_to_higher
    lower = fuel_saved(heat, FuelUse("natural_gas", 0.90, basis="lower"))
    higher = fuel_saved(heat, FuelUse("natural_gas", 0.90 * ratio))
    assert lower.amount == pytest.approx(higher.amount)
    assert lower.co2_kg == pytest.approx(higher.co2_kg)
    assert lower.fuel_kwh == pytest.approx(1000.0 / 0.90)


@pytest.mark.parametrize("key", FUELS)
def test_every_fuel_and_unit_saves_the_same_heat(key):
    for unit in FUELS[key].units():
        saved = fuel_saved(HeatSaved(1000.0, 0.0), FuelUse(key, 0.8, price=0.0, unit=unit))
        assert saved.amount * heat_per_unit(FUELS[key], unit) == pytest.approx(1250.0)
        assert saved.money == 0.0
        factor = FUELS[key].emission_factor
        assert saved.co2_kg == (None if factor is None else pytest.approx(1250.0 * factor))


def test_own_emission_factor_comes_first():
    saved = fuel_saved(HeatSaved(100.0, 0.0), FuelUse("district_heat", 1.0, emission_factor=0.05))
    assert saved.co2_kg == pytest.approx(5.0)


def test_negative_offset_burns_more():
    saved = fuel_saved(HeatSaved(-100.0, 0.0), OIL)
    assert saved.amount < 0.0
    assert saved.money < 0.0
    assert saved.co2_kg < 0.0


def test_shares_split_the_heat():
    parts = [fuel_saved(DAY, replace(OIL, share=share)) for share in (0.25, 0.75)]
    assert sum(part.heat_kwh for part in parts) == pytest.approx(2.0)
    assert parts[1].amount == pytest.approx(3.0 * parts[0].amount)


def test_heat_pump_by_the_hour():
    # Hand sum: 1 kWh at 0 degC with COP 2.5 and 1 kWh at 10 degC with COP 3.5.
    line = Line((263.15, 283.15), (1.5, 3.5))
    pump = FuelUse("electricity", 3.0, price=0.20, cop_by_outdoor_temperature=line)
    saved = fuel_saved(DAY, pump)
    assert saved.amount == pytest.approx(1.0 / 2.5 + 1.0 / 3.5)
    assert saved.money == pytest.approx(0.20 * saved.amount)


def test_flat_lines_give_the_yearly_sum():
    flat = [
        FuelUse("electricity", 2.5, price=0.2),
        FuelUse("electricity", 9.0, price=0.2, cop_by_outdoor_temperature=Line((273.15,), (2.5,))),
        FuelUse("electricity", 2.5, price_by_hour=(0.2,) * 24),
        FuelUse(
            "electricity", 9.0, price=0.2, efficiency_by_load=Line((0.0, 1.0), (2.5, 2.5)), full_load=9e3
        ),
    ]
    for use in flat:
        saved = fuel_saved(DAY, use)
        assert saved.amount == pytest.approx(2.0 / 2.5)
        assert saved.money == pytest.approx(0.2 * 2.0 / 2.5)
        assert saved.price_per_unit == pytest.approx(0.2)


def test_time_of_use_tariff():
    # Hand sum: 1 kWh saved in hour 8 at 0.40 and 1 kWh in hour 12 at 0.10; the fan the same hours.
    tariff = tuple(0.40 if hour < 10 else 0.10 for hour in range(24))
    use = FuelUse("electricity", 1.0, price_by_hour=tariff)
    saved = fuel_saved(DAY, use)
    assert saved.money == pytest.approx(0.50)
    assert saved.price_per_unit == pytest.approx(0.25)
    cost, _ = fan_running_cost(DAY, use)
    assert cost == pytest.approx(0.05 * 0.50)


def test_part_load_efficiency():
    # Hand sum: full load 4 kW; 2 kW (half) at 0.9 and 1 kW (quarter) at 0.85, falling to 1 kW and nothing.
    line = Line((0.0, 0.5, 1.0), (0.8, 0.9, 0.8))
    use = FuelUse("natural_gas", 0.5, unit="kWh", efficiency_by_load=line, full_load=4000.0)
    expected = (2.0 / 0.9 - 1.0 / 0.85) + (1.0 / 0.85 - 0.0)
    assert fuel_saved(DAY, use).amount == pytest.approx(expected)
    burnt = part_load_fuel(np.array([4000.0, 2000.0, 0.0]), 4000.0, use)
    assert burnt == pytest.approx([5000.0, 2000.0 / 0.9, 0.0])


def test_interval_length_only_matters_to_the_load():
    quarter = replace(HOURS, interval=900.0)
    line = Line((0.0, 0.5, 1.0), (0.8, 0.9, 0.8))
    use = FuelUse("natural_gas", 0.5, unit="kWh", efficiency_by_load=line, full_load=16_000.0)
    slow = fuel_saved(DAY, replace(use, full_load=4000.0))
    assert fuel_saved(HeatSaved(2.0, 0.1, quarter), use).amount == pytest.approx(slow.amount)


@pytest.mark.parametrize(
    "use",
    [
        FuelUse("electricity", 1.0, price_by_hour=(0.1,) * 24),
        FuelUse("electricity", 1.0, cop_by_outdoor_temperature=Line((273.15,), (3.0,))),
    ],
)
def test_hourly_prices_need_hours(use):
    with pytest.raises(InputError, match="needs the hourly heat"):
        fuel_saved(HeatSaved(100.0, 1.0), use)


def test_no_price_no_money():
    saved = fuel_saved(HeatSaved(100.0, 0.0), FuelUse("propane", 0.9))
    assert saved.money is None
    assert saved.price_per_unit is None
    assert fan_running_cost(HeatSaved(1.0, 0.0), FuelUse("electricity", 1.0))[0] == 0.0
    assert fan_running_cost(HeatSaved(1.0, 5.0), FuelUse("electricity", 1.0))[0] is None


def test_part_load_without_a_line_is_refused():
    with pytest.raises(InputError, match="no efficiency by load"):
        part_load_fuel(np.array([1.0]), 1.0, OIL)
