"""The open EPW hourly weather format, with the habits that its files have."""

from collections.abc import Callable
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, read_weather


@pytest.fixture
def read(tmp_path: Path) -> Callable[[str | bytes], WeatherSeries]:
    def reader(text: str | bytes) -> WeatherSeries:
        path = tmp_path / "made.epw"
        path.write_bytes(text if isinstance(text, bytes) else text.encode())
        return read_weather(path)

    return reader


@pytest.fixture(scope="module")
def text(files: dict[str, bytes]) -> str:
    return files["epw"].decode()


def test_the_year_comes_back_with_the_start_of_each_hour(
    read: Callable, year: WeatherSeries, text: str
) -> None:
    found = read(text)
    for name in ("ghi", "dni", "dhi", "temp_air", "temp_dew", "wind_speed"):
        np.testing.assert_allclose(found.data[name], year.data[name], atol=0.006)
    assert found.data.index.equals(year.data.index)
    assert (found.latitude, found.longitude, found.utc_offset, found.elevation) == (40.0, -75.0, -5.0, 100.0)
    assert (found.wind_height, found.step, found.format) == (10.0, 3600, "EPW")
    assert found.station == "Made, Up, NOWHERE"
    assert abs(found.closure_shift) < 0.02


@pytest.mark.parametrize("minute", ["0", "00", "60", "30"])
def test_the_minute_field_means_nothing(read: Callable, text: str, minute: str) -> None:
    assert read(text.replace(",60,?9", f",{minute},?9")).data.equals(read(text).data)


@pytest.mark.parametrize(
    "change",
    [
        lambda text: b"\xef\xbb\xbf" + text.encode(),
        lambda text: text.replace("\n", "\r\n").encode(),
        lambda text: text.replace("\n", "\r").encode(),
        lambda text: text.encode() + b"\n\n\x1a",
        lambda text: text.rstrip("\n").encode(),
        lambda text: text.replace("NOWHERE", "Zürich").encode("latin-1"),
        lambda text: text.replace("COMMENTS 1,an", "COMMENTS 1,first\nCOMMENTS 1,an").encode(),
        lambda text: text.replace("COMMENTS 2,\n", "").encode(),
        lambda text: text.replace(",5,5,20,", ",05, 5,20,").encode(),
    ],
)
def test_habits_of_files_change_nothing(read: Callable, text: str, change: Callable) -> None:
    assert read(change(text)).data.equals(read(text).data)


def replaced(text: str, field: int, value: str, first: int, count: int) -> str:
    lines = text.split("\n")
    for number in range(8 + first, 8 + first + count):
        parts = lines[number].split(",")
        parts[field] = value
        lines[number] = ",".join(parts)
    return "\n".join(lines)


@pytest.mark.parametrize(
    ("field", "code", "column"),
    [
        (6, "99.9", "temp_air"),
        (6, "99.90", "temp_air"),
        (9, "999999", "pressure"),
        (9, "999999.0", "pressure"),
        (13, "9999", "ghi"),
        (14, "9999.", "dni"),
        (21, "999", "wind_speed"),
        (21, "999.0", "wind_speed"),
        (21, "", "wind_speed"),
        (21, "NaN", "wind_speed"),
    ],
)
def test_missing_codes_become_short_gaps_that_are_filled_and_counted(
    read: Callable, text: str, field: int, code: str, column: str
) -> None:
    found = read(replaced(text, field, code, 4000, 6))
    assert np.isfinite(found.data[column]).all()
    assert any(finding.message.startswith(f"{column}: 6 missing") for finding in found.findings)
    assert (
        abs(found.data[column].iloc[4003] - read(text).data[column].iloc[4003])
        < 0.5 * found.data[column].max()
    )


def test_a_longer_gap_is_an_error_with_its_dates(read: Callable, text: str) -> None:
    with pytest.raises(WeatherError, match=r"temp_air: missing from 01 Mar 00:00 to 03 Mar 23:00 \(72 h\)"):
        read(replaced(text, 6, "99.9", 59 * 24, 72))


