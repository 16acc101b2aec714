"""Humid air against a reference equation of state and its own inverses."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from CoolProp.HumidAirProp import HAPropsSI
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.air.psychrometrics import (
    dew_point,
    dew_point_of_ratio,
    humidity_ratio,
    relative_humidity,
    saturation_pressure,
)


@pytest.mark.parametrize("celsius", [0.1, 10.0, 20.0, 30.0, 40.0, 50.0])
def test_saturation_pressure_against_iapws(celsius):
    # CoolProp (IAPWS-95); the Magnus form is held to 0.4 % over -40 to 50 degC
    expected = PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water")
    assert saturation_pressure(celsius + 273.15) == pytest.approx(expected, rel=4e-3)


def test_saturation_pressure_over_undercooled_water():
    # Murphy and Koop 2005 (from memory) at -20 degC: 125.4 Pa
    assert saturation_pressure(253.15) == pytest.approx(125.4, rel=4e-3)


# Below 0 degC the reference gives the frost point instead, so those pairs are left out.
@pytest.mark.parametrize(
    ("celsius", "humidity"), [(5.0, 0.8), (12.0, 0.5), (20.0, 0.5), (20.0, 0.9), (35.0, 0.2), (35.0, 0.9)]
)
def test_dew_point_against_reference(celsius, humidity):
    expected = HAPropsSI("D", "T", celsius + 273.15, "P", 101325.0, "R", humidity)
    assert dew_point(celsius + 273.15, humidity) == pytest.approx(expected, abs=0.1)


def test_humidity_ratio_against_reference():
    # CoolProp counts the enhancement factor, 0.5 %, that the simple form leaves out
    expected = HAPropsSI("W", "T", 293.15, "P", 90000.0, "R", 0.6)
    assert humidity_ratio(dew_point(293.15, 0.6), 90000.0) == pytest.approx(expected, rel=1e-2)


@settings(derandomize=True, deadline=None, max_examples=50)
@given(st.floats(235.0, 330.0), st.floats(0.01, 1.0))
def test_dew_point_and_humidity_are_inverse(temperature, humidity):
    dew = dew_point(temperature, humidity)
    assert relative_humidity(temperature, dew) == pytest.approx(humidity, rel=1e-9)
    assert dew_point_of_ratio(humidity_ratio(dew)) == pytest.approx(dew, abs=1e-6)
    assert dew <= temperature + 1e-9


def test_saturated_air_has_its_own_temperature_as_dew_point():
    assert dew_point(285.0, 1.0) == pytest.approx(285.0, abs=1e-9)  # definition


def test_air_without_vapour_stays_finite():
    assert np.isfinite(dew_point(np.array([250.0, 300.0]), np.array([0.0, 0.0]))).all()
