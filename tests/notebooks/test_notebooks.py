"""Every notebook runs from top to bottom, is stored without outputs, and uses the public interface."""

import json
import re
from pathlib import Path

import matplotlib
import pytest

FOLDER = Path(__file__).parents[2] / "notebooks"
NOTEBOOKS = sorted(FOLDER.glob("*.ipynb"))


def cells(path: Path) -> list[dict]:
    return [
        cell for cell in json.loads(path.read_text(encoding="utf-8"))["cells"] if cell["cell_type"] == "code"
    ]


def test_there_are_notebooks() -> None:
    assert NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_notebook_holds_no_outputs(path: Path) -> None:
    assert all(not cell["outputs"] and cell["execution_count"] is None for cell in cells(path))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_notebook_runs_and_stays_with_the_public_interface(path: Path) -> None:
    matplotlib.use("Agg")  # no screen is needed
    names: dict = {}
    for cell in cells(path):
        source = "".join(cell["source"])
        inside = set(re.findall(r"(?:from|import) (simengine[\w.]*)", source))
        assert inside <= {"simengine", "simengine.data_files"}
        exec(compile(source, path.name, "exec"), names)
