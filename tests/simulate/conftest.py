"""The demo scenario, read once."""

import pytest

from simengine.data_files import data_path
from simengine.scenario import Scenario, load
from simengine.simulate import Resolved, resolve


@pytest.fixture(scope="session")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo.toml"))


@pytest.fixture(scope="session")
def resolved(demo: Scenario) -> Resolved:
    return resolve(demo)
