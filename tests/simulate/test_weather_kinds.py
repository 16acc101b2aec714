"""Every kind of weather the whole way through a run: steps, years, hemispheres, clocks and what-ifs."""

import dataclasses
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd
import pytest

from simengine.errors import InputError
from simengine.results import Result
from simengine.scenario import Scenario
from simengine.simulate import resolve, run
from simengine.weather import WeatherSeries, builtin, read_weather
from simengine.weather.normals import normals_of
from simengine.weather.resample import resampled
from simengine.weather.synthetic import Place, synthetic_year
from simengine.weather.writer import plain_text

STANDARD = "standard"


def quick(scenario: Scenario, **changes: Any) -> Scenario:
    """Return the scenario with long steps, which serve where years are compared with each other."""
    keys = {key.replace("__", "."): value for key, value in changes.items()}
    return scenario.changed({"run.step": "300 s", **keys})


def year_of(result: Result, house: str = STANDARD) -> dict[str, Any]:
    found: dict[str, Any] = result.summary["houses"][house]
    return found


def closes(result: Result) -> bool:
    closure = result.summary["closure"]
    return max(closure["collector"], closure["house"]) < 1e-6


@pytest.fixture(scope="module")
def hourly(demo: Scenario) -> Result:
    return run(quick(demo))


@pytest.mark.parametrize("step", [1800, pytest.param(900, marks=pytest.mark.slow)])
def test_weather_below_the_hour_runs_at_its_own_interval(demo: Scenario, hourly: Result, step: int) -> None:
    """The same means at a finer interval: sun within 1 %, heat within 3 % (the sun moves within the hour)."""
    fine = run(quick(demo), resampled(builtin("greensboro"), step))
    assert fine.hours.sizes["time"] == 8760 * 3600 // step
    assert fine.hours["time"].attrs["interval_s"] == step
    assert closes(fine)
    assert year_of(fine)["incident_kwh"] == pytest.approx(year_of(hourly)["incident_kwh"], rel=0.01)
    assert year_of(fine)["offset_kwh"] == pytest.approx(year_of(hourly)["offset_kwh"], rel=0.03)


@pytest.fixture(scope="module")
def two_years(tmp_path_factory: pytest.TempPathFactory) -> WeatherSeries:
    """Two years in a row as if measured, 2019 and 2020: the second has a leap day and is 1 K colder."""
    data = builtin("greensboro").data
    second = pd.concat([data.iloc[: 59 * 24], data.iloc[58 * 24 : 59 * 24], data.iloc[59 * 24 :]])
    second = second.assign(temp_air=second["temp_air"] - 1.0, temp_dew=second["temp_dew"] - 1.0)
    index = pd.date_range("2019-01-01", periods=17544, freq="h")
    both = pd.concat([data, second]).set_axis(index)
    path = tmp_path_factory.mktemp("measured") / "two_years.csv"
    path.write_text(plain_text(dataclasses.replace(builtin("greensboro"), data=both)))
    return read_weather(path)


def test_measured_years_in_a_row_keep_their_leap_day_and_stand_side_by_side(
    demo: Scenario, hourly: Result, two_years: WeatherSeries
) -> None:
    result = run(quick(demo), two_years)
    assert result.hours.sizes["time"] == 17544
    assert closes(result)
    block = result.summary["weather_years"]
    assert [row["year"] for row in block["rows"]] == [2019, 2020]
    first, second = (row["houses"][STANDARD] for row in block["rows"])
    assert first["offset_kwh"] == pytest.approx(year_of(hourly)["offset_kwh"], rel=0.01)
    assert second["heating_without_kwh"] > first["heating_without_kwh"]
    # mathematics: what is told in full is the mean of the years
    for key in ("incident_kwh", "offset_kwh", "heating_without_kwh", "fan_kwh"):
        assert block["spread"][STANDARD][key]["mean"] == pytest.approx(year_of(result)[key], rel=1e-9)
    assert block["rows"][1]["hdd18_kd"] > block["rows"][0]["hdd18_kd"]


