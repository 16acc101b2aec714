"""Channel flow against exact solutions, worked examples and general-purpose libraries."""

import ht
import numpy as np
import pytest
from scipy.linalg import eigh

from simengine.air.properties import density, dynamic_viscosity
from simengine.heat_transfer.forced_convection import (
    BOTH_WALLS_FLUX,
    BOTH_WALLS_TEMPERATURE,
    LAMINAR_END,
    ONE_WALL_FLUX,
    ONE_WALL_TEMPERATURE,
    TURBULENT_START,
    channel_nusselt,
    laminar_developing,
    reference_channel_nusselt,
    reynolds,
    turbulent_kays,
)


def test_reynolds_of_a_collector_channel():
    # 1 m wide, 15 mm deep, 0.03 kg/s, 35 degC: Re 3200 +-15, h 9.0 +-0.1 by Nu 10.1 +-0.1 (from memory,
    # reproduced from its own inputs)
    value = reynolds(0.03, 1.0, dynamic_viscosity(308.15))
    assert value == pytest.approx(3200.0, abs=15.0 + 3.0)  # 3191.5 in the source's own properties
    assert turbulent_kays(3191.49) == pytest.approx(10.1, abs=0.1)
    assert turbulent_kays(3191.49) * 0.0268 / 0.03 == pytest.approx(9.0, abs=0.1)


def test_reynolds_does_not_ask_for_the_depth():
    depth, width, flow, t = 0.021, 1.2, 0.05, 310.0
    velocity = flow / (density(t, 1e5) * width * depth)
    expected = velocity * 2.0 * depth * density(t, 1e5) / dynamic_viscosity(t)
    assert reynolds(flow, width, dynamic_viscosity(t)) == pytest.approx(expected, rel=1e-12)  # definition


# Exact and eigenvalue solutions for flat channels (mathematics).
@pytest.mark.parametrize(
    ("constant", "expected", "tolerance"),
    [
        (BOTH_WALLS_FLUX, 8.235, 0.001),
        (ONE_WALL_FLUX, 5.385, 0.001),
        (BOTH_WALLS_TEMPERATURE, 7.541, 0.002),
        (ONE_WALL_TEMPERATURE, 4.861, 0.002),
    ],
)
def test_fully_developed_laminar_values(constant, expected, tolerance):
    assert constant == pytest.approx(expected, abs=tolerance)


def _first_eigenvalue(velocity, size):
    """Solve theta'' + lambda u theta = 0, insulated at 0 and theta = 0 at 1, by linear elements."""
    step = 1.0 / size
    y = (np.arange(size) + 0.5) * step
    stiffness = 2.0 * np.eye(size) - np.eye(size, k=1) - np.eye(size, k=-1)
    stiffness[0, 0], stiffness[-1, -1] = 1.0, 3.0
    return eigh(stiffness / step**2, np.diag(velocity(y)), eigvals_only=True, subset_by_index=[0, 0])[0]


@pytest.mark.parametrize(
    ("velocity", "per_eigenvalue", "constant"),
    [
        (lambda y: 1.5 * (1.0 - y * y), 4.0, BOTH_WALLS_TEMPERATURE),
        (lambda y: 6.0 * y * (1.0 - y), 2.0, ONE_WALL_TEMPERATURE),
    ],
    ids=["both walls", "one wall"],
)
def test_eigenvalue_solution_of_developed_flow(velocity, per_eigenvalue, constant):
    # Graetz problem in a flat channel: Nu = 4 lambda (half channel) or 2 lambda (whole channel)
    assert per_eigenvalue * _first_eigenvalue(velocity, 200) == pytest.approx(constant, abs=1e-3)


def test_both_walls_against_a_library():
    # Shan and London for a rectangle of aspect 0 (ht): 8.235
    assert ht.Nu_laminar_rectangular_Shan_London(0.0) == pytest.approx(BOTH_WALLS_FLUX, abs=1e-3)


def test_developing_flow_starts_from_the_long_channel_value():
    assert laminar_developing(1e-12, 0.7, 0.01) == pytest.approx(4.9, abs=1e-6)  # from memory of the fit


def test_developing_flow_in_a_usual_collector():
    # Re Pr D/L 20, Pr 0.7: 6.2 +-0.02 (independent solution)
    assert laminar_developing(20.0 / 0.7, 0.7, 1.0) == pytest.approx(6.2, abs=0.02)


def test_long_channel_value_is_between_the_exact_boundary_conditions():
    assert ONE_WALL_TEMPERATURE < laminar_developing(0.0, 0.7, 0.01) < ONE_WALL_FLUX


@pytest.mark.parametrize("number", [1e4, 2e4, 5e4])
def test_one_heated_wall_stays_below_a_tube(number):
    # Dittus-Boelter (ht) holds for tubes heated all round; one wall heated gives 15 to 30 % less
    # (Kays and Crawford, from memory)
    tube = ht.conv_internal.turbulent_Dittus_Boelter(number, 0.71, heating=True)
    assert 0.70 < turbulent_kays(number) / tube < 0.90


def test_default_is_continuous_and_rising():
    numbers = np.linspace(0.0, 20000.0, 4001)
    values = np.array([channel_nusselt(re, 0.71, 0.02) for re in numbers])
    assert (np.diff(values) > 0.0).all()
    assert np.diff(values).max() < 0.05


def test_default_is_linear_across_the_transition():
    ends = channel_nusselt(LAMINAR_END, 0.71, 0.02), channel_nusselt(TURBULENT_START, 0.71, 0.02)
    middle = channel_nusselt(0.5 * (LAMINAR_END + TURBULENT_START), 0.71, 0.02)
    assert middle == pytest.approx(0.5 * sum(ends), rel=1e-12)  # definition, as the VDI heat atlas
    assert ends[1] == pytest.approx(0.0158 * 1e4**0.8, rel=1e-12)


def test_reference_relation_switches_where_the_two_cross():
    crossing = (ONE_WALL_FLUX / 0.0158) ** 1.25
    assert reference_channel_nusselt(crossing * 0.99) == ONE_WALL_FLUX
    assert reference_channel_nusselt(crossing * 1.01) > ONE_WALL_FLUX
