"""Who may import whom and which library, and what a mere import or `--help` brings in."""

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

HEAVY = ("h5py", "matplotlib", "numba", "numpy", "pandas", "pvlib", "pydantic", "scipy", "xarray", "zarr")
LINT = "from importlinter.cli import lint_imports; raise SystemExit(lint_imports(no_cache=True))"


def lint(folder: Path) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "PYTHONPATH": str(folder), "COLUMNS": "200", "PYTHONUTF8": "1"}
    return subprocess.run(
        [sys.executable, "-c", LINT],
        cwd=folder,
        env=environment,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


def test_imports_run_downwards_and_libraries_stay_in_their_rooms(repository: Path) -> None:
    done = lint(repository)
    assert done.returncode == 0, done.stdout + done.stderr


def test_contracts_break_on_planted_imports(repository: Path, tmp_path: Path) -> None:
    shutil.copy(repository / "pyproject.toml", tmp_path)
    package = tmp_path / "simengine"
    shutil.copytree(repository / "simengine", package, ignore=shutil.ignore_patterns("__pycache__"))
    (package / "air" / "planted.py").write_text("import pandas\nimport simengine.engine\n")
    (package / "economics" / "planted.py").write_text("import click, matplotlib, numba, pvlib, zarr\n")
    (package / "an_unlisted_room.py").write_text("")
    done = lint(tmp_path)
    assert done.returncode == 1, done.stdout + done.stderr
    for trace in (
        "simengine.air.planted -> pandas",
        "simengine.air.planted -> simengine.engine",
        "- simengine.an_unlisted_room",
        *(
            f"simengine.economics.planted -> {name}"
            for name in ("click", "matplotlib", "numba", "pvlib", "zarr")
        ),
    ):
        assert trace in done.stdout


@pytest.mark.parametrize(
    "code",
    [
        pytest.param("import simengine; dir(simengine); simengine.__version__", id="import"),
        pytest.param(
            "import sys, runpy; sys.argv = ['simengine', '--help']\n"
            "try: runpy.run_module('simengine', run_name='__main__')\n"
            "except SystemExit as end: assert not end.code, end.code",
            id="help",
        ),
    ],
)
def test_starting_up_loads_no_heavy_library(code: str, repository: Path) -> None:
    report = f"\nimport sys; print('loaded:', *sorted(set({HEAVY!r}) & set(sys.modules)))"
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", code + report],
        cwd=repository,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.splitlines()[-1] == "loaded:"
