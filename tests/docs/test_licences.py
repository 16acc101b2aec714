"""The page of licences names what the program pulls in, as pinned, each under a fitting licence."""

import re
import runpy
from pathlib import Path
from typing import Any

import pytest

ROW = re.compile(r"^\| (?:\*\*)?([\w.-]+?)(?:\*\*)? \| (\d[\w.]*) \| (.+) \|$", re.MULTILINE)


@pytest.fixture(scope="module")
def script(repository: Path) -> dict[str, Any]:
    return runpy.run_path(str(repository / "docs" / "scripts" / "licences.py"))


@pytest.fixture(scope="module")
def page(repository: Path) -> dict[str, tuple[str, str]]:
    """Version and licence of each package on the page."""
    written = (repository / "docs" / "licences.md").read_text(encoding="utf-8")
    return {name: (version, licence) for name, version, licence in ROW.findall(written)}


def test_the_page_names_what_is_pulled_in(script: dict[str, Any], page: dict[str, tuple[str, str]]) -> None:
    installed = script["pulled_in"](script["asked_for"]())
    # an environment of other versions may pull in other packages; the pinned one is told whole
    same = {name: one for name, one in installed.items() if name in page and page[name][0] == one.version}
    if len(same) >= len(page) - 2:
        assert not set(installed) - set(page), "run docs/scripts/licences.py"
    assert {name: script["licence"](one) for name, one in same.items()} == {
        name: page[name][1] for name in same
    }
    assert {str(one.name).lower() for one in script["asked_for"]()} <= set(page)


def test_the_page_tells_the_pinned_versions(repository: Path, page: dict[str, tuple[str, str]]) -> None:
    pins = (repository / ".ci" / "constraints.txt").read_text(encoding="utf-8").splitlines()
    assert not {f"{name}=={version}" for name, (version, _) in page.items()} - {
        pin.split(";")[0].strip() for pin in pins
    }, "run docs/scripts/licences.py"


def test_each_licence_allows_use_under_that_of_the_program(
    script: dict[str, Any], page: dict[str, tuple[str, str]]
) -> None:
    assert len(page) > 30
    assert [name for name, (_, licence) in page.items() if not script["compatible"](licence)] == []


@pytest.mark.parametrize("stated", ["", "GPL-3.0-only", "MIT AND GPL-2.0-or-later", "Proprietary"])
def test_a_licence_that_does_not_fit_is_found(script: dict[str, Any], stated: str) -> None:
    assert not script["compatible"](stated)


def test_of_two_licences_to_choose_from_one_is_enough(script: dict[str, Any]) -> None:
    assert script["compatible"]("Apache-2.0 OR GPL-2.0-only")
