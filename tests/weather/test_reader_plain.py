"""Plain tables: by their own first lines or by a column map, in many units, and round trips."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pandas as pd
import pint
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, builtin, read_weather
from simengine.weather.layout import KIND_OF, Layout, to_canonical
from simengine.weather.reader_plain import read_table
from simengine.weather.writer import packed, plain_text, unit_of


def write(folder: Path, text: str) -> Path:
    path = folder / "made.csv"
    path.write_text(text)
    return path


def test_a_written_series_reads_back_the_same(tmp_path: Path) -> None:
    series = builtin("sand_point")
    path = tmp_path / "again.csv.gz"
    path.write_bytes(packed(plain_text(series)))
    again = read_weather(path)
    assert again.data.equals(series.data)
    for name in (
        "station",
        "latitude",
        "longitude",
        "elevation",
        "utc_offset",
        "step",
        "wind_height",
        "findings",
    ):
        assert getattr(again, name) == getattr(series, name)


def test_a_synthetic_year_stays_labelled(tmp_path: Path, files: dict[str, bytes]) -> None:
    found = read_weather(write(tmp_path, files["plain"].decode()))
    assert found.synthetic
    assert any("synthetic" in finding.message for finding in found.findings)


def foreign(year: WeatherSeries, label_minutes: int) -> tuple[str, dict[str, tuple[str, str]]]:
    """Return somebody's table in US units and its column map."""
    data = year.data
    columns = {
        "ghi": ("Global (Btu/h ft2)", "Btu/h.ft2", data["ghi"] / 3.15459075),
        "dni": ("Beam (Wh/m2)", "Wh/m2", data["dni"]),
        "dhi": ("Diffuse (kJ/m2)", "kJ/m2", data["dhi"] * 3.6),
        "temp_air": ("Outdoor F", "degF", data["temp_air"] * 1.8 + 32.0),
        "relative_humidity": ("RH", "-", data["relative_humidity"] / 100.0),
        "pressure": ("Station pressure", "inHg", data["pressure"] / 3386.38864),
        "wind_speed": ("Wind", "mph", data["wind_speed"] / 0.44704),
    }
    times = (data.index + np.timedelta64(label_minutes, "m")).strftime("%Y-%m-%dT%H:%M")
    lines = [",".join(["when", "unused", *(title for title, _, _ in columns.values())])]
    values = [values.to_numpy().tolist() for _, _, values in columns.values()]
    lines += [",".join([time, "x", *map(str, row)]) for time, *row in zip(times, *values, strict=True)]
    return "\n".join(lines) + "\n", {name: (title, unit) for name, (title, unit, _) in columns.items()}


@pytest.mark.parametrize(("label", "minutes"), [("start", 0), ("middle", 30), ("end", 60)])
def test_somebodys_table_by_a_column_map(
    tmp_path: Path, year: WeatherSeries, label: str, minutes: int
) -> None:
    text, columns = foreign(year, minutes)
    layout = Layout(columns, 40.0, -75.0, -5.0, 100.0, label=label, time="when", station="Mine")
    found = read_table(write(tmp_path, text), layout)
    for name in ("ghi", "dni", "dhi", "temp_air", "relative_humidity", "wind_speed"):
        np.testing.assert_allclose(found.data[name], year.data[name], rtol=1e-6, atol=1e-4)
    assert found.data.index.equals(year.data.index)
    assert found.station == "Mine"


def test_a_wrong_label_is_seen_by_the_sun(tmp_path: Path, year: WeatherSeries) -> None:
    text, columns = foreign(year, 0)
    found = read_table(write(tmp_path, text), Layout(columns, 40.0, -75.0, -5.0, label="middle", time="when"))
    assert found.closure_shift == pytest.approx(0.5, abs=0.02)


