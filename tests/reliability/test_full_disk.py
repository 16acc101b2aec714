"""A sweep on a disk that runs full: what is done is kept, and with room again it goes on to the same end."""

import errno
import shutil
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from simengine.batch.plan import plan_of
from simengine.batch.sweep import open_sweep, run_plan, status, sweep
from simengine.results import Result
from tests.batch.sweeps import small

SIZE = 640 * 1024
"""Room for the small sweep, but not for it and a filler as well [byte]."""


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A small disk of its own, in memory."""
    folder = tmp_path / "disk"
    folder.mkdir()
    mount = shutil.which("mount")
    words = [mount or "mount", "-t", "tmpfs", "-o", f"size={SIZE}", "tmpfs", str(folder)]
    made = mount is not None and subprocess.run(words, capture_output=True, check=False).returncode == 0
    if not made:
        pytest.skip("no small disk can be mounted here (needs Linux and root)")
    try:
        yield folder
    finally:
        subprocess.run(["umount", str(folder)], check=True)


def filled(disk: Path, room: int) -> Path:
    """Fill a disk but for some room [byte]."""
    filler = disk / "filler"
    filler.write_bytes(bytes(max(0, shutil.disk_usage(disk).free - room)))
    return filler


@pytest.mark.parametrize("room", [4096, 12 * 1024, 40 * 1024, 200 * 1024])
def test_a_full_disk_keeps_what_is_done(room: int, disk: Path, tmp_path: Path) -> None:
    folder = disk / "sweep"
    filler = filled(disk, room)
    with pytest.raises(OSError) as stopped:
        run_plan(plan_of(small()), folder)
    assert stopped.value.errno == errno.ENOSPC
    assert not (folder / "plan.json").is_file() or not status(folder).complete
    assert not any(path.name.startswith(".") and path.is_file() for path in folder.rglob(".*.part"))
    filler.unlink()
    run_plan(plan_of(small()), folder)
    with sweep(small(), tmp_path / "undisturbed") as whole, open_sweep(folder) as found:
        assert found.identical(whole)


def test_a_run_on_a_full_disk_leaves_nothing_and_says_why(disk: Path, result: Result) -> None:
    filled(disk, 60 * 1024)  # for the summary, not for the hours
    with pytest.raises(OSError) as stopped:
        result.save(disk / "run")
    assert stopped.value.errno == errno.ENOSPC
    assert [path.name for path in disk.iterdir()] == ["filler"]
