"""NSRDB files: labels in mid-interval, steps of 60, 30 and 15 minutes, wind at 2 m, real years."""

from dataclasses import replace
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, read_weather
from simengine.weather.resample import resampled


def read(folder: Path, text: str) -> WeatherSeries:
    path = folder / "made.csv"
    path.write_text(text)
    return read_weather(path)


def test_hourly_labels_at_half_past_give_whole_hours(
    tmp_path: Path, made: ModuleType, year: WeatherSeries
) -> None:
    found = read(tmp_path, made.nsrdb_text(year, 30))
    assert found.wind_height == 2.0
    assert found.utc_offset == -5.0
    assert abs(found.closure_shift) < 0.02
    assert found.data.index.equals(year.data.index)
    np.testing.assert_allclose(found.data["ghi"], year.data["ghi"], atol=0.006)


def test_older_hourly_labels_at_the_full_hour_start_it(
    tmp_path: Path, made: ModuleType, year: WeatherSeries
) -> None:
    found = read(tmp_path, made.nsrdb_text(year, 0))
    assert found.utc_offset == -5.0
    assert abs(found.closure_shift) < 0.02


@pytest.mark.parametrize("minutes", [30, 15])
def test_finer_labels_that_start_their_interval_are_told_by_the_sun(
    tmp_path: Path, made: ModuleType, year: WeatherSeries, minutes: int
) -> None:
    fine = resampled(year, 60 * minutes)
    found = read(tmp_path, made.nsrdb_text(fine, 0))
    assert found.step == 60 * minutes
    assert len(found.data) == 8760 * 60 // minutes
    assert found.utc_offset == pytest.approx(-5.0)
    assert any("the sun shows" in finding.message for finding in found.findings)
    assert abs(found.closure_shift) < 0.02


def test_finer_instants_move_the_clock_by_half_a_step(
    tmp_path: Path, made: ModuleType, year: WeatherSeries
) -> None:
    fine = replace(resampled(year, 1800), utc_offset=-5.25)
    found = read(tmp_path, made.nsrdb_text(fine, 0))
    assert found.utc_offset == pytest.approx(-5.0)
    assert abs(found.closure_shift) < 0.02


@pytest.mark.parametrize("leap", [True, False])
def test_a_real_leap_year_keeps_its_year_and_days(
    tmp_path: Path, made: ModuleType, year: WeatherSeries, leap: bool
) -> None:
    lines = made.nsrdb_text(year, 30).replace("\n2001,", "\n2020,").rstrip("\n").split("\n")
    head, rows = lines[:3], lines[3:]
    if leap:
        end = 59 * 24
        extra = [row.replace("2020,2,28,", "2020,2,29,") for row in rows[end - 24 : end]]
        rows = rows[:end] + extra + rows[end:]
    found = read(tmp_path, "\n".join(head + rows) + "\n")
    assert len(found.data) == (8784 if leap else 8760)
    assert found.data.index[0].year == (2020 if leap else 2001)
    assert any("leap day" in finding.message for finding in found.findings) != leap


def test_a_file_in_utc_is_turned_to_the_local_time_zone(
    tmp_path: Path, made: ModuleType, year: WeatherSeries
) -> None:
    rolled = year.data.apply(lambda values: np.roll(values.to_numpy(), 5))
    text = made.nsrdb_text(replace(year, data=rolled), 30, zone=0.0)
    found = read(tmp_path, text)
    assert found.utc_offset == -5.0
    np.testing.assert_allclose(found.data["dni"], year.data["dni"], atol=0.006)


@pytest.mark.parametrize(
    ("old", "new", "reason"),
    [
        (",Longitude,", ",Long,", "no field 'Longitude'"),
        ("Year,Month,", "Year,Mon,", "no column Month"),
        ("2001,1,1,1,30", "2001,1,1,1,60", "not a date"),
        ("2001,1,1,1,30", "2001,1,1,1.5,30", "Hour: '1.5'"),
        ("2001,1,1,1,30", "2001,1,1,3,30", "a step of 180 min"),
    ],
)
def test_errors_say_what_is_wrong(
    tmp_path: Path, files: dict[str, bytes], old: str, new: str, reason: str
) -> None:
    text = files["nsrdb"].decode()
    assert old in text
    with pytest.raises(WeatherError, match=reason):
        read(tmp_path, text.replace(old, new, 1))


def test_a_last_line_without_an_end_may_be_cut(tmp_path: Path, files: dict[str, bytes]) -> None:
    with pytest.raises(WeatherError, match="isn't ended"):
        read(tmp_path, files["nsrdb"].decode()[:-2])
