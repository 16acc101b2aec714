"""Short gaps are filled where the truth would have been; long ones are refused by date."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, builtin, read_weather
from simengine.weather.writer import plain_text

NOON_IN_JULY = 190 * 24 + 11


def with_gap(folder: Path, names: tuple[str, ...], first: int, hours: int) -> WeatherSeries:
    lines = plain_text(builtin("greensboro")).split("\n")
    top = next(number for number, line in enumerate(lines) if line.startswith("time,"))
    titles = [title.split(" ")[0] for title in lines[top].split(",")]
    for row in range(top + 1 + first, top + 1 + first + hours):
        parts = lines[row].split(",")
        for name in names:
            parts[titles.index(name)] = ""
        lines[row] = ",".join(parts)
    path = folder / "made.csv"
    path.write_text("\n".join(lines))
    return read_weather(path)


@pytest.mark.parametrize("hours", [1, 6])
def test_temperature_goes_along_a_straight_line(tmp_path: Path, hours: int) -> None:
    found = with_gap(tmp_path, ("temp_air",), 4000, hours).data["temp_air"].to_numpy()
    straight = np.interp(np.arange(hours) + 1, [0, hours + 1], [found[3999], found[4000 + hours]])
    np.testing.assert_allclose(found[4000 : 4000 + hours], straight, atol=1e-9)


def test_radiation_follows_the_sun_and_not_a_straight_line(tmp_path: Path) -> None:
    truth = builtin("greensboro").data
    clear = int(truth["dni"].rolling(24).sum().to_numpy()[23::24].argmax()) * 24
    found = with_gap(tmp_path, ("ghi", "dni", "dhi"), clear + 8, 6).data
    ghi, filled = truth["ghi"].to_numpy(), found["ghi"].to_numpy()
    rows = np.arange(clear + 8, clear + 14)
    straight = np.interp(rows, [clear + 7, clear + 14], ghi[[clear + 7, clear + 14]])
    np.testing.assert_allclose(filled[rows], ghi[rows], rtol=0.2)
    assert np.abs(filled[rows] - ghi[rows]).sum() < 0.6 * np.abs(straight - ghi[rows]).sum()


def test_a_gap_at_night_stays_dark(tmp_path: Path) -> None:
    found = with_gap(tmp_path, ("ghi", "dni", "dhi"), 0, 5).data
    assert found["ghi"].iloc[:5].sum() == 0.0


def test_every_column_is_counted_by_itself(tmp_path: Path) -> None:
    found = with_gap(tmp_path, ("wind_speed", "pressure"), 100, 4)
    messages = [finding.message for finding in found.findings]
    assert sum("4 missing values in 1 gap" in message for message in messages) == 2


def test_one_of_dew_point_and_humidity_is_enough(tmp_path: Path) -> None:
    truth = builtin("greensboro").data
    found = with_gap(tmp_path, ("relative_humidity",), 3000, 400).data
    assert np.abs(found["relative_humidity"] - truth["relative_humidity"]).mean() < 0.2


@pytest.mark.parametrize(
    ("hours", "names"), [(7, ("temp_air",)), (72, ("wind_speed",)), (300, ("ghi", "dhi"))]
)
def test_longer_gaps_are_refused_with_their_dates(tmp_path: Path, hours: int, names: tuple[str, ...]) -> None:
    with pytest.raises(WeatherError, match=rf"{names[0]}: missing from 10 Jul 11:00 to .*\({hours} h\)"):
        with_gap(tmp_path, names, NOON_IN_JULY, hours)


def test_an_optional_column_with_a_long_gap_is_left_out(tmp_path: Path) -> None:
    series = builtin("greensboro")
    infrared = series.data["temp_air"] * 4.0 + 250.0
    path = tmp_path / "made.csv"
    lines = plain_text(replace(series, data=series.data.assign(longwave_down=infrared))).split("\n")
    top = next(number for number, line in enumerate(lines) if line.startswith("time,"))
    for row in range(top + 500, top + 600):
        lines[row] = lines[row].rsplit(",", 1)[0] + ","
    path.write_text("\n".join(lines))
    found = read_weather(path)
    assert found.data["longwave_down"].isna().all()
    assert any(finding.message.startswith("longwave_down: 100 missing") for finding in found.findings)
