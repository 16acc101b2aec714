"""A fan with a curve on a loop of parts: closed form, altitude and speeds."""

import numpy as np
import pytest

from simengine.air.properties import density
from simengine.airflow.circuit import loop_pressure
from simengine.airflow.fan_curve import FanCurve, at_speed, operating_point, shut_off_curve
from simengine.airflow.parts import Channel, Fitting, RoundDuct, inlet_port, outlet_port
from simengine.airflow.solved_loop import full_speed_point, solve_loop
from simengine.airflow.spec import Duct
from simengine.errors import InputError

FAN = shut_off_curve(180.0, 0.12, efficiency=0.25)
PARTS = [
    inlet_port("intake", 0.1524),
    RoundDuct("return", 4.0, 0.1524),
    Channel("air space", 2.4, 1.2, 0.025),
    outlet_port("supply", 0.1524),
]


def test_loop_of_one_fitting_against_its_closed_form():
    # p0 r (1 - (Q/Q0)^2) = K rho Q^2 / (2 A^2), r the density ratio (mathematics)
    area, k, air = 0.018, 8.0, density(293.15, 101325.0)
    factor, loss = air / 1.2014, k * air / (2.0 * area**2)
    expected = (180.0 * factor / (loss + 180.0 * factor / 0.12**2)) ** 0.5
    point = full_speed_point(FAN, [Fitting("loop", area, k)], 101325.0)
    assert point.volume_flow == pytest.approx(expected, rel=1e-9)


def test_volume_flow_hardly_asks_for_the_altitude_and_mass_flow_does():
    low, high = (full_speed_point(FAN, PARTS, p) for p in (101325.0, 84300.0))
    assert high.volume_flow == pytest.approx(low.volume_flow, rel=0.01)
    assert high.mass_flow / low.mass_flow == pytest.approx(0.832, rel=0.01)


def test_loop_rises_with_the_speed_and_rests_at_none():
    loop = solve_loop(FAN, PARTS, 101325.0, speeds=5)
    assert loop.mass_flow[0] == loop.fan_power[0] == 0.0
    assert (np.diff(loop.mass_flow) > 0.0).all()
    # fittings and turbulent friction: flow nearly with the speed, power nearly with its cube (fan laws)
    assert loop.mass_flow[2] / loop.mass_flow[4] == pytest.approx(0.5, rel=0.05)
    assert loop.fan_power[2] / loop.fan_power[4] == pytest.approx(0.125, rel=0.10)


@pytest.mark.parametrize(
    "fan", [FAN, FanCurve((0.0, 0.04, 0.08, 0.12), (180.0, 150.0, 90.0, 0.0), efficiency=0.2)]
)
def test_every_speed_is_where_the_slower_fan_meets_the_loop(fan: FanCurve) -> None:
    # the fan laws on the curve itself, each speed bisected by itself (independent solution), 0.1 %
    loop = solve_loop(fan, PARTS, 101325.0, speeds=9)
    air = density(293.15, 101325.0)
    for row in range(1, 9):
        slow = at_speed(fan, row / 8)
        point = operating_point(slow, lambda m: loop_pressure(PARTS, m, 101325.0), air)
        assert loop.mass_flow[row] == pytest.approx(point.mass_flow, rel=1e-3)
        assert loop.fan_power[row] == pytest.approx(point.electric_power, rel=3e-3)


def test_a_laminar_channel_keeps_slow_air_below_the_fan_laws() -> None:
    channel = [Channel("air space", 2.4, 1.2, 0.012)]
    loop = solve_loop(shut_off_curve(60.0, 0.08, 0.2), channel, 101325.0, speeds=5)
    assert loop.mass_flow[1] < 0.95 * 0.25 * loop.mass_flow[4]


def test_ducts_keep_less_at_little_flow():
    duct = Duct(4.0, 0.1524, 0.74, "outside")
    loop = solve_loop(FAN, PARTS, 101325.0, ((duct,), ()), speeds=3, heat_to_air=0.8)
    assert loop.supply_kept[1] < loop.supply_kept[2] < 1.0
    assert (loop.return_kept == 1.0).all()
    assert loop.fan_heat == pytest.approx(0.8 * loop.fan_power)


def test_fan_without_power_is_refused():
    with pytest.raises(InputError, match="a power curve or an efficiency"):
        solve_loop(FanCurve((0.0, 0.12), (180.0, 0.0)), PARTS, 101325.0)
