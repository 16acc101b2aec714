"""Buoyancy by day and by night against closed forms and marches of 2000 segments."""

import math

import numpy as np
import pytest

from simengine.airflow.thermosiphon import (
    buoyancy_pressure,
    heated_column_flow,
    mean_inverse_temperature,
    reverse_night_flow,
    stack_velocity,
)
from simengine.constants import GAS_CONSTANT_DRY_AIR, GRAVITY, SPECIFIC_HEAT_AIR

PORT = math.pi / 4.0 * 0.1524**2
DAY = {"height": 2.0, "area": 0.093, "loss_coefficient": 10.0, "density": 1.2, "temperature": 295.0}


def test_day_flow_of_a_thousand_watts():
    # Q 1000 W, H 2 m, A 0.093 m2, K 10, rho 1.2, T 295 K: 0.04349 +-2e-5 kg/s and 22.83 +-0.02 K
    # (mathematics; with g 9.81 and c_p 1007, hence the ratio)
    flow = heated_column_flow(1000.0, **DAY)
    flow *= (9.81 / GRAVITY * SPECIFIC_HEAT_AIR / 1007.0) ** (1.0 / 3.0)
    assert flow == pytest.approx(0.04349, abs=2e-5)
    assert flow == pytest.approx(0.0434903, abs=1e-6)
    assert 1000.0 / (flow * 1007.0) == pytest.approx(22.83, abs=0.02)


def test_flow_cubed_is_proportional_to_the_heat():
    # 8 times the heat, twice the flow +-1e-6 (mathematics)
    ratio = heated_column_flow(8000.0, **DAY) / heated_column_flow(1000.0, **DAY)
    assert ratio == pytest.approx(2.0, abs=1e-6)


def test_day_flow_balances_a_march_through_the_column():
    # evenly heated column of 2000 segments, Boussinesq: buoyancy equals the loss (independent solution)
    flow = heated_column_flow(500.0, **DAY)
    rise = 500.0 / (flow * SPECIFIC_HEAT_AIR)
    excess = rise * (np.arange(2000) + 0.5) / 2000
    buoyancy = float(np.sum(1.2 * GRAVITY * excess / 295.0) * 2.0 / 2000)
    loss = 10.0 * flow**2 / (2.0 * 1.2 * 0.093**2)
    assert buoyancy == pytest.approx(loss, rel=1e-9)


def test_stack_velocity_of_a_shaft():
    # 0.65 sqrt(2 g H dT / T), H 2 m, 10 K, 300 K: 0.743 +-0.001 m/s (from memory, reproduced)
    assert stack_velocity(2.0, 10.0, 300.0) == pytest.approx(0.743, abs=0.001)


@pytest.mark.parametrize("units", [1e-6, 0.1, 1.2, 10.0, 800.0])
def test_mean_density_of_a_cooling_column_against_quadrature(units):
    z = (np.arange(200_000) + 0.5) / 200_000
    expected = float(np.mean(1.0 / (263.15 + 30.0 * np.exp(-units * z))))
    assert mean_inverse_temperature(293.15, 263.15, units) == pytest.approx(expected, rel=1e-6)


def _march(flow, height, conductance, room=293.15, outside=263.15, segments=2000):
    """Return buoyancy minus loss [Pa] and the outlet [K] of a column cut into segments."""
    t, weight, density = room, 0.0, 101325.0 / GAS_CONSTANT_DRY_AIR / room
    for _ in range(segments):
        step = conductance / segments / (flow * SPECIFIC_HEAT_AIR)
        middle = (t + 0.5 * step * outside) / (1.0 + 0.5 * step)
        t = t - step * (middle - outside)
        weight += 101325.0 / GAS_CONSTANT_DRY_AIR / middle / segments
    return GRAVITY * height * (weight - density) - 10.0 * flow**2 / (2.0 * density * PORT**2), t


def test_night_flow_without_a_damper():
    # 6 in ports 1.5 m apart, sum K 10, 10 W/K, room 20, outside -10 degC: 172.553 W +-1 %, about 14.2 cfm
    # and -1.3 degC (derived: log-mean solution against a march of 2000 segments)
    night = reverse_night_flow(293.15, 263.15, 1.5, PORT, 10.0, 10.0)
    assert night.heat == pytest.approx(172.553, rel=0.01)
    assert night.mass_flow / 1.2014 / (0.3048**3 / 60.0) == pytest.approx(14.2, rel=0.01)
    assert night.return_temperature - 273.15 == pytest.approx(-1.3, abs=0.1)


@pytest.mark.parametrize(("height", "conductance"), [(1.5, 10.0), (2.4, 4.0), (1.0, 25.0)])
def test_night_flow_against_a_march_of_2000_segments(height, conductance):
    night = reverse_night_flow(293.15, 263.15, height, PORT, 10.0, conductance)
    surplus, outlet = _march(night.mass_flow, height, conductance)
    assert surplus == pytest.approx(0.0, abs=1e-4)
    assert outlet == pytest.approx(night.return_temperature, abs=1e-3)


def test_night_heat_is_what_the_collector_loses():
    night = reverse_night_flow(293.15, 263.15, 1.5, PORT, 10.0, 10.0)
    drawn = night.mass_flow * SPECIFIC_HEAT_AIR * (293.15 - night.return_temperature)
    assert night.heat == pytest.approx(drawn, rel=1e-12)


def test_nothing_moves_where_it_is_not_colder_outside():
    night = reverse_night_flow(293.15, 293.15, 1.5, PORT, 10.0, 10.0)
    assert (night.mass_flow, night.heat, night.return_temperature) == (0.0, 0.0, 293.15)


def test_colder_nights_take_more():
    heats = [reverse_night_flow(293.15, t, 1.5, PORT, 10.0, 10.0).heat for t in (288.0, 273.0, 258.0, 243.0)]
    assert heats == sorted(heats)


def test_warm_column_drives_and_cold_one_brakes():
    assert buoyancy_pressure(2.0, 1.2, 1.1) == -buoyancy_pressure(2.0, 1.1, 1.2) > 0.0
