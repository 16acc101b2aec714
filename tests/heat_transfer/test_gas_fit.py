"""The fitted gas properties against the relations that they stand for."""

import numpy as np
import pytest

from simengine.air.gases import GASES, gas_named
from simengine.constants import GRAVITY
from simengine.heat_transfer.gas_fit import COLDEST, HOTTEST, gas_conductivity, gas_fit, gas_rayleigh_root
from simengine.heat_transfer.natural_convection import rayleigh


@pytest.mark.parametrize("pressure", [70_000.0, 101_325.0])
@pytest.mark.parametrize("name", GASES)
def test_fit_within_its_stated_error(name, pressure):
    gas = gas_named(name)
    fit = gas_fit(gas, pressure)
    for t in np.linspace(COLDEST, HOTTEST, 200):
        k = gas.thermal_conductivity(t)
        factor = (
            GRAVITY * gas.density(t, pressure) ** 2 * gas.specific_heat / (t * gas.dynamic_viscosity(t) * k)
        )
        assert gas_conductivity(fit[0], t) == pytest.approx(k, rel=1e-4)
        assert gas_rayleigh_root(fit[1], t) ** 4 == pytest.approx(factor, rel=1e-4)


def test_factor_times_difference_and_cube_of_depth_is_the_rayleigh_number():
    fit = gas_fit(gas_named("air"), 95_000.0)
    expected = rayleigh(360.0, 320.0, 0.03, 95_000.0)
    assert gas_rayleigh_root(fit[1], 340.0) ** 4 * 40.0 * 0.03**3 == pytest.approx(expected, rel=1e-4)
