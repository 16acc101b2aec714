"""What all tests share: where the repository is, and reproducible examples of hypothesis."""

from pathlib import Path

import hypothesis
import pytest

hypothesis.settings.register_profile("reproducible", derandomize=True, deadline=None, max_examples=50)
hypothesis.settings.load_profile("reproducible")


@pytest.fixture(scope="session")
def repository() -> Path:
    """The repository's top folder."""
    return Path(__file__).resolve().parent.parent
