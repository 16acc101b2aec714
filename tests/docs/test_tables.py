"""The tables of the manual are those that their scripts make of the program as it is now."""

import importlib
import re
import runpy
import shutil
from pathlib import Path

import pytest

NUMBER = re.compile(r"\d+(?:\.\d+)?")
SHARE = 0.01
"""By how much a number may be off [-], or by two units of its last place: machines may round otherwise."""


def off(told: str, now: str) -> bool:
    """Whether a number of the manual is another than that of now."""
    last_place = 10.0 ** -len(told.partition(".")[2])
    gap = abs(float(told) - float(now))
    return gap > max(SHARE * abs(float(now)), 2.0 * last_place) * (1.0 + 1e-9)


def test_numbers_are_told_apart() -> None:
    assert off("670", "678") and off("0.33", "0.37")
    assert not off("670", "672") and not off("0.33", "0.32")


@pytest.mark.slow
@pytest.mark.parametrize(
    ("script", "page"),
    [
        ("air_loop", "air_side.md"),
        ("air_side", "air_side.md"),
        ("builds", "builds.md"),
        ("marginal_use", "money.md"),
        ("spaces", "house.md"),
        ("validation", "validation.md"),
    ],
)
def test_a_page_holds_what_its_script_makes(
    script: str, page: str, repository: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    docs, scripts = repository / "docs", repository / "docs" / "scripts"
    shutil.copy(docs / page, tmp_path / page)
    monkeypatch.syspath_prepend(str(scripts))
    monkeypatch.setattr(importlib.import_module("pages"), "DOCS", tmp_path)
    runpy.run_path(str(scripts / f"{script}.py"), run_name="__main__")
    told = (docs / page).read_text(encoding="utf-8").splitlines()
    now = (tmp_path / page).read_text(encoding="utf-8").splitlines()
    assert [NUMBER.sub("#", line) for line in told] == [NUMBER.sub("#", line) for line in now]
    stale = [
        f"{old}\n{new}"
        for old, new in zip(told, now, strict=True)
        if any(off(*pair) for pair in zip(NUMBER.findall(old), NUMBER.findall(new), strict=True))
    ]
    assert not stale, "\n".join(stale)
