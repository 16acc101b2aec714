"""What is no weather is caught: units, swapped columns, places, clocks, columns that never change."""

import itertools
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from simengine.air.properties import pressure_at_elevation
from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, builtin, read_weather
from simengine.weather.site import clock_error, standard_pressure
from simengine.weather.writer import plain_text

Change = Callable[[WeatherSeries], WeatherSeries]


def read_changed(folder: Path, series: WeatherSeries) -> WeatherSeries:
    path = folder / "made.csv"
    path.write_text(plain_text(series))
    return read_weather(path)


def column(name: str, factor: float, addend: float = 0.0) -> Change:
    def change(series: WeatherSeries) -> WeatherSeries:
        return replace(series, data=series.data.assign(**{name: series.data[name] * factor + addend}))

    return change


def both(*changes: Change) -> Change:
    def change(series: WeatherSeries) -> WeatherSeries:
        for one in changes:
            series = one(series)
        return series

    return change


@pytest.mark.parametrize("name", ["greensboro", "sand_point"])
@pytest.mark.parametrize(
    ("change", "reason"),
    [
        (both(column("temp_air", 1.8, 32.0), column("temp_dew", 1.8, 32.0)), "temp_(air|dew): .*Fahrenheit"),
        (column("temp_air", 1.0, 273.15), "temp_air: .*kelvin"),
        (column("pressure", 1e-3), "pressure: .*kPa"),
        (column("pressure", 1e-2), "pressure: .*hPa"),
        (column("relative_humidity", 1.0, 40.0), "relative_humidity: .* 0 to 100 %"),
        (column("wind_speed", 10.0), "wind_speed: .*km/h"),
        (column("ghi", 3.6), "ghi: |beam and diffuse miss"),
        (column("albedo", 100.0), "albedo: .*percent"),
        (column("temp_air", 0.0, 20.0), "temp_air: 20 in every row|temp_dew: above"),
        (column("ghi", 1e9), "ghi: .*another unit"),
    ],
)
def test_wrong_units_are_refused(tmp_path: Path, name: str, change: Change, reason: str) -> None:
    with pytest.raises(WeatherError, match=reason):
        read_changed(tmp_path, change(builtin(name)))


NAMES = ("ghi", "dni", "dhi", "temp_air", "temp_dew", "relative_humidity", "pressure", "wind_speed", "albedo")


@pytest.mark.parametrize(("one", "other"), list(itertools.combinations(NAMES, 2)))
def test_any_two_columns_swapped_are_refused(tmp_path: Path, one: str, other: str) -> None:
    series = builtin("greensboro")
    swapped = series.data.rename(columns={one: other, other: one})
    with pytest.raises(WeatherError):
        read_changed(tmp_path, replace(series, data=swapped))


@pytest.mark.parametrize(
    ("change", "warning"),
    [
        (lambda series: replace(series, utc_offset=series.utc_offset + 2.4), "h off longitude"),
        (lambda series: replace(series, elevation=2000.0), "mean pressure"),
        (column("relative_humidity", 0.3), "disagree"),
        (column("wind_speed", 0.0, 3.0), "wind_speed: 3 in every interval"),
        (column("dni", 0.7), "beam and diffuse miss"),
    ],
)
def test_what_is_odd_is_told(tmp_path: Path, change: Change, warning: str) -> None:
    findings = read_changed(tmp_path, change(builtin("greensboro"))).findings
    assert any(warning in finding.message and finding.severity == "warning" for finding in findings)


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"latitude": 95.0}, "latitude 95"),
        ({"latitude": float("nan")}, "latitude"),
        ({"longitude": 200.0}, "longitude 200"),
        ({"elevation": 12000.0}, "elevation 12000"),
        ({"utc_offset": 20.0}, "time zone 20"),
        ({"utc_offset": -15.0}, "at most 3.5 h"),
        ({"longitude": 160.0}, "at most 3.5 h"),
    ],
)
def test_places_that_cannot_be_are_refused(tmp_path: Path, change: dict[str, float], reason: str) -> None:
    with pytest.raises(WeatherError, match=reason):
        read_changed(tmp_path, replace(builtin("sand_point"), **change))  # type: ignore[arg-type]


def test_small_readings_below_zero_are_cut_and_told(tmp_path: Path) -> None:
    series = builtin("sand_point")
    night = series.data["ghi"] == 0.0
    noisy = replace(series, data=series.data.assign(ghi=series.data["ghi"].mask(night, -2.0)))
    found = read_changed(tmp_path, noisy)
    assert found.data["ghi"].min() == 0.0
    assert any("just outside" in finding.message for finding in found.findings)


@pytest.mark.parametrize("elevation", [-400.0, 0.0, 500.0, 1689.0, 4000.0])
def test_standard_pressure_is_the_air_rooms(elevation: float) -> None:
    """Two codings of the standard atmosphere (ISO 2533 and US Standard Atmosphere 1976)."""
    assert standard_pressure(elevation) == pytest.approx(pressure_at_elevation(elevation), rel=5e-5)


@pytest.mark.parametrize(
    ("zone", "longitude", "error"),
    [(-5.0, -75.0, 0.0), (14.0, -157.4, 0.493), (12.0, 178.4, 0.107), (5.75, 85.3, 0.063)],
)
def test_the_clock_is_held_against_the_longitude_over_the_date_line(
    zone: float, longitude: float, error: float
) -> None:
    assert clock_error(zone, longitude) == pytest.approx(error, abs=0.001)


def test_no_value_in_any_required_column_is_missing() -> None:
    for name in ("greensboro", "sand_point"):
        data = builtin(name).data
        assert np.isfinite(data[list(NAMES)].to_numpy()).all()
        assert data["longwave_down"].isna().all()


def test_snow_in_a_warm_summer_is_told(tmp_path: Path) -> None:
    series = builtin("greensboro")
    deep = replace(series, data=series.data.assign(snow_depth=0.05))
    told = [str(finding) for finding in read_changed(tmp_path, deep).findings]
    assert any("snow lies in" in text and "another column?" in text for text in told)
    winter = series.data.assign(snow_depth=np.where(series.data["temp_air"] < 0.0, 0.05, 0.0))
    assert not any("snow" in str(f) for f in read_changed(tmp_path, replace(series, data=winter)).findings)


def test_a_sky_that_does_not_go_with_the_air_is_told(tmp_path: Path) -> None:
    """Mathematics: 0.8 of a black body at air temperature is a usual sky, 180 W/m2 all year is none."""
    series = builtin("greensboro")
    usual = 0.8 * 5.670374e-8 * (series.data["temp_air"] + 273.15) ** 4
    told = []
    for sky in (usual, 180.0, usual * 0.5):
        made = replace(series, data=series.data.assign(longwave_down=sky))
        told.append(any("longwave_down" in str(found) for found in read_changed(tmp_path, made).findings))
    assert told == [False, True, True]
