"""Sun on a plane: a hand-worked hour, the reference library, and laws that hold for any sky."""

from types import SimpleNamespace

import numpy as np
import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pvlib import atmosphere, irradiance

from simengine.errors import InputError
from simengine.sun import SKY_MODELS, Horizon, SunPosition, plane_irradiance, solar_position
from simengine.sun.sky_models import Diffuse

OTHER_NAMES = {"perez": "perez", "hay_davies": "haydavies", "isotropic": "isotropic"}


def test_hand_worked_hour_of_the_default_model(make_series, make_sun) -> None:
    # Perez et al. 1990 by hand, coefficients from memory of the paper's table (bin 6: 1.132 -1.237 -0.412,
    # 0.288 -0.823 0.056); Kasten and Young's airmass at 60 deg 1.9943.
    # dni 600, dhi 100, ghi 400 W/m2, E0 1400, sun due south at zenith 60 deg, south wall:
    # clearness (7 + 1.1955)/2.1955 = 3.733 (bin 6), brightness 100 x 1.9943/1400 = 0.14245
    # F1 = 1.132 - 0.17621 - 0.43145 = 0.52434, F2 = 0.288 - 0.11724 + 0.05864 = 0.22941
    # beam 600 sin 60; around the sun 100 F1 tan 60; dome 100 (1 - F1)/2 + 100 F2; ground 400 x 0.2/2
    sun = make_sun(60.0, 180.0)
    plane = plane_irradiance(make_series(count=1, ghi=400.0, dni=600.0, dhi=100.0), sun, 90.0, 180.0)
    assert plane.beam[0] == pytest.approx(519.615, abs=1e-3)
    assert plane.circumsolar[0] == pytest.approx(90.819, abs=5e-3)
    assert plane.sky_diffuse[0] == pytest.approx(46.724, abs=5e-3)
    assert plane.ground_reflected[0] == pytest.approx(40.0, abs=1e-9)
    assert plane.total[0] == pytest.approx(697.158, abs=1e-2)
    assert plane.incidence_angle[0] == pytest.approx(30.0, abs=1e-9)
    assert plane.filled == 0


@pytest.mark.parametrize("model", SKY_MODELS)
@pytest.mark.parametrize(("tilt", "facing"), [(90.0, 180.0), (60.0, 180.0), (90.0, 95.0), (30.0, 260.0)])
def test_hours_of_full_sun_agree_with_the_reference_library(
    greensboro, greensboro_sun, model: str, tilt: float, facing: float
) -> None:
    # pvlib.irradiance.get_total_irradiance; hours in which the sun is up throughout and above 5 deg
    sun, data = greensboro_sun, greensboro.data
    with np.errstate(divide="ignore"):  # hours without diffuse light, in releases of the library before 0.16
        other = irradiance.get_total_irradiance(
            tilt,
            facing,
            sun.zenith,
            sun.azimuth,
            data.dni.to_numpy(),
            data.ghi.to_numpy(),
            data.dhi.to_numpy(),
            dni_extra=sun.extra_radiation,
            airmass=atmosphere.get_relative_airmass(sun.zenith),
            albedo=0.2,
            model=OTHER_NAMES[model],
            model_perez="allsitescomposite1990",
        )
    plane = plane_irradiance(greensboro, sun, tilt, facing, model=model)
    rows = (sun.sunlit_share == 1.0) & (sun.zenith < 85.0) & (data.dhi.to_numpy() > 0.0)
    assert rows.sum() > 3500
    assert plane.total[rows] == pytest.approx(np.asarray(other["poa_global"])[rows], abs=1e-9)
    assert plane.beam[rows] == pytest.approx(np.asarray(other["poa_direct"])[rows], abs=1e-9)
    # the few low-sun hours change a year by little
    assert plane.total.sum() == pytest.approx(np.nansum(other["poa_global"]), rel=0.01)


def test_reference_year_of_a_south_wall(greensboro, greensboro_sun) -> None:
    # WGSO1: TMY3 723170 Greensboro, isotropic sky, reflectance 0.2, mid-hour sun: 1085.2 kWh/m2 +-0.5 %
    # (derived, independent solution on the file)
    wall = plane_irradiance(greensboro, greensboro_sun, 90.0, 180.0, model="isotropic")
    assert wall.total.sum() / 1000.0 == pytest.approx(1085.2, rel=0.005)


