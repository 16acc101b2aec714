"""One exit status a cause, all problems at once, and nothing in a message that steers the terminal."""

import os
import sys
from pathlib import Path

import click
import pytest

from simengine.cli.exits import guarded
from simengine.errors import InputError, RunEnded, SimengineError


def raising(error: BaseException) -> object:
    """Return a call that fails with this error."""

    def call() -> None:
        raise error

    return call


@pytest.mark.parametrize(
    ("error", "status"),
    [
        (ZeroDivisionError("oops"), 1),
        (KeyError("key"), 1),
        (InputError("a: wrong; accepted: right", "b: wrong"), 2),
        (SimengineError("something of ours"), 2),
        (click.UsageError("no such thing"), 2),
        (PermissionError(13, "Permission denied", "somewhere"), 2),
        (RunEnded("weather row 7 unusable"), 3),
        (KeyboardInterrupt(), 130),
        (click.Abort(), 130),
    ],
)
def test_each_cause_has_its_status(
    error: BaseException, status: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert guarded(raising(error)) == status
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.strip()
    assert "Traceback" not in captured.err


def test_a_status_of_the_command_is_kept() -> None:
    assert guarded(lambda: 3) == 3
    assert guarded(lambda: None) == 0


def test_all_problems_have_a_line_each(capsys: pytest.CaptureFixture[str]) -> None:
    guarded(raising(InputError("first", "second", "third")))
    assert capsys.readouterr().err.splitlines() == ["first", "second", "third"]


def test_a_defect_saves_its_traceback_and_says_where(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    guarded(raising(ZeroDivisionError("oops")))
    (line,) = capsys.readouterr().err.splitlines()
    path = Path(line.rsplit(" ", 1)[-1])
    assert path.parent == tmp_path
    assert "ZeroDivisionError: oops" in path.read_text(encoding="utf-8")


def test_a_missing_file_of_the_program_is_a_defect_not_the_users_fault() -> None:
    own = Path(sys.modules["simengine"].__file__ or "").parent / "gone.toml"
    assert guarded(raising(FileNotFoundError(2, "No such file or directory", str(own)))) == 1


def test_control_characters_do_not_reach_the_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    guarded(raising(InputError("a\x1b[2Jb\rc")))
    assert capsys.readouterr().err == "a [2Jb c\n"


def test_a_reader_that_leaves_early_is_no_failure() -> None:
    read, write = os.pipe()
    os.close(read)
    stream = os.fdopen(write, "w")
    before, sys.stdout = sys.stdout, stream
    try:
        assert guarded(lambda: print("x" * 10)) == 0
    finally:
        sys.stdout = before
        stream.close()