@pytest.mark.parametrize("code", ["0", "999", "999.000", "0.999", ""])
def test_no_albedo_means_a_fifth(read: Callable, text: str, code: str) -> None:
    assert (read(replaced(text, 32, code, 0, 8760)).data["albedo"] == 0.2).all()


def test_zero_infrared_means_none(read: Callable, text: str) -> None:
    assert read(replaced(text, 12, "0", 0, 8760)).data["longwave_down"].isna().all()
    assert (read(replaced(text, 12, "310", 0, 8760)).data["longwave_down"] == 310.0).all()


def test_snow_depth_is_in_centimetres(read: Callable, text: str) -> None:
    assert (read(replaced(text, 30, "25", 0, 8760)).data["snow_depth"] == 0.25).all()


@pytest.mark.parametrize(
    ("old", "new", "reason"),
    [
        ("LOCATION,", "LOCATION,x", r"time zone|latitude|swap"),
        (",40.0,-75.0,", ",-75.0,40.0,", "h off longitude"),
        (",40.0,-75.0,", ",140.0,-75.0,", "latitude 140"),
        (",40.0,-75.0,-5.0,", ",40.0,75.0,-5.0,", "10.0 h off longitude"),
        (",40.0,-75.0,", ",forty,-75.0,", "1: latitude: 'forty' is not a number"),
        ("PERIODS,1,1,Data", "PERIODS,1,7,Data", "records an hour"),
        ("\n2001,1,1,1,60", "\n2001,1,32,1,60", "not a date"),
        ("\n2001,1,1,2,60", "\n2001,1,1,1,60", "01 Jan 00:00 is there twice"),
        ("\n2001,6,1,5,60", "\n2001,6,1,25,60", "not a date"),
    ],
)
def test_wrong_headers_and_dates_are_named(
    read: Callable, text: str, old: str, new: str, reason: str
) -> None:
    assert old in text
    with pytest.raises(WeatherError, match=reason):
        read(text.replace(old, new, 1) if new != "LOCATION,x" else text.replace(",100.0\n", "\n", 1))


def test_a_missing_row_is_named_by_its_date(read: Callable, text: str) -> None:
    lines = text.split("\n")
    del lines[8 + 100]
    with pytest.raises(
        WeatherError, match=r"made.epw:109: rows are missing from 05 Jan 04:00 to 05 Jan 05:00; 8759"
    ):
        read("\n".join(lines))


def test_half_hourly_records_are_read_where_the_header_declares_them(
    read: Callable, made: ModuleType, year: WeatherSeries
) -> None:
    lines = made.epw_text(year).replace("DATA PERIODS,1,1,", "DATA PERIODS,1,2,").rstrip("\n").split("\n")
    doubled = lines[:8] + [line for row in lines[8:] for line in (row.replace(",60,", ",30,", 1), row)]
    found = read("\n".join(doubled) + "\n")
    assert found.step == 1800
    np.testing.assert_allclose(found.data["temp_air"].to_numpy()[::2], year.data["temp_air"], atol=0.006)


def test_against_pvlibs_reader(tmp_path: Path, text: str) -> None:
    """Reference library: pvlib.iotools.read_epw; its index is the end of the hour less one hour."""
    from pvlib.iotools import read_epw

    path = tmp_path / "made.epw"
    path.write_text(text.replace('"Made, Up"', "Made Up"))
    theirs, meta = read_epw(path)
    ours = read_weather(path)
    for name in ("ghi", "dni", "dhi", "temp_air", "temp_dew", "relative_humidity", "wind_speed"):
        np.testing.assert_allclose(ours.data[name], theirs[name], atol=1e-9)
    np.testing.assert_allclose(ours.data["pressure"], theirs["atmospheric_pressure"], atol=1e-9)
    assert (theirs.index.tz_localize(None).hour == ours.data.index.hour).all()
    assert meta["TZ"] == ours.utc_offset
