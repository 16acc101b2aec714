"""Years that the tests of this room share: one synthetic year of an invented place, in every format."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from simengine.weather import WeatherSeries
from simengine.weather.normals import Normals, Place
from simengine.weather.synthetic import synthetic_year

GHI = (1.8, 2.6, 3.7, 4.8, 5.6, 6.2, 6.0, 5.3, 4.3, 3.1, 2.0, 1.6)
TEMPERATURE = (-1.0, 0.5, 5.0, 11.0, 16.5, 21.5, 24.0, 23.0, 19.0, 12.5, 7.0, 1.5)
"""An invented place at 40 deg north."""


def load(name: str) -> ModuleType:
    """Load a helper beside this file by its place, whatever way the tests are collected."""
    spec = importlib.util.spec_from_file_location(f"weather_{name}", Path(__file__).with_name(f"{name}.py"))
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def made() -> ModuleType:
    """Writers of every format."""
    return load("made_files")


@pytest.fixture(scope="session")
def normals() -> Normals:
    return Normals(GHI, TEMPERATURE)


@pytest.fixture(scope="session")
def year(normals: Normals) -> WeatherSeries:
    return synthetic_year(Place(40.0, -75.0, 100.0, -5.0, "Made Up"), normals, seed=1)


@pytest.fixture(scope="session")
def universal_year(normals: Normals) -> WeatherSeries:
    """On the clock on which a PVGIS year with an offset of 0.2 h has whole hours."""
    return synthetic_year(Place(40.0, 8.0, 100.0, 0.3, "Made Up East"), normals, seed=1)


@pytest.fixture(scope="session")
def files(made: ModuleType, year: WeatherSeries, universal_year: WeatherSeries) -> dict[str, bytes]:
    found: dict[str, bytes] = made.all_formats(year, universal_year)
    return found
