"""Fans against closed forms, the fan laws and unit identities of the trade."""

import pytest

from simengine.airflow.fan_curve import FanCurve, at_density, at_speed, operating_point, shut_off_curve
from simengine.constants import STANDARD_AIR_DENSITY
from simengine.errors import InputError, RangeError

CFM = 0.3048**3 / 60.0
IN_WG = 249.08891
HORSEPOWER = 745.69987
RHO = STANDARD_AIR_DENSITY


def _square_law(pressure, flow):
    return lambda mass_flow: pressure * (mass_flow / RHO / flow) ** 2


def test_operating_point_against_its_closed_form():
    # dp0 0.80 in.wg, Q0 240 cfm (invented curve), loop 0.30 in.wg at 110 cfm: 143.81 cfm (closed form,
    # two printed decimals)
    fan = shut_off_curve(0.80 * IN_WG, 240.0 * CFM)
    point = operating_point(fan, _square_law(0.30 * IN_WG, 110.0 * CFM), RHO)
    assert point.volume_flow / CFM == pytest.approx(143.81, abs=0.005)
    assert not point.notes


@pytest.mark.parametrize("loop", [0.05, 0.3, 1.0, 5.0])
def test_operating_point_of_any_parabola(loop):
    # dp0 (1 - (Q/Q0)^2) = k Q^2 gives Q = sqrt(dp0 / (k + dp0/Q0^2)) (mathematics)
    fan = shut_off_curve(200.0, 0.12)
    k = loop * IN_WG / (110.0 * CFM) ** 2
    point = operating_point(fan, _square_law(loop * IN_WG, 110.0 * CFM), RHO)
    assert point.volume_flow == pytest.approx((200.0 / (k + 200.0 / 0.12**2)) ** 0.5, rel=1e-9)
    assert point.pressure == pytest.approx(k * point.volume_flow**2, rel=1e-9)


def test_faster_fan_gives_pressure_by_the_square():
    # +10 % speed: 1.21 x (fan laws, exact)
    assert at_speed(shut_off_curve(100.0, 0.1), 1.1).pressure[0] == pytest.approx(121.0, rel=1e-12)


def test_power_goes_by_the_cube_of_the_speed():
    # 3.53 hp x 0.643: 2.27 +-0.2 % (fan laws, derived)
    fan = FanCurve((0.0, 1.0), (500.0, 0.0), (3.53, 3.53))
    slower = at_speed(fan, 0.643 ** (1.0 / 3.0))
    assert slower.power is not None
    assert slower.power[0] == pytest.approx(2.27, rel=2e-3)


def test_flow_of_a_square_loop_goes_with_the_speed():
    fan, loop = shut_off_curve(200.0, 0.12), _square_law(75.0, 0.05)
    full = operating_point(fan, loop, RHO).volume_flow
    assert operating_point(at_speed(fan, 0.6), loop, RHO).volume_flow == pytest.approx(0.6 * full, rel=1e-9)


def test_fan_at_altitude():
    # density factor 0.832 at 5000 ft: volume flow unchanged, pressure x 0.832 (fan laws, derived)
    fan = shut_off_curve(200.0, 0.12)
    factor = 0.832
    low = operating_point(fan, _square_law(75.0, 0.05), RHO)

    def thin(mass_flow):
        return factor * _square_law(75.0, 0.05)(mass_flow / factor)

    high = operating_point(fan, thin, RHO * factor)
    assert high.volume_flow == pytest.approx(low.volume_flow, rel=1e-9)
    assert high.pressure / low.pressure == pytest.approx(0.832, rel=4e-3)
    assert at_density(fan, RHO * factor).pressure[0] == pytest.approx(0.832 * 200.0, rel=1e-12)


def test_air_power_of_the_trade():
    # 1 cfm against 1 in.wg: 0.1175 W +-0.2 % (unit identity)
    fan = FanCurve((0.0, 2.0 * CFM), (IN_WG, IN_WG), efficiency=1.0)
    assert fan.electric_power(CFM) == pytest.approx(0.1175, rel=2e-3)


def test_fan_efficiency_of_the_trade():
    # 15000 cfm, 2.5 in.wg: 5.9 hp of air +-0.2 %; 12.5 hp at the shaft (unit identity)
    flow = 15000.0 * CFM
    fan = FanCurve((0.0, 2.0 * flow), (2.5 * IN_WG, 2.5 * IN_WG), efficiency=5.9 / 12.5)
    power = fan.electric_power(flow)
    assert power is not None
    assert power * 5.9 / 12.5 / HORSEPOWER == pytest.approx(5.9, rel=2e-3)
    assert power / HORSEPOWER == pytest.approx(12.5, rel=2e-3)


def test_power_follows_its_own_points():
    fan = FanCurve((0.0, 0.05, 0.1), (100.0, 80.0, 0.0), (10.0, 18.0, 20.0))
    assert fan.electric_power(0.05) == pytest.approx(18.0)
    assert shut_off_curve(100.0, 0.1).electric_power(0.05) is None


def test_curve_by_points_meets_a_parabola_by_two_numbers():
    parabola = shut_off_curve(200.0, 0.12)
    flows = tuple(0.12 * i / 12 for i in range(13))
    points = FanCurve(flows, tuple(parabola.pressure_at(q) for q in flows))
    loop = _square_law(75.0, 0.05)
    expected = operating_point(parabola, loop, RHO).volume_flow
    assert operating_point(points, loop, RHO).volume_flow == pytest.approx(expected, rel=1e-3)


def test_loop_that_runs_off_the_curve_is_refused_not_clipped():
    fan = FanCurve((0.0, 0.05, 0.08), (200.0, 180.0, 120.0))
    with pytest.raises(RangeError, match="last point of the curve"):
        operating_point(fan, _square_law(1.0, 0.05), RHO)


def test_loop_that_is_too_much_is_refused():
    fan = FanCurve((0.01, 0.05, 0.1), (100.0, 60.0, 0.0))
    with pytest.raises(RangeError, match="more pressure than the fan has"):
        operating_point(fan, lambda mass_flow: 500.0, RHO)


def test_work_left_of_the_peak_is_reported_as_stall():
    hump = FanCurve((0.0, 0.05, 0.1), (60.0, 100.0, 0.0))
    steep = operating_point(hump, _square_law(90.0, 0.03), RHO)
    assert "stall" in steep.notes[0]
    assert not operating_point(hump, _square_law(60.0, 0.07), RHO).notes


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"flow": (0.0, 0.0)}, "rise"),
        ({"flow": (0.0,)}, "two points"),
        ({"pressure": (100.0, -1.0)}, "below 0"),
        ({"power": (1.0,)}, "every flow"),
        ({"efficiency": 1.5}, "efficiency"),
    ],
)
def test_curve_that_is_none_is_refused(changes, message):
    points = {"flow": (0.0, 0.1), "pressure": (100.0, 0.0)} | changes
    with pytest.raises(InputError, match=message):
        FanCurve(**points)


def test_standing_fan_is_refused():
    with pytest.raises(InputError, match="above 0"):
        at_speed(shut_off_curve(100.0, 0.1), 0.0)
