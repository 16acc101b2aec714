"""One invented bench for all tests of the room."""

import pytest

from simengine.simulate import resolve
from simengine.simulate.measured import Bench
from tests.fieldtest.bench import scenario


@pytest.fixture(scope="session")
def bench() -> Bench:
    return Bench.of(resolve(scenario()))
