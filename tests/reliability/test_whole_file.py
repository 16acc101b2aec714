"""A file is whole or absent, whatever happens while it is written, and is never overwritten unasked."""

import os
import random
import subprocess
import sys
import time
from pathlib import Path

import pytest

from simengine.errors import InputError
from simengine.results import Result, open_result, store
from simengine.whole_file import write_whole

HEAD = "import sys; from pathlib import Path; "
FILES = HEAD + (
    "from simengine.whole_file import write_whole; target = Path(sys.argv[1]); print(flush=True)\n"
    "for number in range(10**9): write_whole(target, bytes([number % 256]) * 3_000_000, replace=True)"
)
RESULTS = HEAD + (
    "from simengine.results import open_result; kept = open_result(sys.argv[2]); print(flush=True)\n"
    "for _ in range(10**9): kept.save(Path(sys.argv[1]), replace=True)"
)


def killed_after(program: str, arguments: list[Path], seconds: float) -> None:
    """Run a child that writes without end, and kill it some time after its first write may begin."""
    child = subprocess.Popen(
        [sys.executable, "-c", program, *map(str, arguments)],
        stdout=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    assert child.stdout is not None
    child.stdout.readline()
    time.sleep(seconds)
    child.kill()
    child.wait()
    child.stdout.close()


def whole_or_absent(path: Path) -> bool:
    if not path.exists():
        return True
    content = path.read_bytes()
    return len(content) == 3_000_000 and len(set(content)) == 1


def kill_files(folder: Path, times: int) -> None:
    draw = random.Random(1)
    for _ in range(times):
        killed_after(FILES, [folder / "table.csv"], draw.uniform(0.0, 0.15))
        assert whole_or_absent(folder / "table.csv")


def kill_results(kept: Path, folder: Path, times: int) -> None:
    draw = random.Random(2)
    wanted = store.identity(open_result(kept).summary)
    for _ in range(times):
        killed_after(RESULTS, [folder, kept], draw.uniform(0.0, 0.4))
        for place in (folder, folder.with_name(f"{folder.name}.previous")):
            if place.exists():
                assert store.identity(open_result(place).summary) == wanted


def test_a_kill_leaves_a_file_whole_or_absent(tmp_path: Path) -> None:
    kill_files(tmp_path, 3)


def test_a_kill_leaves_a_result_whole_or_absent(result: Result, tmp_path: Path) -> None:
    kill_results(result.save(tmp_path / "kept"), tmp_path / "year", 1)


@pytest.mark.slow
def test_many_kills_leave_files_and_results_whole_or_absent(result: Result, tmp_path: Path) -> None:
    kill_files(tmp_path, 60)
    kill_results(result.save(tmp_path / "kept"), tmp_path / "year", 40)


def test_a_file_that_is_there_stays(tmp_path: Path) -> None:
    path = tmp_path / "mine.txt"
    path.write_text("mine")
    with pytest.raises(InputError, match="there already"):
        write_whole(path, "other")
    assert path.read_text() == "mine"
    write_whole(path, "other", replace=True)
    assert path.read_text() == "other"
    assert [file.name for file in tmp_path.iterdir()] == ["mine.txt"]


def test_a_page_that_is_there_stays(result: Result, tmp_path: Path) -> None:
    page = result.report(tmp_path / "page.html")
    with pytest.raises(InputError, match="there already"):
        result.report(page)
    assert result.report(page, replace=True) == page


def test_a_disk_without_links_serves_as_well(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def no_links(*_: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(os, "link", no_links)
    write_whole(tmp_path / "a", "1")
    assert (tmp_path / "a").read_text() == "1"
    with pytest.raises(InputError, match="there already"):
        write_whole(tmp_path / "a", "2")
    assert [file.name for file in tmp_path.iterdir()] == ["a"]


def test_a_full_disk_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OSError, match="No space left"):
        write_whole(tmp_path / "a", "1")
    assert list(tmp_path.iterdir()) == []


def refuse(*_: object) -> None:
    raise PermissionError(13, "the file is open in another program")


def test_a_file_open_elsewhere_keeps_the_finished_one_aside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "table.csv"
    path.write_text("old")
    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(InputError, match="open in another program") as told:
        write_whole(path, "new", replace=True)
    (line,) = told.value.problems
    (aside,) = (file for file in tmp_path.iterdir() if file != path)
    assert aside.name in line and aside.read_text() == "new"
    assert path.read_text() == "old"


def test_a_folder_open_elsewhere_keeps_the_finished_result_aside(
    result: Result, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Path, "rename", refuse)
    with pytest.raises(InputError, match="open in another program") as told:
        result.save(tmp_path / "year")
    (aside,) = tmp_path.iterdir()
    assert aside.name in str(told.value)
    assert open_result(aside).summary == result.summary
