"""The built-in years: rebuilt from their source, hashed, and equal to known sums."""

import gzip
import hashlib
import importlib.util
import time
import tomllib
from pathlib import Path
from types import ModuleType

import numpy as np
import pandas as pd
import pvlib
import pytest

from simengine.data_files import data_folder
from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, builtin, builtin_names, read_weather
from simengine.weather.library import BUILTIN, builtin_path


@pytest.fixture(scope="module")
def make() -> ModuleType:
    spec = importlib.util.spec_from_file_location("make_weather", data_folder("weather") / "make.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def manifest() -> dict[str, dict[str, str]]:
    return tomllib.loads((data_folder("weather") / "MANIFEST.toml").read_text())


@pytest.mark.parametrize("name", BUILTIN)
def test_the_source_and_our_file_have_the_manifests_hashes(
    make: ModuleType, manifest: dict[str, dict[str, str]], name: str
) -> None:
    told = manifest[name]
    data = builtin_path(name).read_bytes()
    assert told["file"] == builtin_path(name).name
    assert told["source_file"] == make.SOURCES[name]
    assert hashlib.sha256(make.source_path(name).read_bytes()).hexdigest() == told["source_sha256"]
    assert hashlib.sha256(data).hexdigest() == told["sha256"] == builtin(name).sha256
    assert hashlib.sha256(gzip.decompress(data)).hexdigest() == told["content_sha256"]


@pytest.mark.parametrize("name", BUILTIN)
def test_building_again_gives_the_same_text(make: ModuleType, name: str) -> None:
    assert make.built(name).encode() == gzip.decompress(builtin_path(name).read_bytes())


@pytest.mark.parametrize("name", BUILTIN)
def test_the_built_in_year_is_its_source(make: ModuleType, name: str) -> None:
    ours, source = builtin(name), read_weather(make.source_path(name))
    pd.testing.assert_frame_equal(ours.data, source.data, rtol=0.0, atol=1e-9, check_freq=False)
    for field in ("latitude", "longitude", "elevation", "utc_offset", "step", "wind_height", "station"):
        assert getattr(ours, field) == getattr(source, field)


def test_the_manifest_names_the_provider_and_the_terms(manifest: dict[str, dict[str, str]]) -> None:
    assert "National Solar Radiation Data Base" in manifest["terms"]["provider"]
    assert "public domain" in manifest["terms"]["licence"]


def degree_days(series: WeatherSeries) -> float:
    daily = series.data["temp_air"].resample("D").mean()
    return float(np.maximum(18.0 - daily, 0.0).sum())


def vertical_south(series: WeatherSeries) -> float:
    """Return the isotropic irradiation of a south wall [kWh/m2], ground 0.2, sun at mid-interval."""
    middle = pd.DatetimeIndex(series.data.index) + pd.Timedelta(hours=0.5 - series.utc_offset)
    sun = pvlib.solarposition.get_solarposition(middle.tz_localize("UTC"), series.latitude, series.longitude)
    zenith, azimuth = np.radians(sun["apparent_zenith"].to_numpy()), np.radians(sun["azimuth"].to_numpy())
    cosine = np.maximum(-np.sin(zenith) * np.cos(azimuth), 0.0) * (zenith < np.pi / 2)
    data = series.data
    total = data["dni"] * cosine + 0.5 * data["dhi"] + 0.5 * 0.2 * data["ghi"]
    return float(total.sum() / 1000.0)


def test_greensboros_degree_days() -> None:
    """2081.5 K d from daily means, +-0.5 %: independent solution from the same open file (TMY3 723170)."""
    assert degree_days(builtin("greensboro")) == pytest.approx(2081.5, rel=0.005)


def test_greensboros_south_wall() -> None:
    """1085.2 kWh/m2 (isotropic, ground 0.2), +-0.5 %: independent solution from the same open file."""
    assert vertical_south(builtin("greensboro")) == pytest.approx(1085.2, rel=0.005)


def test_an_unknown_name_lists_the_known_ones() -> None:
    with pytest.raises(WeatherError, match="accepted: greensboro, sand_point"):
        builtin("atlantis")


def test_the_public_names() -> None:
    assert builtin_names() == ("greensboro", "sand_point")


def test_reading_a_built_in_year_is_quick() -> None:
    builtin("greensboro")
    begin = time.perf_counter()
    builtin("greensboro")
    assert time.perf_counter() - begin < 0.5


def test_an_index_is_whole_and_uniform() -> None:
    index = builtin("sand_point").data.index
    assert index.tz is None
    assert (index[0], index[-1]) == (pd.Timestamp("2001-01-01 00:00"), pd.Timestamp("2001-12-31 23:00"))
    assert (np.diff(index.to_numpy()) == np.timedelta64(1, "h")).all()


def test_the_folder_holds_what_the_library_names() -> None:
    assert {path.name for path in Path(data_folder("weather")).glob("*.gz")} == set(BUILTIN.values())
