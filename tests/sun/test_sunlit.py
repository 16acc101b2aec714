"""The sunlit part of an interval against sphere geometry."""

import numpy as np
import pytest

from simengine.sun.sunlit import horizon_dip, sunlit_part


def lit(declination: float, hour_angle: float, latitude: float, width: float = 15.0, dip: float = 0.0):
    part = sunlit_part(np.array([declination]), np.array([hour_angle]), width, latitude, dip)
    return float(part.share[0]), float(part.offset[0])


def test_equinox_sun_sets_at_hour_angle_90() -> None:
    # mathematics: without refraction the day is 12 h everywhere
    assert lit(0.0, 85.0, 51.0) == pytest.approx((12.5 / 15.0, -1.25))
    assert lit(0.0, -85.0, 51.0) == pytest.approx((12.5 / 15.0, 1.25))
    assert lit(0.0, 0.0, 51.0) == (1.0, 0.0)
    assert lit(0.0, 120.0, 51.0) == (0.0, 0.0)


@pytest.mark.parametrize(("declination", "share"), [(23.44, 1.0), (-23.44, 0.0)])
def test_polar_day_and_night(declination: float, share: float) -> None:
    assert lit(declination, 180.0, 75.0) == (share, 0.0)


def test_hour_angle_may_be_given_with_any_turn() -> None:
    assert lit(10.0, 98.0, 40.0) == pytest.approx(lit(10.0, 98.0 - 720.0, 40.0))


def test_short_night_inside_an_interval() -> None:
    # sunset at cos w = -tan 66 tan 23.44, by hand 166.91 deg; the night is 26.2 deg wide within 30 deg
    sunset = float(np.degrees(np.arccos(-np.tan(np.radians(66.0)) * np.tan(np.radians(23.44)))))
    share, offset = lit(23.44, -179.0, 66.0, width=30.0)
    assert share == pytest.approx(1.0 - 2.0 * (180.0 - sunset) / 30.0)
    # the longer lit piece is the one after midnight, from -sunset to -164
    assert offset == pytest.approx(0.5 * (-sunset - 164.0) + 179.0)


def test_day_length_of_the_published_example() -> None:
    # from memory of the sample output of Reda and Andreas 2008: Golden, 2003-10-17, declination -9.31 deg,
    # upper limb at -0.8333 deg: sunrise 06:12:43, sunset 17:20:19, that is 11.127 h; +-1.5 min as the
    # declination moves over the day
    hours = np.arange(-172.5, 180.0, 15.0)
    part = sunlit_part(np.full(24, -9.31), hours, 15.0, 39.742476, -0.8333)
    assert part.share.sum() == pytest.approx(11.127, abs=0.025)


def test_horizon_dip_is_about_34_minutes_of_arc() -> None:
    # usual value 34' (Reda and Andreas 2008: 0.5667 deg); thin air bends less, cold air more
    assert horizon_dip(101000.0, 10.0) == pytest.approx(-0.5667, abs=0.015)
    assert horizon_dip(70000.0, 10.0) > horizon_dip(101000.0, 10.0) > horizon_dip(101000.0, -30.0)
