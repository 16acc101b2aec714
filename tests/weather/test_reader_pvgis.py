"""PVGIS typical years: one year in three forms is one series, its sun where the radiation saw it."""

from dataclasses import replace
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, read_weather
from simengine.weather.normals import Normals, Place
from simengine.weather.synthetic import synthetic_year

FORMS = {"pvgis_csv": "made.csv", "pvgis_json": "made.json", "pvgis_epw": "made.epw"}


@pytest.fixture(scope="module")
def three(tmp_path_factory: pytest.TempPathFactory, files: dict[str, bytes]) -> dict[str, WeatherSeries]:
    folder = tmp_path_factory.mktemp("pvgis")
    found = {}
    for form, name in FORMS.items():
        (folder / name).write_bytes(files[form])
        found[form] = read_weather(folder / name)
    return found


def test_three_forms_of_one_year_are_one_series(three: dict[str, WeatherSeries]) -> None:
    csv, json, epw = three.values()
    for name in ("ghi", "dni", "dhi", "temp_air", "temp_dew", "pressure", "wind_speed"):
        np.testing.assert_allclose(json.data[name], csv.data[name], atol=1e-9)
        np.testing.assert_allclose(epw.data[name], csv.data[name], atol=0.06)
    assert csv.data.index.equals(epw.data.index)
    assert csv.utc_offset == json.utc_offset == epw.utc_offset


def test_each_interval_is_centred_on_the_instant_of_its_radiation(three: dict[str, WeatherSeries]) -> None:
    """Label 00:00 UTC, radiation 0.2 h later: the interval begins 0.3 h before the label."""
    csv = three["pvgis_csv"]
    assert csv.utc_offset == pytest.approx(0.3)
    assert abs(csv.closure_shift) < 0.01
    assert csv.closure_rmse < 0.1


@pytest.mark.parametrize(
    ("longitude", "offset", "clock"),
    [(139.7, 0.0, 9.5), (-105.2, 0.2, -6.7), (-105.2, -0.3, -7.2), (77.2, 0.45, 5.05), (179.9, 0.0, 11.5)],
)
def test_the_utc_year_is_turned_to_the_sites_own_day(
    tmp_path: Path, made: ModuleType, normals: Normals, longitude: float, offset: float, clock: float
) -> None:
    local = synthetic_year(Place(40.0, longitude, 100.0, clock, "far"), normals, seed=3)
    turn = round(clock - (0.5 - offset))
    rolled = local.data.apply(lambda values: np.roll(values.to_numpy(), -turn))
    year = replace(local, data=rolled)
    path = tmp_path / "made.csv"
    path.write_text(made.pvgis_csv_text(year, offset))
    found = read_weather(path)
    assert found.utc_offset == pytest.approx(clock)
    np.testing.assert_allclose(found.data["dni"], local.data["dni"], atol=0.006)
    np.testing.assert_allclose(found.data["temp_air"], local.data["temp_air"], atol=0.006)
    assert abs(found.closure_shift) < 0.02
    assert any("turned" in finding.message for finding in found.findings)


def test_a_file_without_its_offset_is_told_of(tmp_path: Path, files: dict[str, bytes]) -> None:
    path = tmp_path / "made.csv"
    path.write_bytes(files["pvgis_csv"].replace(b"Irradiance Time Offset (h): 0.2\n", b""))
    found = read_weather(path)
    assert any("no irradiance time offset" in finding.message for finding in found.findings)
    assert found.closure_shift == pytest.approx(0.2, abs=0.02)


@pytest.mark.parametrize(
    ("form", "old", "new", "reason"),
    [
        ("pvgis_csv", "Elevation (m)", "Height (m)", "no line 'Elevation"),
        ("pvgis_csv", "20010103:0500", "20010103 0500", "'20010103 0500'"),
        ("pvgis_csv", "20010103:0500", "20010103:0600", "rows are missing"),
        ("pvgis_json", '"tmy_hourly": [', '"tmy_hourly": {"a": [', "damaged or cut-off JSON"),
        ("pvgis_json", '"latitude": 40.0', '"latitude": "x"', "latitude: 'x' is not a number"),
        ("pvgis_json", '"latitude": 40.0', '"latitude": NaN', "is not a number"),
        ("pvgis_json", '"tmy_hourly"', '"tmy_hourly_"', "no typical year"),
    ],
)
def test_errors_say_what_is_wrong(
    tmp_path: Path, files: dict[str, bytes], form: str, old: str, new: str, reason: str
) -> None:
    text = files[form].decode()
    assert old in text
    path = tmp_path / "made"
    path.write_text(text.replace(old, new, 1))
    with pytest.raises(WeatherError, match=reason):
        read_weather(path)


def test_deeply_nested_json_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "made.json"
    path.write_text('{"tmy_hourly": ' + "[" * 200_000)
    with pytest.raises(WeatherError, match="JSON"):
        read_weather(path)
