"""The invented year and the demo, for tests that attack what is written and read."""

import importlib.util
from pathlib import Path

import pytest

from simengine.results import Result
from simengine.simulate.known_answers import cooling_node, stagnation_point


@pytest.fixture(scope="session")
def result() -> Result:
    """A result of the invented year, loaded by its place whatever way the tests are collected."""
    place = Path(__file__).parents[1] / "results" / "made_up.py"
    spec = importlib.util.spec_from_file_location("made_up_year", place)
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return Result.of(module.record())


@pytest.fixture(scope="session", autouse=True)
def compiled() -> None:
    """Compile before any clock runs: an alarm that breaks compiling off leaves a function half made."""
    cooling_node(1)
    stagnation_point()
