"""A synthetic year keeps its normals, comes from its seed alone, and stands near the real year."""

import time
from dataclasses import replace

import numpy as np
import pandas as pd
import pvlib
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, builtin
from simengine.weather.normals import DAYS, Normals, Place, normals_of
from simengine.weather.synthetic import synthetic_year
from simengine.weather.synthetic_air import day_means, range_of_days, spread_of_days
from simengine.weather.synthetic_sun import clearness_quantiles

YEARS = ("greensboro", "sand_point")


def like(series: WeatherSeries, seed: int, full: bool = True) -> WeatherSeries:
    found = normals_of(series)
    normals = found if full else Normals(found.ghi, found.temp_air)
    place = Place(series.latitude, series.longitude, series.elevation, series.utc_offset, "like")
    return synthetic_year(place, normals, seed)


def plane(series: WeatherSeries, tilt: float) -> float:
    """Return a south plane's year [kWh/m2], Hay-Davies, ground 0.2 (reference library: pvlib)."""
    index = pd.DatetimeIndex(series.data.index)
    times = (index + pd.Timedelta(hours=0.5 - series.utc_offset)).tz_localize("UTC")
    sun = pvlib.solarposition.get_solarposition(times, series.latitude, series.longitude)
    data = series.data.set_axis(times)
    total = pvlib.irradiance.get_total_irradiance(
        tilt,
        180.0,
        sun["apparent_zenith"],
        sun["azimuth"],
        data["dni"],
        data["ghi"],
        data["dhi"],
        dni_extra=pvlib.irradiance.get_extra_radiation(times),
        model="haydavies",
        albedo=0.2,
    )
    return float(total["poa_global"].fillna(0.0).sum() / 1000.0)


def degree_days(series: WeatherSeries) -> float:
    daily = series.data["temp_air"].resample("D").mean()
    return float(np.maximum(18.0 - daily, 0.0).sum())


@pytest.mark.parametrize("name", YEARS)
@pytest.mark.parametrize("seed", [0, 1, 2])
def test_a_year_from_its_own_normals_stands_near_the_real_one(name: str, seed: int) -> None:
    """Open data: NREL TMY3. Plane at 60 deg within 7 %, degree days 3 %, hours below the base 4 points."""
    real = builtin(name)
    made = like(real, seed)
    assert plane(made, 60.0) == pytest.approx(plane(real, 60.0), rel=0.07)
    assert degree_days(made) == pytest.approx(degree_days(real), rel=0.03)
    for base in (15.0, 18.0):
        share = [float((series.data["temp_air"] < base).mean()) for series in (made, real)]
        assert share[0] == pytest.approx(share[1], abs=0.04)


def test_radiation_and_temperature_alone_do_nearly_as_well_inland() -> None:
    real = builtin("greensboro")
    made = like(real, 0, full=False)
    assert plane(made, 60.0) == pytest.approx(plane(real, 60.0), rel=0.07)
    assert degree_days(made) == pytest.approx(degree_days(real), rel=0.03)


def test_the_months_are_those_of_the_normals(year: WeatherSeries, normals: Normals) -> None:
    found = normals_of(year)
    np.testing.assert_allclose(found.ghi, normals.ghi, rtol=1e-6)
    np.testing.assert_allclose(found.temp_air, normals.temp_air, atol=0.05)
    np.testing.assert_allclose(found.wind_speed, normals.wind_speed, rtol=1e-6)


def test_humidity_of_the_months_is_kept() -> None:
    real = builtin("greensboro")
    np.testing.assert_allclose(
        normals_of(like(real, 4)).relative_humidity, normals_of(real).relative_humidity, atol=0.3
    )


def test_the_same_seed_gives_the_same_year_and_another_another(year: WeatherSeries, normals: Normals) -> None:
    place = Place(year.latitude, year.longitude, year.elevation, year.utc_offset, year.station)
    assert synthetic_year(place, normals, 1).data.equals(year.data)
    assert synthetic_year(place, normals, 1).sha256 == year.sha256
    other = synthetic_year(place, normals, 2)
    assert not other.data.equals(year.data)
    assert other.sha256 != year.sha256


def test_it_is_labelled_and_closes(year: WeatherSeries) -> None:
    assert year.synthetic
    assert year.format == "synthetic"
    assert any(finding.message.startswith("synthetic:") for finding in year.findings)
    assert year.closure_rmse < 0.5
    assert (year.data["dhi"] <= year.data["ghi"] + 1e-6).all()


