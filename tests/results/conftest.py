"""The invented year for every test of this room."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from simengine.results import Result


def load_made_up() -> ModuleType:
    """Load the shared invented year by its place, whatever way the tests are collected."""
    place = Path(__file__).parents[1] / "results" / "made_up.py"
    spec = importlib.util.spec_from_file_location("made_up_year", place)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="session")
def made_up() -> ModuleType:
    return load_made_up()


@pytest.fixture(scope="session")
def result(made_up: ModuleType) -> Result:
    return Result.of(made_up.record())
