"""The sun's position against the published example of its algorithm, pvlib, and what any sky must show."""

import subprocess
import sys
import time
import warnings

import numpy as np
import pandas as pd
import pytest

from simengine.sun import SunPosition, cloud_cover, plane_irradiance, sky_temperature, solar_position
from simengine.sun.position import Site, sun_angles
from simengine.weather import WeatherSeries

GOLDEN = Site(39.742476, -105.1786, 1830.14, 82000.0, 11.0)


def test_published_example_of_the_solar_position_algorithm() -> None:
    # Reda and Andreas, NREL/TP-560-34302, rev. 2008, table A5.1: 2003-10-17 12:30:30, UTC-7, delta T 67 s;
    # zenith 50.11162, azimuth 194.34024 deg; five printed digits.
    instant = pd.Timestamp("2003-10-17 19:30:30").timestamp()
    sun = sun_angles(np.array([instant]), GOLDEN, delta_t=67.0)
    assert sun.apparent_zenith[0] == pytest.approx(50.11162, abs=1e-5)
    assert sun.azimuth[0] == pytest.approx(194.34024, abs=1e-5)


def test_published_example_through_a_series(make_series) -> None:
    # the same source; one-second interval centred on the instant, mean air 11 degC and 820 mbar
    series = make_series(
        latitude=39.742476,
        longitude=-105.1786,
        utc_offset=-7.0,
        start="2003-10-17 12:30:00",
        count=1,
        step=60,
        temp_air=11.0,
        pressure=82000.0,
    )
    sun = solar_position(series)
    # our series has no elevation (it moves the sun by parallax, below 0.0001 deg) and delta T of 64.5 s
    assert sun.zenith[0] == pytest.approx(50.11162, abs=1e-4)
    assert sun.azimuth[0] == pytest.approx(194.34024, abs=3e-4)


def test_year_agrees_with_the_reference_library(greensboro, greensboro_sun) -> None:
    # pvlib.solarposition.get_solarposition, NREL algorithm, at mid-interval, whole hours of sun only
    from pvlib import solarposition

    middle = greensboro.data.index + pd.Timedelta(minutes=30) - pd.Timedelta(hours=greensboro.utc_offset)
    other = solarposition.get_solarposition(
        middle.tz_localize("UTC"),
        greensboro.latitude,
        greensboro.longitude,
        altitude=greensboro.elevation,
        pressure=greensboro.data.pressure.mean(),
        temperature=greensboro.data.temp_air.mean(),
    )
    whole = greensboro_sun.sunlit_share == 1.0
    assert whole.sum() > 4000
    zenith, azimuth = other.apparent_zenith.to_numpy(), other.azimuth.to_numpy()
    assert greensboro_sun.zenith[whole] == pytest.approx(zenith[whole], abs=1e-4)
    turn = (greensboro_sun.azimuth - azimuth + 180.0) % 360.0 - 180.0
    assert np.abs(turn[whole]).max() < 5e-4


def test_sun_is_up_where_it_is_lit_and_down_elsewhere(greensboro_sun) -> None:
    lit = greensboro_sun.sunlit_share > 0.0
    assert greensboro_sun.zenith[lit].max() < 90.0
    assert greensboro_sun.zenith[~lit].min() > 90.0
    part = lit & (greensboro_sun.sunlit_share < 1.0)
    assert part.sum() == 730  # one sunrise and one sunset a day, mathematics


@pytest.mark.parametrize("latitude", [-42.0, 36.1, 60.0])
def test_sunlit_share_agrees_with_the_sun_of_every_five_seconds(make_series, latitude: float) -> None:
    # independent solution: the algorithm evaluated every 5 s; the declination moves within the hour
    series = make_series(latitude=latitude, longitude=10.0, utc_offset=1.0, start="2001-03-20", count=72)
    sun = solar_position(series)
    fine = make_series(
        latitude=latitude, longitude=10.0, utc_offset=1.0, start="2001-03-20", count=72 * 720, step=5
    )
    up = (solar_position(fine).zenith < 90.0).reshape(72, 720).mean(axis=1)
    assert np.abs(sun.sunlit_share - up).max() * 3600.0 < 12.0


def test_noon_sun_stands_south_in_the_north_and_north_in_the_south(make_series) -> None:
    for latitude, bearing in ((40.0, 180.0), (-35.0, 0.0)):
        # 7.5 deg east of the zone's meridian the middle of the hour is near noon
        sun = solar_position(make_series(latitude=latitude, longitude=7.5, utc_offset=0.0, count=365 * 24))
        noon = np.abs(sun.solar_time - 12.0) < 0.02
        away = (sun.azimuth[noon] - bearing + 180.0) % 360.0 - 180.0
        assert noon.any()
        assert np.abs(away).max() < 1.5


