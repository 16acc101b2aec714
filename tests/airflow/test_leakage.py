"""Leaks of the box: power law, sign and energy."""

import pytest

from simengine.airflow.leakage import box_pressure, leak_coefficient, leak_flow, leak_heat
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.errors import InputError


@pytest.mark.parametrize("pressure", [-40.0, -3.0, 3.0, 40.0])
def test_leak_goes_the_way_of_the_pressure(pressure):
    flow = leak_flow(0.001, 0.65, pressure)
    assert flow * pressure > 0.0
    assert abs(flow) == pytest.approx(0.001 * abs(pressure) ** 0.65, rel=1e-12)  # definition


def test_tight_at_no_pressure():
    assert leak_flow(0.001, 0.65, 0.0) == 0.0


def test_tested_leak_comes_back_at_its_own_pressure():
    coefficient = leak_coefficient(0.004, 50.0, 0.65)
    assert leak_flow(coefficient, 0.65, 50.0) == pytest.approx(0.004, rel=1e-12)


def test_outward_leak_loses_box_air_and_brings_outdoor_air():
    # energy balance of house and collector together: leaves at 50 degC, comes in at 0 degC
    out = leak_heat(0.01, 323.15, 293.15, 273.15)
    assert sum(out) == pytest.approx(0.01 * SPECIFIC_HEAT_AIR * 50.0, rel=1e-12)


def test_inward_leak_enters_cold_and_pushes_room_air_out():
    # energy balance: enters at 0 degC, leaves at room temperature, whatever the box
    leak = leak_heat(-0.01, 323.15, 293.15, 273.15)
    assert sum(leak) == pytest.approx(0.01 * SPECIFIC_HEAT_AIR * 20.0, rel=1e-12)
    assert leak == leak_heat(-0.01, 353.15, 293.15, 273.15)


def test_blowing_fan_presses_and_drawing_fan_sucks():
    assert box_pressure(10.0, 4.0, 20.0, "before") > 0.0 > box_pressure(10.0, 4.0, 20.0, "after")


def test_unknown_fan_place_is_refused():
    with pytest.raises(InputError, match="accepted: before, after"):
        box_pressure(1.0, 1.0, 1.0, "beside")
