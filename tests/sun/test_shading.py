"""Skylines and the integral over the sky, against closed forms of view factors."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simengine.errors import InputError
from simengine.sun import (
    Horizon,
    NeighbouringWall,
    Surroundings,
    plane_irradiance,
    sky_share,
    sky_view,
    sky_view_past,
)
from simengine.sun.shading import Rays

NEW_YEAR = np.array([1])


def rays(elevation: float, azimuth: float, tilt: float = 90.0, facing: float = 180.0) -> Rays:
    return Rays(np.array([elevation]), np.array([azimuth]), 0.5, NEW_YEAR, tilt, facing)


@pytest.mark.parametrize("tilt", [0.0, 30.0, 60.0, 90.0, 120.0])
def test_open_sky_gives_the_whole_share(tilt: float) -> None:
    assert sky_share(Surroundings(), tilt, 180.0, NEW_YEAR)[0] == pytest.approx(1.0, abs=1e-12)
    # mathematics: (1 + cos tilt)/2
    assert sky_view_past(Surroundings(), tilt, 0.0, NEW_YEAR)[0] == pytest.approx(sky_view(tilt), abs=1e-12)


@pytest.mark.parametrize("height", [0.0, 5.0, 17.0, 30.0, 45.0, 60.0, 80.0])
def test_even_skyline_around_a_level_plane(height: float) -> None:
    # mathematics: view factor cos^2 of the skyline's elevation
    view = sky_view_past(Horizon((0.0,), (height,)), 0.0, 0.0, NEW_YEAR)[0]
    assert view == pytest.approx(np.cos(np.radians(height)) ** 2, abs=5e-4)


@pytest.mark.parametrize("height", [0.0, 5.0, 17.0, 30.0, 45.0, 60.0, 80.0])
def test_endless_wall_before_an_upright_plane(height: float) -> None:
    # mathematics: view factor (1 - sin h)/2 for a wall whose top stands at elevation h straight ahead
    expected = 0.5 * (1.0 - np.sin(np.radians(height)))
    bearings = np.arange(91.0, 270.0, 1.0)
    top = np.degrees(np.arctan(np.tan(np.radians(height)) * np.cos(np.radians(bearings - 180.0))))
    skyline = Horizon((90.0, *bearings, 270.0), (0.0, *top, 0.0))
    assert sky_view_past(skyline, 90.0, 180.0, NEW_YEAR)[0] == pytest.approx(expected, abs=5e-4)
    wall = NeighbouringWall(180.0, 5.0, 5.0 * float(np.tan(np.radians(height))))
    assert sky_view_past(wall, 90.0, 180.0, NEW_YEAR)[0] == pytest.approx(expected, abs=1e-3)


@pytest.mark.parametrize("height", [20.0, 45.0])
def test_even_skyline_around_an_upright_plane(height: float) -> None:
    # mathematics: 2/pi times the integral of cos^2 from h to 90 deg
    h = np.radians(height)
    expected = 2.0 / np.pi * (np.pi / 4.0 - h / 2.0 - np.sin(2.0 * h) / 4.0)
    assert sky_view_past(Horizon((0.0,), (height,)), 90.0, 77.0, NEW_YEAR)[0] == pytest.approx(
        expected, abs=5e-4
    )


def test_skyline_runs_straight_between_points_and_around_north() -> None:
    skyline = Horizon((350.0, 10.0, 180.0), (10.0, 20.0, 0.0))
    assert skyline.elevation_at(np.array([0.0, 360.0, 5.0, 95.0])) == pytest.approx([15.0, 15.0, 17.5, 10.0])


def test_sun_crosses_the_skyline_with_its_disc() -> None:
    skyline = Horizon((0.0,), (10.0,))
    passes = [float(skyline.transmittance(rays(e, 120.0))[0]) for e in (9.7, 10.0, 10.125, 10.3)]
    assert passes == pytest.approx([0.0, 0.5, 0.75, 1.0])


def test_skyline_takes_beam_and_circumsolar_and_some_of_the_sky(make_series, make_sun) -> None:
    series = make_series(count=2, ghi=400.0, dni=600.0, dhi=100.0)
    sun = make_sun([60.0, 60.0], [180.0, 120.0])
    skyline = Horizon((90.0, 149.0, 151.0, 209.0, 211.0, 270.0), (0.0, 0.0, 45.0, 45.0, 0.0, 0.0))
    free = plane_irradiance(series, sun, 90.0, 180.0)
    shaded = plane_irradiance(series, sun, 90.0, 180.0, horizon=skyline)
    assert shaded.beam[0] == shaded.circumsolar[0] == 0.0
    assert shaded.beam[1] == free.beam[1]
    assert np.all(shaded.sky_diffuse < free.sky_diffuse)
    assert shaded.ground_reflected == pytest.approx(free.ground_reflected)


@given(
    low=st.floats(0.0, 60.0),
    more=st.floats(0.0, 30.0),
    tilt=st.floats(0.0, 120.0),
    sun=st.floats(1.0, 80.0),
    bearing=st.floats(0.0, 360.0),
)
def test_higher_skyline_never_gives_more(low, more, tilt, sun, bearing) -> None:
    lower, higher = Horizon((0.0, 180.0), (low, 3.0)), Horizon((0.0, 180.0), (low + more, 3.0))
    view = rays(sun, bearing, tilt)
    assert higher.transmittance(view)[0] <= lower.transmittance(view)[0]
    assert sky_share(higher, tilt, 180.0, NEW_YEAR)[0] <= sky_share(lower, tilt, 180.0, NEW_YEAR)[0] + 1e-12


def test_shades_multiply() -> None:
    one, two = Horizon((0.0,), (9.9,)), Horizon((0.0,), (10.0,))
    both = Surroundings((one, two)).transmittance(rays(10.0, 0.0))[0]
    assert both == pytest.approx(one.transmittance(rays(10.0, 0.0))[0] * 0.5)


def test_plane_that_faces_the_ground_sees_no_sky() -> None:
    assert sky_share(Horizon((0.0,), (10.0,)), 180.0, 0.0, NEW_YEAR)[0] == 0.0


@pytest.mark.parametrize(
    ("azimuths", "elevations", "words"),
    [
        ((), (), "at least one"),
        ((0.0, 90.0), (5.0,), "2 azimuths, 1 elevations"),
        ((0.0,), (91.0,), "-90 to 90"),
        ((0.0,), (float("nan"),), "-90 to 90"),
        ((float("inf"),), (5.0,), "clockwise from north"),
    ],
)
def test_skyline_that_cannot_be_is_refused(azimuths, elevations, words: str) -> None:
    with pytest.raises(InputError, match=words):
        Horizon(azimuths, elevations)