def test_it_takes_less_than_a_tenth_of_a_second(normals: Normals) -> None:
    place = Place(40.0, -75.0, 100.0, -5.0)
    best = 1.0
    for seed in range(3):
        begin = time.perf_counter()
        synthetic_year(place, normals, seed)
        best = min(best, time.perf_counter() - begin)
    assert best < 0.1


def test_the_south_has_its_summer_in_january(normals: Normals) -> None:
    turned = replace(
        normals,
        ghi=(*normals.ghi[6:], *normals.ghi[:6]),
        temp_air=(*normals.temp_air[6:], *normals.temp_air[:6]),
    )
    made = synthetic_year(Place(-40.0, 175.6, 10.0, 12.0, "South"), turned)
    found = normals_of(made)
    assert found.ghi[0] > 2.0 * found.ghi[6]
    assert abs(made.closure_shift) < 0.02


@pytest.mark.parametrize("zone", [5.75, -3.5, 9.5, 12.75])
def test_fractional_time_zones(normals: Normals, zone: float) -> None:
    made = synthetic_year(Place(40.0, (15.0 * zone + 180.0) % 360.0 - 180.0, 0.0, zone), normals)
    noon = made.data["ghi"].to_numpy().reshape(365, 24).mean(axis=0)
    assert noon.argmax() in (11, 12)
    assert abs(made.closure_shift) < 0.02


def test_polar_night_is_dark() -> None:
    ghi = (0.0, 0.3, 1.5, 3.5, 4.5, 5.0, 4.5, 3.0, 1.5, 0.4, 0.0, 0.0)
    made = synthetic_year(Place(72.0, 20.0, 0.0, 1.0), Normals(ghi, (-10.0,) * 12))
    assert made.data["ghi"].to_numpy()[: 10 * 24].sum() == 0.0


@pytest.mark.parametrize("mean", [0.1, 0.3, 0.45, 0.6, 0.7, 0.78])
@pytest.mark.parametrize("count", [28, 31])
def test_days_of_a_month_have_its_clearness(mean: float, count: int) -> None:
    days = clearness_quantiles(mean, count)
    assert days.mean() == pytest.approx(mean, abs=1e-6)
    assert days.min() >= 0.03
    assert days.max() <= 0.8


def test_daily_clearness_spreads_as_liu_and_jordan_found() -> None:
    """From memory of Liu and Jordan (1960): at a mean of 0.5 a fifth of the days lie below about a third."""
    assert clearness_quantiles(0.5, 1000)[200] == pytest.approx(0.33, abs=0.06)


def test_degree_days_at_the_mean_are_those_of_erbs() -> None:
    """Mathematics: 0.2041 sigma N^1.5 (Erbs et al. 1983, from memory) against a normal spread."""
    temperatures = np.array([0.0, 1.0, 5.0, 10.0, 15.0, 20.0, 22.0, 21.0, 17.0, 11.0, 6.0, 2.0])
    spread = spread_of_days(temperatures, DAYS)
    monthly = 1.45 - 0.029 * temperatures + 0.0664 * temperatures.std(ddof=1)
    month = np.repeat(np.arange(12), DAYS)
    means = day_means(month, (temperatures, spread), np.random.default_rng(0))
    for number in range(12):
        below = np.maximum(temperatures[number] - means[month == number], 0.0).sum()
        assert below == pytest.approx(monthly[number] * DAYS[number] ** 1.5 * 0.2041, rel=0.05)


def test_clear_months_swing_wider() -> None:
    assert (np.diff(range_of_days(np.array([0.3, 0.5, 0.7]))) > 0.0).all()


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"ghi": (1.0,) * 11}, "ghi: 11 values"),
        ({"ghi": (20.0,) * 12}, "ghi: 20"),
        ({"temp_air": (80.0,) * 12}, "temp_air: 80"),
        ({"relative_humidity": (0.5,) * 12}, "relative_humidity: 0.5"),
        ({"wind_speed": (float("nan"),) * 12}, "wind_speed: nan"),
    ],
)
def test_normals_of_no_place_are_refused(
    normals: Normals, change: dict[str, tuple[float, ...]], reason: str
) -> None:
    with pytest.raises(WeatherError, match=reason):
        replace(normals, **change)  # type: ignore[arg-type]


def test_more_sun_than_there_is_is_refused(normals: Normals) -> None:
    with pytest.raises(WeatherError, match=r"ghi: 1.6 kWh/m2 a day in month 12; at most"):
        synthetic_year(Place(62.0, 10.0, 0.0, 1.0), replace(normals, ghi=(0.3,) * 11 + (1.6,)))