@pytest.mark.parametrize(
    ("column", "unit", "pint_unit"),
    [
        ("temp_air", "degF", "degF"),
        ("temp_dew", "K", "kelvin"),
        ("pressure", "inHg", "inch_Hg"),
        ("pressure", "mbar", "millibar"),
        ("pressure", "kPa", "kilopascal"),
        ("wind_speed", "mph", "mile / hour"),
        ("wind_speed", "km/h", "kilometer / hour"),
        ("ghi", "Btu/h.ft2", "Btu / hour / foot ** 2"),
        ("ghi", "kW/m2", "kilowatt / meter ** 2"),
        ("dhi", "kJ/m2", "kilojoule / meter ** 2 / hour"),
        ("snow_depth", "in", "inch"),
        ("albedo", "%", "percent"),
    ],
)
def test_units_against_pint(column: str, unit: str, pint_unit: str) -> None:
    """Reference library: pint, for 12.5 of each unit."""
    targets = {"temperature": "degC", "irradiance": "W / m ** 2", "fraction": "", "length": "m"}
    target = targets.get(KIND_OF[column], {"pressure": "Pa", "wind_speed": "m / s"}.get(column, ""))
    expected = pint.UnitRegistry().Quantity(12.5, pint_unit).to(target).magnitude
    factor, addend = to_canonical(column, unit, 3600)
    assert 12.5 * factor + addend == pytest.approx(expected, rel=1e-5)


@pytest.mark.parametrize(
    ("old", "new", "reason"),
    [
        ("# longitude: -75.0\n", "", "no line '# longitude"),
        ("# latitude: 40.0", "# latitude: north", "latitude: 'north' is not a number"),
        ("# label: start", "# label: begin", "label 'begin'"),
        ("# label: start", "# labels: start", "'labels'; accepted"),
        ("[degC]", "[degX]", "unit 'degX'; accepted"),
        ("temp_air [degC]", "temp_out [degC]", "'temp_out' is no weather column"),
        ("temp_air [degC]", "temp_air", "'temp_air'; 'time' or"),
        ("2001-01-02 03:00", "02/01/2001 03:00", "time: '02/01/2001 03:00'"),
        ("2001-01-02 03:00", "2001-13-02 03:00", "time: '2001-13-02 03:00'"),
        ("2001-01-01 01:00", "2001-01-01 02:00", "a step of 7200 s"),
    ],
)
def test_errors_say_what_is_wrong(
    tmp_path: Path, files: dict[str, bytes], old: str, new: str, reason: str
) -> None:
    text = files["plain"].decode()
    assert old in text
    with pytest.raises(WeatherError, match=reason):
        read_weather(write(tmp_path, text.replace(old, new, 1)))


def test_a_layout_for_an_unknown_column_is_refused() -> None:
    with pytest.raises(WeatherError, match="'wind' is no weather column"):
        Layout({"wind": ("W", "m/s")}, 0.0, 0.0, 0.0)


def test_real_years_keep_theirs_when_written(tmp_path: Path, year: WeatherSeries) -> None:
    moved = replace(
        year,
        data=year.data.set_axis(
            year.data.index + (np.datetime64("2003-01-01") - np.datetime64("2001-01-01"))
        ),
    )
    again = read_weather(write(tmp_path, plain_text(moved)))
    assert again.data.index[0].year == again.data.index[-1].year == 2003


def test_several_real_years_in_a_row_with_a_leap_day(tmp_path: Path, year: WeatherSeries) -> None:
    index = pd.date_range("2019-01-01", "2021-12-31 23:00", freq="h")
    rows = (index.day_of_year.to_numpy() - 1) % 365 * 24 + index.hour.to_numpy()
    long = replace(year, data=year.data.iloc[rows].set_axis(index))
    found = read_weather(write(tmp_path, plain_text(long)))
    assert len(found.data) == (3 * 365 + 1) * 24
    assert found.data.index.equals(index)
    assert "2020-02-29 12:00" in found.data.index


@pytest.mark.parametrize("column", KIND_OF)
def test_every_canonical_unit_is_its_own(column: str) -> None:
    factor, addend = to_canonical(column, unit_of(column), 3600)
    assert (factor, addend) == (1.0, pytest.approx(0.0, abs=1e-9))
