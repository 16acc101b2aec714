"""What all tests share: where the repository is, an invented year, reproducible examples of hypothesis."""

import signal
from pathlib import Path
from types import ModuleType

import hypothesis
import pytest

from simengine.results import Result

hypothesis.settings.register_profile("reproducible", derandomize=True, deadline=None, max_examples=50)
hypothesis.settings.load_profile("reproducible")

# a shell lets what it starts in the background not hear Ctrl-C; what the tests start has to
signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.fixture(scope="session")
def repository() -> Path:
    """The repository's top folder."""
    return Path(__file__).resolve().parent.parent


@pytest.fixture(scope="session")
def made_up() -> ModuleType:
    """The invented year of tests/results/made_up.py."""
    from tests.results import made_up

    return made_up


@pytest.fixture(scope="session")
def result(made_up: ModuleType) -> Result:
    """A result of the invented year."""
    return Result.of(made_up.record())
