"""Real open files that aren't part of the project: tried where an environment variable says where they lie.

Known sums of US TMY3 stations in the open EPW hourly weather format (US-government data) and of a PVGIS
typical year ((c) European Union): heating degree days to 18 degC from daily means, global irradiation, mean
temperature; independent solutions from the same files, printed to the last digit shown.
"""

import importlib.util
import os
from pathlib import Path
from types import ModuleType

import numpy as np
import pytest

from simengine.weather import WeatherSeries, read_weather
from simengine.weather.mend import agreement_of

FOLDER = os.environ.get("SIMENGINE_WEATHER_FILES", "")
pytestmark = pytest.mark.skipif(not FOLDER, reason="SIMENGINE_WEATHER_FILES names no folder of weather files")

SUMS = [
    ("boulder_co_tmy3.epw.zip", 3194, 1655, 10.3),
    ("buffalo_ny_tmy3.epw.zip", 3561, 1359, 9.0),
    ("intl_falls_mn_tmy3.epw.zip", 5507, 1261, 3.4),
    ("newark_nj_tmy3.epw.zip", 2715, 1422, 12.5),
    ("pvgis_45N_8E_tmy.csv.gz", 2103, 1436, 13.6),
    ("pvgis_45N_8E_tmy.json.gz", 2103, 1436, 13.6),
    ("pvgis_45N_8E_tmy.epw.gz", 2103, 1436, 13.6),
    ("greensboro_nc_tmy3_derived.nc", 2082, 1566, 14.4),
]


def read(name: str) -> WeatherSeries:
    path = Path(FOLDER) / name
    if not path.is_file():
        pytest.skip(f"{name} isn't in the folder")
    return read_weather(path)


@pytest.mark.parametrize(("name", "degree_days", "irradiation", "mean"), SUMS)
def test_known_sums(name: str, degree_days: float, irradiation: float, mean: float) -> None:
    series = read(name)
    daily = series.data["temp_air"].resample("D").mean()
    assert np.maximum(18.0 - daily, 0.0).sum() == pytest.approx(degree_days, abs=1.0)
    assert series.data["ghi"].sum() / 1000.0 == pytest.approx(irradiation, abs=0.6)
    assert series.data["temp_air"].mean() == pytest.approx(mean, abs=0.06)
    assert abs(series.closure_shift) < 0.05


def test_three_forms_of_one_year_agree() -> None:
    csv, json, epw = (read(f"pvgis_45N_8E_tmy.{form}.gz") for form in ("csv", "json", "epw"))
    for name in csv.data:
        np.testing.assert_allclose(json.data[name], csv.data[name], atol=1e-9)
        np.testing.assert_allclose(epw.data[name], csv.data[name], atol=0.051)


CLEAN = (
    "boulder_co_tmy3.epw.zip",
    "buffalo_ny_tmy3.epw.zip",
    "intl_falls_mn_tmy3.epw.zip",
    "newark_nj_tmy3.epw.zip",
    "pvgis_45N_8E_tmy.csv.gz",
    "greensboro_nc_tmy3_derived.nc",
)
NOISY = {"boulder_co_tmy3.epw.zip": (5, 6)}
"""June and July of that file's source years are known to be noisy; months counted from 0."""


@pytest.mark.parametrize("name", CLEAN)
def test_the_closure_is_best_at_no_shift_in_every_month(name: str) -> None:
    found = agreement_of(read(name))
    sound = [month for month in range(12) if month not in NOISY.get(name, ())]
    np.testing.assert_allclose(found.months[sound], 0.0, atol=0.05)
    assert (found.month_rmse[sound] < 15.0).all()
    assert abs(found.shift) < 0.02


@pytest.mark.parametrize("name", CLEAN)
def test_nothing_is_found_that_is_not_there(name: str) -> None:
    warnings = [finding for finding in read(name).findings if finding.severity != "info"]
    assert len(warnings) == (1 if name in NOISY else 0)


@pytest.mark.parametrize("name", CLEAN)
def test_a_synthetic_year_stands_near_the_real_one(name: str, synthetic_tests: ModuleType) -> None:
    """Plane at 60 deg within 7 %, degree days within 3 %, hours that want heat within 4 points."""
    real = read(name)
    for seed in range(3):
        made = synthetic_tests.like(real, seed)
        assert synthetic_tests.plane(made, 60.0) == pytest.approx(synthetic_tests.plane(real, 60.0), rel=0.07)
        days = synthetic_tests.degree_days
        assert days(made) == pytest.approx(days(real), rel=0.03)
        for base in (15.0, 18.0):
            share = [float((series.data["temp_air"] < base).mean()) for series in (made, real)]
            assert share[0] == pytest.approx(share[1], abs=0.04)


@pytest.fixture(scope="module")
def synthetic_tests() -> ModuleType:
    """The measures that the built-in years are held to as well."""
    place = Path(__file__).with_name("test_synthetic.py")
    spec = importlib.util.spec_from_file_location("synthetic_measures", place)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_noisy_months_of_a_real_file_are_named() -> None:
    told = [finding.when for finding in read("boulder_co_tmy3.epw.zip").findings if "miss" in finding.message]
    assert len(told) == 1
    assert told[0].startswith("Jun")
    assert "Jul" in told[0]
