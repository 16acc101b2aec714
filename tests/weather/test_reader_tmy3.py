"""TMY3 files, against the reference reader of pvlib and against known sums."""

from pathlib import Path

import numpy as np
import pvlib
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, read_weather

DATA = Path(pvlib.__file__).parent / "data"
PAIRS = {
    "ghi": 1.0,
    "dni": 1.0,
    "dhi": 1.0,
    "temp_air": 1.0,
    "temp_dew": 1.0,
    "relative_humidity": 1.0,
    "pressure": 100.0,
    "wind_speed": 1.0,
}


@pytest.mark.parametrize("name", ["703165TY.csv", "723170TYA.CSV"])
def test_against_pvlibs_reader(name: str) -> None:
    """Reference library: pvlib.iotools.read_tmy3, whose labels end the hour."""
    theirs, meta = pvlib.iotools.read_tmy3(DATA / name, coerce_year=2001, map_variables=True)
    ours = read_weather(DATA / name)
    for column, factor in PAIRS.items():
        np.testing.assert_allclose(ours.data[column], theirs[column] * factor, atol=1e-9)
    ends = theirs.index.tz_localize(None)[:-1]
    assert (ends == ours.data.index[1:]).all()
    assert (ours.latitude, ours.longitude) == (meta["latitude"], meta["longitude"])
    assert (ours.utc_offset, ours.elevation) == (meta["TZ"], meta["altitude"])
    assert abs(ours.closure_shift) < 0.02
    assert ours.closure_rmse < 2.0


def test_greensboro_has_a_default_albedo_and_sand_point_its_own() -> None:
    greensboro, sand_point = (read_weather(DATA / name) for name in ("723170TYA.CSV", "703165TY.csv"))
    assert (greensboro.data["albedo"] == 0.2).all()
    assert any("albedo" in finding.message for finding in greensboro.findings)
    assert sand_point.data["albedo"].iloc[0] == 0.24


def test_the_year_comes_back(tmp_path: Path, files: dict[str, bytes], year: WeatherSeries) -> None:
    path = tmp_path / "made.csv"
    path.write_bytes(files["tmy3"])
    found = read_weather(path)
    np.testing.assert_allclose(found.data["dni"], year.data["dni"], atol=0.001)
    assert found.data.index.equals(year.data.index)


@pytest.mark.parametrize(
    ("old", "new", "reason"),
    [
        ("01/02/1999,05:00", "13/02/1999,05:00", "made.csv:31: not a date"),
        ("01/02/1999,05:00", "01-02-1999,05:00", "made.csv:31: date: '01-02-1999'"),
        ("01/02/1999,05:00", "01/02/1999,5h", "made.csv:31: time: '5h'"),
        (",-5.0,40.0,", ",-5.0,90.5,", "latitude 90.5"),
        ("Dry-bulb (C)", "Dry bulb", "temp_air: not in the file"),
    ],
)
def test_errors_name_the_line(
    tmp_path: Path, files: dict[str, bytes], old: str, new: str, reason: str
) -> None:
    text = files["tmy3"].decode()
    assert old in text
    path = tmp_path / "made.csv"
    path.write_text(text.replace(old, new, 1))
    with pytest.raises(WeatherError, match=reason):
        read_weather(path)


def test_missing_codes_are_gaps(tmp_path: Path, files: dict[str, bytes]) -> None:
    lines = files["tmy3"].decode().split("\n")
    parts = lines[500].split(",")
    parts[9] = "-9900"
    lines[500] = ",".join(parts)
    path = tmp_path / "made.csv"
    path.write_text("\n".join(lines))
    assert any(
        finding.message.startswith("pressure: 1 missing value") for finding in read_weather(path).findings
    )