def test_a_clock_of_half_an_hour_gives_the_same_year(demo: Scenario, hourly: Result) -> None:
    """Mathematics: 7.5 deg farther east and half an hour ahead is the same sun."""
    series = builtin("greensboro")
    moved = dataclasses.replace(series, longitude=series.longitude + 7.5, utc_offset=series.utc_offset + 0.5)
    result = run(quick(demo), moved)
    assert result.hours["time"].attrs["utc_offset_h"] == -4.5
    for key in ("incident_kwh", "offset_kwh"):
        assert year_of(result)[key] == pytest.approx(year_of(hourly)[key], rel=1e-3)
    for month, other in zip(year_of(result)["months"], year_of(hourly)["months"], strict=True):
        assert month["incident_kwh"] == pytest.approx(other["incident_kwh"], rel=3e-3)


@pytest.fixture(scope="module")
def southern() -> WeatherSeries:
    """The built-in year's normals half a year on, at the same latitude south."""
    found = normals_of(builtin("greensboro"))
    turned = {
        field.name: (*value[6:], *value[:6])
        for field in dataclasses.fields(found)
        if (value := getattr(found, field.name)) is not None
    }
    return synthetic_year(
        Place(-36.1, 150.0, 270.0, 10.0, "Made Up South"), dataclasses.replace(found, **turned)
    )


def test_in_the_south_the_collector_looks_north_and_heats_in_july(
    demo: Scenario, hourly: Result, southern: WeatherSeries
) -> None:
    north = run(quick(demo, collector__azimuth="0 deg", control__months=None, site__horizon=None), southern)
    south = run(quick(demo, collector__azimuth="180 deg", control__months=None, site__horizon=None), southern)
    assert closes(north)
    assert year_of(north)["offset_kwh"] > 3.0 * year_of(south)["offset_kwh"]
    need = [month["heating_without_kwh"] for month in year_of(north)["months"]]
    assert int(np.argmax(need)) in (5, 6, 7)
    # a synthetic year of the same normals, half a year on: the same need within some per cent
    assert sum(need) == pytest.approx(year_of(hourly)["heating_without_kwh"], rel=0.1)


def test_several_files_are_spread_and_the_first_is_told_in_full(demo: Scenario, hourly: Result) -> None:
    listed = quick(demo, site__weather=["builtin:greensboro", "builtin:sand_point"])
    result = run(listed)
    block = result.summary["weather_years"]
    assert block["weathers"] == 2
    assert year_of(result)["offset_kwh"] == pytest.approx(year_of(hourly)["offset_kwh"], rel=1e-12)
    saved = [row["houses"][STANDARD]["offset_kwh"] for row in block["rows"]]
    spread = block["spread"][STANDARD]["offset_kwh"]
    assert (spread["min"], spread["max"]) == (min(saved), max(saved))
    assert spread["mean"] == pytest.approx(np.mean(saved))
    assert "net_saving" in block["spread"][STANDARD]
    assert result.summary["weather"]["sha256"] != hourly.summary["weather"]["sha256"]


def test_one_weather_has_no_spread(hourly: Result) -> None:
    assert "weather_years" not in hourly.summary


def test_a_warmer_what_if_needs_less_heat_and_says_so(demo: Scenario, hourly: Result) -> None:
    warm = run(quick(demo, site__warmer="2 K"))
    assert year_of(warm)["heating_without_kwh"] < 0.9 * year_of(hourly)["heating_without_kwh"]
    assert warm.summary["weather"]["warmer_k"] == 2.0
    assert warm.summary["weather"]["station"].endswith("warmer by 2 K (what-if)")
    assert any("what-if" in warning for warning in warm.summary["weather"]["warnings"])
    assert any("what-if" in caution for caution in warm.summary["cautions"])
    assert year_of(warm)["incident_kwh"] == pytest.approx(year_of(hourly)["incident_kwh"], rel=1e-3)


def test_a_series_that_is_warm_already_is_not_warmed_again(demo: Scenario) -> None:
    asked = demo.changed({"site.warmer": "2 K"})
    once = resolve(asked)
    again = resolve(asked, once.series)
    np.testing.assert_array_equal(again.series.data["temp_air"], once.series.data["temp_air"])


