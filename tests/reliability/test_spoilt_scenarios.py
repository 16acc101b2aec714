"""However a scenario file is spoilt: an answer or lines of our own, and never beyond a stated bound."""

import warnings
from collections import Counter
from pathlib import Path

import pytest

from simengine.errors import InputError, RunEnded
from simengine.simulate.drive import Shared
from tests.reliability.checking import Hung, checked, outcome, told
from tests.reliability.spoilt_scenarios import spoilt

FEW, ALL = 400, 20_000
MARKS = ("accepted", "more problems", "needed", "no weather file")
"""One of them stands in every line: what would be right instead, or that there are more lines."""


def attack(numbers: range, folder: Path) -> tuple[Counter[str], list[str]]:
    """Return what came of the files, and every defect with the number of its file."""
    found: Counter[str] = Counter()
    defects: list[str] = []
    shared, path = Shared(), folder / "spoilt.toml"
    for number in numbers:
        way, content = spoilt(number)
        path.write_bytes(content)
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("error")
                came = outcome(lambda: checked(path, shared), (InputError, RunEnded))
            refused = isinstance(came, tuple)
            found["refused" if refused else "accepted"] += 1
            for line in came if refused else ():
                assert any(mark in line for mark in MARKS), f"says nothing of what is accepted: {line[:300]}"
        except (Exception, Hung) as defect:  # any at all is a defect; all are told at once
            defects.append(f"{number} ({way}): {type(defect).__name__}: {str(defect)[:300]}")
    return found, defects


def test_some_spoilt_scenarios(tmp_path: Path) -> None:
    found, defects = attack(range(FEW), tmp_path)
    assert not defects, "\n".join(defects)
    assert found["refused"] > FEW // 2 and found["accepted"] > FEW // 50, told(found)


@pytest.mark.slow
def test_all_spoilt_scenarios(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found, defects = attack(range(ALL), tmp_path)
    with capsys.disabled():
        print(f"\n{ALL} scenario files: {told(found)}, {len(defects)} defects")
    assert not defects, "\n".join(defects[:200])
