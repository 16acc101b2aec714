"""Fill gases against the table they come from and a reference equation of state."""

import pytest
from CoolProp.CoolProp import PropsSI

from simengine.air.gases import GASES, REFERENCE_PRESSURE, gas_named
from simengine.errors import InputError


# EN 673, table of gas properties (from memory): temperature [degC], density, viscosity, conductivity.
# The last printed digit of the table bounds the tolerance; the straight line and the gas law 0.3 %.
@pytest.mark.parametrize(
    ("name", "celsius", "density", "viscosity", "conductivity"),
    [
        ("argon", -10.0, 1.829, 2.038e-5, 1.584e-2),
        ("argon", 0.0, 1.762, 2.101e-5, 1.634e-2),
        ("argon", 10.0, 1.699, 2.164e-5, 1.684e-2),
        ("argon", 20.0, 1.640, 2.228e-5, 1.734e-2),
        ("krypton", -10.0, 3.832, 2.260e-5, 0.842e-2),
        ("krypton", 0.0, 3.690, 2.330e-5, 0.870e-2),
        ("krypton", 10.0, 3.560, 2.400e-5, 0.900e-2),
        ("krypton", 20.0, 3.430, 2.470e-5, 0.926e-2),
        ("air", -10.0, 1.326, 1.661e-5, 2.336e-2),
        ("air", 10.0, 1.232, 1.761e-5, 2.496e-2),
        ("air", 20.0, 1.189, 1.811e-5, 2.576e-2),
    ],
)
def test_table_of_en_673(name, celsius, density, viscosity, conductivity):
    gas = gas_named(name)
    tolerance = 5e-3 if name != "air" else 1e-2  # air keeps its own relations
    temperature = celsius + 273.15
    assert gas.density(temperature, REFERENCE_PRESSURE) == pytest.approx(density, rel=tolerance)
    assert gas.dynamic_viscosity(temperature) == pytest.approx(viscosity, rel=tolerance)
    assert gas.thermal_conductivity(temperature) == pytest.approx(conductivity, rel=tolerance)


# CoolProp (Tegeler et al. 1999, Lemmon and Jacobsen 2004). Straight lines leave up to 2 %.
@pytest.mark.parametrize("temperature", [230.0, 270.0, 310.0, 350.0, 390.0, 430.0])
@pytest.mark.parametrize(("method", "quantity"), [("dynamic_viscosity", "V"), ("thermal_conductivity", "L")])
def test_argon_against_reference_equation_of_state(method, quantity, temperature):
    expected = PropsSI(quantity, "T", temperature, "P", 101325.0, "Argon")
    assert getattr(gas_named("argon"), method)(temperature) == pytest.approx(expected, rel=2e-2)


@pytest.mark.parametrize(("name", "reference"), [("argon", "Argon"), ("krypton", "Krypton"), ("air", "Air")])
@pytest.mark.parametrize("temperature", [240.0, 300.0, 380.0])
def test_density_against_reference_equation_of_state(name, reference, temperature):
    expected = PropsSI("D", "T", temperature, "P", 101325.0, reference)
    assert gas_named(name).density(temperature, 101325.0) == pytest.approx(expected, rel=5e-3)


@pytest.mark.parametrize("name", GASES)
def test_registry_name_is_the_name_of_the_gas(name):
    assert gas_named(name).name == name


def test_heavier_gas_conducts_less():
    conductivities = [gas_named(name).thermal_conductivity(290.0) for name in ("air", "argon", "krypton")]
    assert conductivities == sorted(conductivities, reverse=True)


def test_unknown_gas_is_named_with_what_is_accepted():
    with pytest.raises(InputError, match=r"neon.*accepted: air, argon, krypton"):
        gas_named("neon")
