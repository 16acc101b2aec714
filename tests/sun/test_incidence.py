"""Angle of incidence against a handbook example and the reference library."""

import numpy as np
import pytest
from pvlib import irradiance

from simengine.sun import incidence_angle
from simengine.sun.incidence import seen_from_plane


def test_textbook_example() -> None:
    # from memory of Duffie and Beckman, example 1.6.1: Madison (43 N), 13 February, 10:30 solar time,
    # declination -14, hour angle -22.5, plane tilted 45 deg towards 15 deg west of south: 35 deg
    lat, dec, hour = np.radians([43.0, -14.0, -22.5])
    rise = np.sin(lat) * np.sin(dec) + np.cos(lat) * np.cos(dec) * np.cos(hour)
    west = np.cos(dec) * np.sin(hour)
    south = np.sin(lat) * np.cos(dec) * np.cos(hour) - np.cos(lat) * np.sin(dec)
    zenith = np.degrees(np.arccos(rise))
    azimuth = 180.0 + np.degrees(np.arctan2(west, south))
    assert incidence_angle(np.array([zenith]), np.array([azimuth]), 45.0, 195.0)[0] == pytest.approx(
        35.0, abs=0.5
    )


@pytest.mark.parametrize("tilt", [0.0, 35.0, 90.0, 135.0, 180.0])
@pytest.mark.parametrize("facing", [0.0, 77.0, 180.0, 300.0])
def test_agrees_with_the_reference_library(tilt: float, facing: float) -> None:
    zenith, azimuth = (
        grid.ravel() for grid in np.meshgrid(np.arange(1.0, 120.0, 13.0), np.arange(0.0, 360.0, 31.0))
    )
    expected = irradiance.aoi(tilt, facing, zenith, azimuth)
    assert incidence_angle(zenith, azimuth, tilt, facing) == pytest.approx(expected, abs=1e-5)


def test_components_are_a_unit_vector_with_west_on_the_right_of_a_south_wall() -> None:
    west = seen_from_plane(np.array([0.0]), np.array([270.0]), 90.0, 180.0)
    assert (west.out[0], west.up[0], west.right[0]) == pytest.approx((0.0, 0.0, 1.0), abs=1e-15)
    any_way = seen_from_plane(np.array([37.0]), np.array([211.0]), 55.0, 160.0)
    assert any_way.out[0] ** 2 + any_way.up[0] ** 2 + any_way.right[0] ** 2 == pytest.approx(1.0, abs=1e-14)
