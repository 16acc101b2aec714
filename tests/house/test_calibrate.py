"""A house scaled to a fuel bill gives back a factor that is known."""

from dataclasses import replace

import pytest

from simengine.errors import InputError, RangeError
from simengine.house import calibrate as cal
from simengine.house.gains import house_gains
from simengine.house.network import network, steady_need
from simengine.house.presets import low_energy, standard
from simengine.house.spec import Leakage

HOUSE = standard(140.0)


@pytest.fixture(scope="module")
def annual_need(greensboro, hourly_house, reference_hourly_need):
    gains = house_gains(
        HOUSE, greensboro.hour_of_day, [greensboro.planes[window.azimuth] for window in HOUSE.windows]
    )

    def need(house):
        coded = hourly_house(
            house.opaque_conductance, house.window_conductance, house.ventilation_conductance
        )
        year = reference_hourly_need(coded, greensboro.temp_air, gains.solar, gains.internal, passes=1)
        return year.heating

    return need


@pytest.mark.parametrize("factor", [0.6, 1.35])
def test_known_factor_is_found_to_a_thousandth(factor, annual_need):
    # Mathematics: the bill is made with the factor, through the independent hourly method.
    need = annual_need(cal.scaled(HOUSE, factor))
    bill = cal.FuelBill(fuel_heat=need / 0.8 / 0.75, efficiency=0.8, hot_water_share=0.25)
    found = cal.calibrate(HOUSE, bill, annual_need)
    assert found.factor == pytest.approx(factor, rel=1e-3)
    assert found.need == pytest.approx(found.target, rel=1e-4)
    assert found.runs < 15


@pytest.mark.parametrize("factor", [0.06, 0.5, 1.0, 2.0, 9.0])
def test_known_factor_of_a_steady_need(factor):
    def need(house):
        return steady_need(network(house), 12.0) * 8.76

    found = cal.calibrate(HOUSE, cal.FuelBill(need(cal.scaled(HOUSE, factor)), 1.0), need)
    assert found.factor == pytest.approx(factor, rel=1e-3)


def test_hot_water_is_taken_off_the_bill():
    # Hand sum: 20,000 kWh x 0.8 x (1 - 0.2).
    assert cal.FuelBill(20_000.0, 0.8, 0.2).space_heat == pytest.approx(12_800.0)


def test_what_was_assumed_is_said():
    found = cal.calibrate(
        HOUSE, cal.FuelBill(20_000.0, 0.8, 0.2), lambda house: 50.0 * house.window_conductance
    )
    text = " ".join(found.assumptions)
    for word in ("hot water", "80%", "factor", "setpoints", "weather file"):
        assert word in text


def test_only_the_conductances_change():
    other = cal.scaled(HOUSE, 1.7)
    assert other.opaque_conductance == pytest.approx(1.7 * HOUSE.opaque_conductance)
    assert other.window_conductance == pytest.approx(1.7 * HOUSE.window_conductance)
    assert (other.windows, other.internal_gain, other.floor_area) == (
        HOUSE.windows,
        HOUSE.internal_gain,
        HOUSE.floor_area,
    )


@pytest.mark.parametrize("fuel", [1.0, 1e9])
def test_a_bill_no_such_house_can_have_is_refused_in_words(fuel):
    with pytest.raises(InputError, match=r"fuel bill: .* accepted: a bill that a factor from 0\.05 to 10"):
        cal.calibrate(HOUSE, cal.FuelBill(fuel, 0.8), lambda house: 100.0 * house.window_conductance)


@pytest.mark.parametrize("numbers", [(0.0, 0.8, 0.0), (1e4, 0.0, 0.0), (1e4, 0.8, 1.0), (1e4, 0.8, -0.1)])
def test_impossible_bills_are_refused(numbers):
    with pytest.raises(InputError, match="fuel bill"):
        cal.FuelBill(*numbers)


@pytest.mark.parametrize(
    ("function", "root"),
    [
        # Mathematics.
        (lambda x: x**3 - 8.0, 2.0),
        (lambda x: x - 0.5, 0.5),
        (lambda x: 1.0 - 1.0 / x, 1.0),
        (lambda x: x**9 - 1.0, 1.0),
    ],
)
def test_roots(function, root):
    found, value = cal.find_root(function, (0.1, function(0.1)), (5.0, function(5.0)), 1e-10)
    assert found == pytest.approx(root, abs=1e-6)
    assert abs(value) <= 1e-10


def test_a_root_at_the_end_costs_no_call():
    def never(_):
        raise AssertionError

    assert cal.find_root(never, (1.0, 0.0), (2.0, 3.0), 1e-9) == (1.0, 0.0)


def test_ends_of_one_sign_are_refused():
    with pytest.raises(RangeError, match="same sign"):
        cal.find_root(lambda x: x, (1.0, 1.0), (2.0, 2.0), 1e-9)


def test_leaks_and_recovered_air_scale_with_the_house():
    house = replace(low_energy(140.0), leakage=Leakage(0.01))
    double = cal.scaled(house, 2.0)
    assert double.leakage == Leakage(0.02)
    assert double.recovered_conductance == pytest.approx(2.0 * house.recovered_conductance)
