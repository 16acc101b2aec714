"""Heat lost along a duct against the formula, a long march and a general-purpose library."""

import math

import ht
import pytest

from simengine.air.properties import dynamic_viscosity, prandtl, thermal_conductivity
from simengine.airflow.duct import duct_loss, duct_transmission, inside_film
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.heat_transfer.conduction import duct_conductance


@pytest.mark.parametrize("units", [0.0, 1e-6, 0.1, 1.0, 7.0])
def test_transmission_is_the_exponential(units):
    assert duct_transmission(units * 50.0, 50.0) == pytest.approx(math.exp(-units), rel=2e-12)


def test_transmission_at_its_ends():
    assert duct_transmission(0.0, 50.0) == 1.0
    assert duct_transmission(4.0, 0.0) < 1e-26
    assert duct_transmission(4.0, -50.0) == duct_transmission(4.0, 50.0)


def test_two_halves_are_the_whole():
    half = duct_transmission(2.0, 50.0)
    assert half * half == pytest.approx(duct_transmission(4.0, 50.0), rel=1e-11)


def test_exponential_against_a_long_march():
    conductance, capacity, excess = 6.0, 40.0, 1.0
    for _ in range(20000):
        excess -= conductance / 20000 / capacity * excess
    assert duct_transmission(conductance, capacity) == pytest.approx(excess, rel=1e-5)


def test_fast_air_loses_as_a_duct_of_one_temperature():
    # 2 m of bare 6 in metal, 45 degC, -5 degC outside, films 8 and 10: 212.8 W +-0.2 % (derived) is the
    # limit of much flow
    conductance = duct_conductance(0.1524, 8.0, 0.0, 10.0) * 2.0
    capacity = 1e5
    heat = capacity * 50.0 * (1.0 - duct_transmission(conductance, capacity))
    assert heat == pytest.approx(212.8, rel=2e-3)


@pytest.mark.parametrize("flow", [0.03, 0.06, 0.15])
def test_inside_film_against_a_library(flow):
    # full Gnielinski with the smooth friction factor (ht): the short form for gases is within 10 %
    t, diameter = 318.15, 0.1524
    reynolds = 4.0 * flow / (math.pi * diameter * dynamic_viscosity(t))
    nusselt = ht.conv_internal.turbulent_Gnielinski_smooth_1(reynolds, prandtl(t))
    expected = nusselt * thermal_conductivity(t) / diameter
    assert inside_film(flow, diameter, t) == pytest.approx(expected, rel=0.10)


def test_inside_film_of_hardly_any_flow_is_that_of_a_long_tube():
    # Nu 3.66 (mathematics: Graetz, one wall temperature)
    assert inside_film(1e-6, 0.15, 300.0) * 0.15 / thermal_conductivity(300.0) == pytest.approx(
        3.66, rel=1e-9
    )


def test_more_insulation_never_loses_more():
    heats = [duct_loss(5.0, 0.1524, r, 0.05, 318.15, 268.15)[0] for r in (0.0, 0.74, 1.057, 2.1)]
    assert heats == sorted(heats, reverse=True)


def test_heat_lost_is_what_the_air_gives_up():
    heat, outlet = duct_loss(5.0, 0.1524, 0.74, 0.05, 318.15, 268.15)
    assert heat == pytest.approx(0.05 * SPECIFIC_HEAT_AIR * (318.15 - outlet), rel=1e-12)


def test_equal_temperatures_lose_nothing():
    assert duct_loss(5.0, 0.1524, 0.0, 0.05, 290.0, 290.0) == (0.0, 290.0)