def test_a_clock_is_mended_on_request_and_the_run_carries_it(demo: Scenario, tmp_path: Path) -> None:
    series = builtin("greensboro")
    late = dataclasses.replace(series, utc_offset=series.utc_offset + 0.5)
    assert resolve(demo, late).series.utc_offset == late.utc_offset
    mended = resolve(demo.changed({"site.mend_clock": True}), late).series
    assert mended.utc_offset == pytest.approx(series.utc_offset, abs=0.02)
    assert any("clock mended on request" in finding.message for finding in mended.findings)


NORMALS: dict[str, Any] = {
    "name": "Made Up",
    "latitude": "40 deg",
    "longitude": "-75 deg",
    "elevation": "100 m",
    "clock": "-5 h",
    "sun": [f"{v} kWh/m2.d" for v in (1.8, 2.6, 3.7, 4.8, 5.6, 6.2, 6.0, 5.3, 4.3, 3.1, 2.0, 1.6)],
    "temperature": [f"{v} degC" for v in (-1, 0.5, 5, 11, 16.5, 21.5, 24, 23, 19, 12.5, 7, 1.5)],
    "humidity": ["70 %"] * 12,
}


def test_a_year_is_made_from_normals_in_the_scenario(demo: Scenario) -> None:
    asked = demo.changed({"site.weather": None, "site.normals": NORMALS})
    series = resolve(asked).series
    assert series.synthetic and series.station == "Made Up" and series.utc_offset == -5.0
    found = normals_of(series)
    np.testing.assert_allclose(found.ghi[:2], (1.8, 2.6), rtol=1e-6)
    np.testing.assert_allclose(found.temp_air[:2], (-1.0, 0.5), atol=0.05)
    warm = resolve(asked.changed({"site.warmer": "2 K"})).series
    assert warm.data["temp_air"].mean() == pytest.approx(series.data["temp_air"].mean() + 2.0)
    result = run(quick(asked))
    assert result.summary["weather"]["synthetic"] is True
    assert any("synthetic" in caution for caution in result.summary["cautions"])


def test_weather_and_normals_together_are_refused(demo: Scenario) -> None:
    with pytest.raises(InputError, match="weather and normals are both given"):
        demo.changed({"site.normals": NORMALS})


def test_a_skyline_is_read_from_compass_and_inclinometer(demo: Scenario, tmp_path: Path) -> None:
    (tmp_path / "skyline.csv").write_text("compass,angle\n98,8\n143,6\n188,4\n233,6\n278,10\n")
    asked = {"site.horizon": None, "site.horizon_file": "skyline.csv", "site.declination": "-8 deg"}
    surveyed = dataclasses.replace(demo, folder=tmp_path).changed(asked)
    assert surveyed.skyline == ((90.0, 8.0), (135.0, 6.0), (180.0, 4.0), (225.0, 6.0), (270.0, 10.0))
    assert resolve(surveyed).parts.site.horizon == resolve(demo).parts.site.horizon
    before = surveyed.sha256
    (tmp_path / "skyline.csv").write_text("98,8\n143,6\n188,40\n")
    assert dataclasses.replace(surveyed).sha256 != before, "another skyline is another scenario"
    (tmp_path / "skyline.csv").write_text("98,8\nhere,there\n")
    with pytest.raises(InputError, match=r"skyline.csv:2: not two numbers"):
        resolve(dataclasses.replace(surveyed))


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ({"site.horizon_file": "skyline.csv"}, "the skyline is there twice"),
        ({"site.declination": "5 deg"}, "no compass readings to turn"),
        ({"site.weather": []}, "a list of 0 files"),
        ({"site.warmer": "20 K"}, "above 10 K"),
    ],
)
def test_what_does_not_go_together_is_refused(demo: Scenario, change: dict[str, Any], reason: str) -> None:
    with pytest.raises(InputError, match=reason):
        demo.changed(change)


def test_a_collector_lies_on_a_roof_like_on_a_wall(demo: Scenario) -> None:
    roof = demo.changed({"collector.mounting": "roof", "collector.tilt": "35 deg"})
    assert roof.assemble().collector.back.wall_resistance == demo.assemble().collector.back.wall_resistance
    ground = demo.changed(
        {"collector.mounting": "open", "collector.wall_resistance": None, "site.collector_height": "0.5 m"}
    )
    assert ground.assemble().collector.back.wall_resistance is None