def test_southern_year_is_the_northern_one_half_a_year_on(make_series) -> None:
    june, december = (
        solar_position(make_series(latitude=-35.0, longitude=157.5, utc_offset=10.0, start=start))
        for start in ("2001-06-21", "2001-12-21")
    )
    # mathematics: noon zenith is |latitude - declination|, with the obliquity 23.44 deg
    assert june.zenith.min() == pytest.approx(35.0 + 23.44, abs=0.1)
    assert december.zenith.min() == pytest.approx(35.0 - 23.44, abs=0.1)
    assert december.sunlit_share.sum() > 14.0 > 10.5 > june.sunlit_share.sum()


@pytest.mark.parametrize(
    ("offset", "longitude"), [(5.75, 85.3), (-3.5, -52.7), (9.5, 138.6), (-9.25, -139.5)]
)
def test_fractional_time_zones_mean_the_same_instants(make_series, offset: float, longitude: float) -> None:
    series = make_series(latitude=30.0, longitude=longitude, utc_offset=offset, start="2001-05-01", count=48)
    sun = solar_position(series)
    whole = sun.sunlit_share == 1.0
    middle = series.data.index + pd.Timedelta(minutes=30) - pd.Timedelta(hours=offset)
    seconds = np.array([stamp.timestamp() for stamp in middle])
    direct = sun_angles(seconds, Site(30.0, longitude, 0.0, 101325.0, 10.0))
    assert sun.zenith[whole] == pytest.approx(direct.apparent_zenith[whole], abs=1e-4)
    # solar time by hand: clock + 4 min a degree east of the zone's meridian + equation of time (under 17 min)
    clock = series.data.index.hour.to_numpy() + 0.5
    late = (sun.solar_time - clock - (longitude / 15.0 - offset) + 12.0) % 24.0 - 12.0
    assert np.abs(late[whole]).max() < 17.0 / 60.0


def test_polar_night_and_polar_day(make_series) -> None:
    night = solar_position(make_series(latitude=78.0, longitude=15.0, utc_offset=1.0, start="2001-12-21"))
    assert np.all(night.sunlit_share == 0.0)
    assert np.all(night.zenith > 90.0)
    day = solar_position(make_series(latitude=78.0, longitude=15.0, utc_offset=1.0, start="2001-06-21"))
    assert np.all(day.sunlit_share == 1.0)
    assert np.all(day.zenith < 90.0)


@pytest.mark.parametrize(
    # the half year from one equinox to the other is 186.4 days in the north and 178.8 in the south (almanac,
    # from memory); refraction of 0.58 deg at 0.397 deg of declination a day adds 1.46 days at either end
    ("latitude", "lit_days"),
    [(90.0, 189.3), (-90.0, 181.7)],
)
def test_half_the_year_is_lit_at_the_poles(make_series, latitude: float, lit_days: float) -> None:
    sun = solar_position(make_series(latitude=latitude, longitude=0.0, utc_offset=0.0, count=8760))
    for numbers in (sun.zenith, sun.azimuth, sun.sunlit_share, sun.solar_time, sun.extra_radiation):
        assert np.all(np.isfinite(numbers))
    assert sun.sunlit_share.sum() / 24.0 == pytest.approx(lit_days, abs=0.5)


def test_night_shorter_than_an_interval_leaves_both_ends_lit(make_series) -> None:
    # near the polar circle in June the middle of the disc dips below the horizon for less than an hour
    series = make_series(latitude=65.9, longitude=0.0, utc_offset=0.0, start="2001-06-20 22:00", count=5)
    dipping = solar_position(series)
    assert np.all(dipping.sunlit_share > 0.0)
    assert np.all(dipping.zenith < 90.01)


def test_no_interval_is_lost_to_warnings(greensboro: WeatherSeries) -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        sun = solar_position(greensboro)
        plane_irradiance(greensboro, sun, 90.0, 180.0)
        sky_temperature(greensboro, sun)
        cloud_cover(greensboro, sun)


def test_front_door_loads_no_heavy_library() -> None:
    code = "import sys, simengine.sun; print(sorted({'pvlib', 'pandas', 'scipy'} & set(sys.modules)))"
    run = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert run.stdout.strip() == "[]"


@pytest.mark.benchmark
def test_year_of_sun_on_a_plane_takes_under_a_third_of_a_second(greensboro: WeatherSeries) -> None:
    plane_irradiance(greensboro, solar_position(greensboro), 60.0, 180.0)
    start = time.perf_counter()
    sun: SunPosition = solar_position(greensboro)
    between = time.perf_counter()
    plane_irradiance(greensboro, sun, 60.0, 180.0)
    assert between - start < 0.15
    assert time.perf_counter() - start < 0.3