def test_isotropic_sky_of_one_brightness(make_series, make_sun) -> None:
    # mathematics: dhi (1 + cos b)/2 + ghi rho (1 - cos b)/2; with dhi = ghi and rho = 1 any plane gets dhi
    series = make_series(count=1, ghi=100.0, dhi=100.0)
    for tilt in (0.0, 37.0, 90.0, 150.0, 180.0):
        plane = plane_irradiance(
            series, make_sun(50.0, 140.0), tilt, 20.0, model="isotropic", ground_reflectance=1.0
        )
        assert plane.total[0] == pytest.approx(100.0, abs=1e-12)


@pytest.mark.parametrize("model", SKY_MODELS)
def test_level_plane_gets_beam_and_diffuse(make_series, make_sun, model: str) -> None:
    series = make_series(count=1, ghi=400.0, dni=600.0, dhi=100.0)
    plane = plane_irradiance(series, make_sun(60.0, 123.0), 0.0, 0.0, model=model)
    assert plane.total[0] == pytest.approx(400.0, abs=1e-9)


@settings(max_examples=40)
@given(
    turn=st.floats(0.0, 180.0),
    sun_turn=st.floats(-170.0, 170.0),
    zenith=st.floats(5.0, 89.5),
    tilt=st.floats(0.0, 120.0),
    dhi=st.floats(0.0, 400.0),
    dni=st.floats(0.0, 900.0),
)
def test_east_and_west_are_mirror_images(turn, sun_turn, zenith, tilt, dhi, dni) -> None:
    frame = pd.DataFrame(
        {"ghi": [dhi], "dni": [dni], "dhi": [dhi]}, index=pd.DatetimeIndex(["2001-06-01 11:30"])
    )
    series = SimpleNamespace(data=frame)
    one = np.ones(1)
    east, west = (
        SunPosition(zenith * one, (180.0 + side * sun_turn) * one, 1400.0 * one, one, 12.0 * one)
        for side in (-1.0, 1.0)
    )
    skyline = Horizon((90.0, 180.0, 270.0), (20.0, 5.0, 20.0))
    for model in SKY_MODELS:
        left = plane_irradiance(series, east, tilt, 180.0 - turn, model=model, horizon=skyline)
        right = plane_irradiance(series, west, tilt, 180.0 + turn, model=model, horizon=skyline)
        assert left.total[0] == pytest.approx(right.total[0], rel=1e-9, abs=1e-9)
        assert left.circumsolar[0] == pytest.approx(right.circumsolar[0], rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("facing", [90.0, 180.0, 270.0])
def test_hourly_means_give_the_beam_of_every_minute(make_series, facing: float) -> None:
    # independent solution: 800 W/m2 whenever the sun is up, minute by minute, against its hourly means
    place = {"latitude": 45.0, "longitude": 8.0, "utc_offset": 1.0, "start": "2001-03-03"}
    minutes = make_series(count=1440, step=60, **place)
    fine_sun = solar_position(minutes)
    fine = make_series(count=1440, step=60, dni=800.0 * (fine_sun.sunlit_share > 0.5), **place)
    truth = plane_irradiance(fine, fine_sun, 90.0, facing).beam.reshape(24, 60).mean(axis=1)
    hours = make_series(count=24, dni=fine.data.dni.to_numpy().reshape(24, 60).mean(axis=1), **place)
    beam = plane_irradiance(hours, solar_position(hours), 90.0, facing).beam
    edges = (solar_position(hours).sunlit_share > 0.0) & (solar_position(hours).sunlit_share < 1.0)
    assert edges.sum() == 2
    assert np.abs(beam - truth)[edges].max() < 8.0  # 1 % of the beam
    assert beam.sum() == pytest.approx(truth.sum(), rel=0.02)


def test_low_sun_never_gives_more_than_the_beam_and_the_sky_hold(greensboro, greensboro_sun) -> None:
    data = greensboro.data
    for facing in range(0, 360, 30):
        plane = plane_irradiance(greensboro, greensboro_sun, 90.0, float(facing))
        assert np.all(plane.beam <= data.dni.to_numpy() + 1e-9)
        for part in (plane.beam, plane.circumsolar, plane.sky_diffuse, plane.ground_reflected):
            assert np.all(np.isfinite(part))
            assert part.min() >= 0.0
        low = greensboro_sun.zenith > 85.0
        assert np.all(plane.circumsolar[low] <= 6.0 * data.dhi.to_numpy()[low])


def test_beam_is_held_to_what_the_sun_sends(make_series, make_sun) -> None:
    # a file whose clock is off may claim a strong beam in an interval with a minute of sun
    plane = plane_irradiance(make_series(count=1, dni=500.0), make_sun(89.9, 180.0, share=0.02), 90.0, 180.0)
    assert plane.beam[0] <= 0.02 * 1400.0


def test_sun_below_the_horizon_leaves_an_even_sky_and_is_counted(make_series, make_sun) -> None:
    series = make_series(count=1, ghi=8.0, dni=50.0, dhi=8.0)
    plane = plane_irradiance(series, make_sun(93.0, 100.0, share=0.0), 90.0, 100.0)
    assert plane.beam[0] == plane.circumsolar[0] == 0.0
    assert plane.sky_diffuse[0] == pytest.approx(4.0)
    assert plane.filled == 1
    isotropic = plane_irradiance(series, make_sun(93.0, 100.0, share=0.0), 90.0, 100.0, model="isotropic")
    assert isotropic.filled == 0


def test_rows_without_an_answer_take_hay_davies_and_are_counted(make_series, make_sun, monkeypatch) -> None:
    def without_answer(sky) -> Diffuse:
        nothing = np.full_like(sky.dhi, np.nan)
        return Diffuse(nothing, nothing)

    series, sun = make_series(count=1, ghi=400.0, dni=600.0, dhi=100.0), make_sun(60.0, 180.0)
    expected = plane_irradiance(series, sun, 90.0, 180.0, model="hay_davies")
    monkeypatch.setitem(SKY_MODELS, "perez", without_answer)
    plane = plane_irradiance(series, sun, 90.0, 180.0)
    assert plane.filled == 1
    assert plane.total[0] == pytest.approx(expected.total[0])


def test_polar_night_has_no_sun_on_any_plane(make_series) -> None:
    series = make_series(latitude=78.0, longitude=15.0, utc_offset=1.0, start="2001-12-21")
    plane = plane_irradiance(series, solar_position(series), 90.0, 180.0)
    assert np.all(plane.total == 0.0)
    assert plane.filled == 0


def test_southern_wall_that_faces_the_sun_looks_north(make_series) -> None:
    series = make_series(
        latitude=-35.0, longitude=150.0, utc_offset=10.0, start="2001-06-21", ghi=300.0, dni=500.0, dhi=80.0
    )
    sun = solar_position(series)
    north, south = (plane_irradiance(series, sun, 90.0, facing) for facing in (0.0, 180.0))
    assert north.beam.sum() > 5.0 * south.beam.sum()


def test_ground_reflectance_by_interval(make_series, make_sun) -> None:
    series = make_series(count=2, ghi=400.0, dni=600.0, dhi=100.0)
    sun = make_sun([60.0, 60.0], 180.0)
    plane = plane_irradiance(series, sun, 90.0, 180.0, ground_reflectance=np.array([0.2, 0.7]))
    assert plane.ground_reflected == pytest.approx([40.0, 140.0])


@pytest.mark.parametrize("name", SKY_MODELS)
def test_key_gives_that_model(name: str) -> None:
    assert SKY_MODELS[name].__name__ == name


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"model": "flat"}, "accepted: perez, hay_davies, isotropic"),
        ({"tilt": 200.0}, "accepted: 0"),
        ({"tilt": float("nan")}, "accepted: 0"),
        ({"azimuth": float("inf")}, "accepted: degrees clockwise from north"),
        ({"ground_reflectance": 1.2}, "accepted: 0 to 1"),
        ({"ground_reflectance": np.full(3, 0.2)}, "one number or"),
    ],
)
def test_what_cannot_be_is_refused(make_series, make_sun, change: dict[str, object], words: str) -> None:
    asked = {"tilt": 90.0, "azimuth": 180.0, **change}
    with pytest.raises(InputError, match=words):
        plane_irradiance(make_series(count=1), make_sun(60.0, 180.0), **asked)


def test_sun_of_another_length_is_refused(make_series, make_sun) -> None:
    with pytest.raises(InputError, match="1 intervals, the weather 2"):
        plane_irradiance(make_series(count=2), make_sun(60.0, 180.0), 90.0, 180.0)
