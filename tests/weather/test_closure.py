"""The closure scan finds where the sun stands, in the whole year and in single months."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
import pytest

from simengine.weather import WeatherSeries, builtin, read_weather
from simengine.weather.mend import clock_mended
from simengine.weather.writer import plain_text


def again(folder: Path, series: WeatherSeries) -> WeatherSeries:
    path = folder / "made.csv"
    path.write_text(plain_text(series))
    return read_weather(path)


def radiation_moved(series: WeatherSeries, hours: int, months: tuple[int, ...]) -> WeatherSeries:
    data = series.data.copy()
    rows = np.isin(pd.DatetimeIndex(data.index).month, months)
    for name in ("ghi", "dni", "dhi"):
        data[name] = np.where(rows, np.roll(data[name].to_numpy(), -hours), data[name])
    return replace(series, data=data)


@pytest.mark.parametrize("name", ["greensboro", "sand_point"])
@pytest.mark.parametrize("shift", [-1.2, -0.5, 0.0, 0.3, 1.0])
def test_a_shifted_clock_is_found_to_a_hundredth_of_an_hour(tmp_path: Path, name: str, shift: float) -> None:
    series = builtin(name)
    found = again(tmp_path, replace(series, utc_offset=series.utc_offset + shift))
    assert found.closure_shift == pytest.approx(shift, abs=0.03)
    told = [finding for finding in found.findings if "off the file's time label" in finding.message]
    assert bool(told) == (abs(shift) > 0.25)


def test_only_the_months_that_are_off_are_named(tmp_path: Path) -> None:
    found = again(tmp_path, radiation_moved(builtin("greensboro"), 1, (6, 7)))
    told = [finding.when for finding in found.findings if "off the file's time label" in finding.message]
    assert len(told) == 1
    assert told[0].startswith("Jun +0.9") or told[0].startswith("Jun +1.0")
    assert "Jul" in told[0]
    assert "May" not in told[0]
    assert "Aug" not in told[0]


def test_a_good_file_has_no_closure_warning() -> None:
    for name in ("greensboro", "sand_point"):
        series = builtin(name)
        assert series.closure_rmse < 2.0
        assert abs(series.closure_shift) < 0.01
        assert not any(finding.severity == "warning" for finding in series.findings)


def test_a_noisy_month_is_named(tmp_path: Path) -> None:
    series = builtin("greensboro")
    rows = pd.DatetimeIndex(series.data.index).month == 4
    noisy = series.data["dhi"].mask(rows, np.minimum(series.data["dhi"] * 0.6, series.data["ghi"]))
    found = again(tmp_path, replace(series, data=series.data.assign(dhi=noisy)))
    told = [finding.when for finding in found.findings if "miss the global" in finding.message]
    assert len(told) == 1
    assert told[0].startswith("Apr ")


def test_mending_the_clock_puts_the_sun_right_and_says_so() -> None:
    series = builtin("greensboro")
    mended = clock_mended(replace(series, utc_offset=series.utc_offset + 0.5))
    assert mended.utc_offset == pytest.approx(series.utc_offset, abs=0.02)
    assert abs(mended.closure_shift) < 0.01
    assert any("clock mended on request" in finding.message for finding in mended.findings)
    assert mended.data.equals(series.data)


def test_mending_single_months_moves_their_radiation_back() -> None:
    series = builtin("greensboro")
    mended = clock_mended(radiation_moved(series, 1, (6, 7)))
    np.testing.assert_allclose(mended.data["dni"], series.data["dni"])
    assert mended.closure_rmse == pytest.approx(series.closure_rmse, abs=0.01)
    assert any("radiation of some months moved" in finding.message for finding in mended.findings)


def test_mending_a_good_file_changes_nothing() -> None:
    series = builtin("sand_point")
    assert clock_mended(series) is series
