"""The example scenarios, as text and as files that a test may spoil."""

from collections.abc import Callable
from pathlib import Path

import pytest

from simengine.data_files import data_folder

EXAMPLES = ("demo", "demo_metric", "demo_us")


@pytest.fixture(scope="session")
def demo_text() -> str:
    return (data_folder("scenarios") / "demo.toml").read_text(encoding="utf-8")


@pytest.fixture
def spoilt(demo_text: str, tmp_path: Path) -> Callable[..., Path]:
    """Write the demo with one piece of text replaced, as spoilt.toml."""

    def write(old: str, new: str) -> Path:
        assert demo_text.count(old) == 1, old
        path = tmp_path / "spoilt.toml"
        path.write_text(demo_text.replace(old, new), encoding="utf-8")
        return path

    return write
