"""Air properties against a reference equation of state, the standard atmosphere and trade figures."""

import fluids
import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from simengine.air import properties
from simengine.constants import SPECIFIC_HEAT_AIR, STANDARD_AIR_DENSITY, STANDARD_PRESSURE

TEMPERATURES = np.linspace(240.0, 420.0, 10)


def _reference(quantity: str, temperature: float, pressure: float = STANDARD_PRESSURE) -> float:
    return PropsSI(quantity, "T", temperature, "P", pressure, "Air")


# Reference: CoolProp (Lemmon et al. 2000 and 2004). Tolerances: the ideal gas leaves 0.12 % at 240 K,
# Sutherland's law 1 %, the 1976 conductivity 1.5 % (at 420 K), and a constant c_p 1 %.
@pytest.mark.parametrize("temperature", TEMPERATURES)
@pytest.mark.parametrize(
    ("function", "quantity", "tolerance"),
    [
        (lambda t: properties.density(t, STANDARD_PRESSURE), "D", 1.5e-3),
        (properties.dynamic_viscosity, "V", 1.1e-2),
        (properties.thermal_conductivity, "L", 1.6e-2),
        (properties.prandtl, "PRANDTL", 3.0e-2),
        (lambda t: SPECIFIC_HEAT_AIR, "C", 1.2e-2),
    ],
    ids=["density", "viscosity", "conductivity", "prandtl", "specific heat"],
)
def test_reference_equation_of_state(function, quantity, tolerance, temperature):
    assert function(temperature) == pytest.approx(_reference(quantity, temperature), rel=tolerance)


@pytest.mark.parametrize("pressure", [70_000.0, 85_000.0, 101_325.0])
def test_density_at_altitude_matches_reference_equation_of_state(pressure):
    assert properties.density(280.0, pressure) == pytest.approx(_reference("D", 280.0, pressure), rel=1e-3)


def test_derived_properties_are_consistent():
    nu = properties.kinematic_viscosity(310.0, 9e4)
    alpha = properties.thermal_diffusivity(310.0, 9e4)
    assert nu / alpha == pytest.approx(properties.prandtl(310.0), rel=1e-12)  # definition


def test_density_of_dry_air_at_20_c():
    # ideal gas and CoolProp: 1.204 kg/m3 +-0.1 % (derived)
    assert properties.density(293.15, 101325.0) == pytest.approx(1.204, rel=1e-3)


def test_standard_air_of_the_fan_trade():
    # 0.075 lb/ft3 in SI: 1.2014 kg/m3 +-0.01 % (derived, unit identity)
    assert pytest.approx(0.075 * 0.45359237 / 0.3048**3, rel=1e-4) == STANDARD_AIR_DENSITY


# Density factor = pressure ratio of the standard atmosphere x 530/(460 + t in degF) (derived).
@pytest.mark.parametrize(("feet", "fahrenheit", "expected"), [(5000.0, 70.0, 0.832), (2000.0, 100.0, 0.880)])
def test_density_factor_of_the_fan_trade(feet, fahrenheit, expected):
    pressure = properties.pressure_at_elevation(feet * 0.3048)
    factor = pressure / STANDARD_PRESSURE * 530.0 / (460.0 + fahrenheit)
    assert factor == pytest.approx(expected, rel=4e-3)


@pytest.mark.parametrize("elevation", [-300.0, 0.0, 500.0, 1500.0, 3000.0, 9000.0])
def test_pressure_of_the_standard_atmosphere_1976(elevation):
    # oracle: fluids.ATMOSPHERE_1976, which counts geopotential height (0.1 % at 9 km)
    expected = fluids.ATMOSPHERE_1976(elevation).P
    assert properties.pressure_at_elevation(elevation) == pytest.approx(expected, rel=2e-3)


def test_rise_of_four_cfm_per_square_foot():
    # 4 cfm/ft2, 70 %, 900 W/m2: 17 to 30 K (from memory, a rule of the trade)
    flow = STANDARD_AIR_DENSITY * 4.0 * 0.3048 / 60.0
    assert 17.0 < 0.7 * 900.0 / (flow * SPECIFIC_HEAT_AIR) < 30.0


def test_useful_heat_of_a_slit_glazed_air_heater():
    # 27 K at 0.014 kg/s: between 300 and 1400 W (published, read)
    assert 300.0 < 0.014 * SPECIFIC_HEAT_AIR * 27.0 < 1400.0
