"""Inputs of the money side refuse what cannot be, in words."""

import pytest

from simengine.economics.spec import FuelUse, HeatSaved, Line, Money
from simengine.errors import InputError


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"efficiency": 0.0}, "efficiency 0 must be above zero"),
        ({"basis": "net"}, "accepted: higher, lower"),
        ({"share": 1.5}, "accepted: 0 to 1"),
        ({"efficiency": 80.0 * 100.0}, "0.8 is 80 %"),
        ({"price": -1.0}, "price must not be below zero"),
        ({"price": float("inf")}, "price must not be below zero"),
        ({"price": float("nan")}, "price must not be below zero"),
        ({"price_by_hour": (-0.1,) * 24}, "price must not be below zero"),
        ({"price_by_hour": (0.1,) * 23}, "24 values"),
        ({"efficiency_by_load": Line((0.0,), (0.9,)), "full_load": 0.0}, "full load"),
        ({"idle_share": 1.0}, "0 to below 1"),
        ({"price_by_hour": (0.1,) * 48}, "12 x 24"),
    ],
)
def test_fuel_use(arguments, said):
    with pytest.raises(InputError, match=said):
        FuelUse(**{"fuel": "heating_oil", "efficiency": 0.8, **arguments})


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"life": 0}, "life 0; accepted: whole years"),
        ({"study_period": 12.5}, "study_period 12.5; accepted: whole years"),
        ({"discount_rate": 3.0}, "discount_rate 3 a year; accepted: -0.5 to 1"),
        ({"discount_rate": float("nan")}, "discount_rate nan"),
        ({"first_cost": -1.0}, "first_cost must not be below zero"),
        ({"grant": float("nan")}, "grant must not be below zero"),
        ({"upkeep": float("inf")}, "upkeep must not be below zero"),
        ({"residual_value": float("nan")}, "residual_value must be a finite sum"),
        ({"basis": "true"}, "accepted: real, nominal"),
        ({"inflation": 0.02}, "nominal basis only"),
        ({"replacements": ((0, 5.0),)}, "replacements"),
    ],
)
def test_money(arguments, said):
    with pytest.raises(InputError, match=said):
        Money(**arguments)


@pytest.mark.parametrize(
    ("x", "y"), [((), ()), ((1.0, 0.0), (1.0, 1.0)), ((0.0,), (1.0, 2.0)), ((0.0, 1.0), (1.0, 0.0))]
)
def test_line(x, y):
    with pytest.raises(InputError, match="line"):
        Line(x, y)


@pytest.mark.parametrize("value", [float("nan"), float("inf")])
def test_heat_saved(value):
    with pytest.raises(InputError, match="finite"):
        HeatSaved(value, 0.0)


def test_line_is_held_at_its_ends():
    line = Line((0.0, 10.0), (2.0, 4.0))
    assert line.at([-5.0, 5.0, 50.0]).tolist() == [2.0, 3.0, 4.0]
