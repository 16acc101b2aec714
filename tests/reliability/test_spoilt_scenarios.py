"""However a scenario file is spoilt: an answer or lines of our own, and never beyond a stated bound."""

from collections import Counter
from pathlib import Path

import pytest

from simengine.errors import InputError, RunEnded
from simengine.simulate.drive import Shared
from tests.reliability.checking import attack, checked, outcome, told
from tests.reliability.spoilt_scenarios import spoilt

FEW, ALL = 400, 20_000
MARKS = ("accepted", "more problems", "needed", "no weather file")
"""One of them stands in every line: what would be right instead, or that there are more lines."""


def attacked(numbers: range, folder: Path) -> tuple[Counter[str], list[str]]:
    """Return what came of the files, and every defect with the number of its file."""
    shared, path = Shared(), folder / "spoilt.toml"

    def one(number: int) -> str:
        path.write_bytes(spoilt(number)[1])
        came = outcome(lambda: checked(path, shared), (InputError, RunEnded))
        refused = isinstance(came, tuple)
        for line in came if refused else ():
            assert any(mark in line for mark in MARKS), f"says nothing of what is accepted: {line[:300]}"
        return "refused" if refused else "accepted"

    return attack(numbers, one)


def test_some_spoilt_scenarios(tmp_path: Path) -> None:
    found, defects = attacked(range(FEW), tmp_path)
    assert not defects, "\n".join(defects)
    assert found["refused"] > FEW // 2 and found["accepted"] > FEW // 50, told(found)


@pytest.mark.slow
def test_all_spoilt_scenarios(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found, defects = attacked(range(ALL), tmp_path)
    with capsys.disabled():
        print(f"\n{ALL} scenario files: {told(found)}, {len(defects)} defects")
    assert not defects, "\n".join(defects[:200])
