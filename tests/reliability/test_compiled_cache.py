"""The compiler's cache holds pickles: it is the user's own and closed to others, or it is not used."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

from simengine import compiled
from simengine.data_files import data_path

posix = pytest.mark.skipif(not hasattr(os, "getuid"), reason="this system knows no owners and modes")


@pytest.fixture
def private(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder below which nothing is shared, as a home folder is."""
    real = Path.stat

    def closed(path: Path, **how: bool) -> os.stat_result:
        status = real(path, **how)
        if path in tmp_path.parents:  # folders for temporary files are shared
            return os.stat_result((status.st_mode & ~0o022, *status[1:]))
        return status

    monkeypatch.setattr(Path, "stat", closed)
    return tmp_path


@posix
def test_a_new_folder_is_closed_to_others(private: Path) -> None:
    assert compiled.refusal(private / "a" / "b") == ""
    assert (private / "a" / "b").lstat().st_mode & 0o777 == 0o700


@posix
@pytest.mark.parametrize("mode", [0o777, 0o770, 0o755, 0o701])
def test_a_folder_open_to_others_is_refused(private: Path, mode: int) -> None:
    folder = private / "cache"
    folder.mkdir()
    folder.chmod(mode)
    assert f"mode {mode:04o}" in compiled.refusal(folder)


@posix
def test_a_folder_of_somebody_else_is_refused(private: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "getuid", lambda: 12345)
    assert "not the user's own" in compiled.refusal(private / "cache")


@posix
def test_a_link_to_elsewhere_is_refused(private: Path) -> None:
    (private / "real").mkdir(mode=0o700)
    (private / "cache").symlink_to(private / "real")
    assert "not the user's own" in compiled.refusal(private / "cache")


@posix
def test_a_folder_below_a_shared_one_is_refused(private: Path) -> None:
    (private / "shared").mkdir()
    (private / "shared").chmod(0o1777)
    assert "everybody may write" in compiled.refusal(private / "shared" / "cache")


def test_a_folder_that_cannot_be_made_is_refused(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    assert "cannot be made" in compiled.refusal(tmp_path / "file" / "cache")


def test_this_process_keeps_its_code_where_nobody_else_writes() -> None:
    assert compiled.CACHE_REFUSED == "" and compiled.slowness() == ""


BLOCKED = (
    "import sys\n"
    "sys.modules['numba'] = None\n"
    "from simengine.cli import main\n"
    "main(sys.argv[1:], prog_name='simengine')\n"
)


def test_without_numba_the_run_goes_on_and_says_how_slow() -> None:
    done = subprocess.run(
        [sys.executable, "-c", BLOCKED, "point", str(data_path("scenarios", "demo.toml")), "--json"],
        capture_output=True,
        text=True,
        timeout=300,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    assert done.returncode == 0
    (line,) = done.stderr.splitlines()
    assert line.startswith("numba cannot be imported: the run goes on uncompiled")
    assert done.stdout.startswith("{")


@posix
def test_with_a_shared_cache_the_run_goes_on_and_keeps_nothing(tmp_path: Path) -> None:
    (tmp_path / "simengine").mkdir()
    (tmp_path / "simengine").chmod(0o777)
    program = (
        "from simengine import compiled; from simengine.air.properties import density\n"
        "print(compiled.slowness()); print(f'{density(293.15, 101325.0):.4f}')"
    )
    done = subprocess.run(
        [sys.executable, "-c", program],
        capture_output=True,
        text=True,
        timeout=300,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "XDG_CACHE_HOME": str(tmp_path)},
    )
    assert done.returncode == 0 and done.stderr == ""
    line, answer = done.stdout.splitlines()
    assert "compiles anew" in line and answer == "1.2041"
    assert not [path for path in tmp_path.rglob("*") if path.is_file()]
