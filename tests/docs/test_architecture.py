"""The picture of the rooms shows today's imports, and the table of rooms their own sentences."""

import re
import runpy
import sys
from pathlib import Path
from typing import Any

import grimp
import pytest


@pytest.fixture
def script(repository: Path, monkeypatch: pytest.MonkeyPatch) -> dict[str, Any]:
    scripts = repository / "docs" / "scripts"
    monkeypatch.setattr(sys, "path", [str(scripts), *sys.path])
    return runpy.run_path(str(scripts / "rooms.py"))


def test_the_picture_is_todays(script: dict[str, Any], repository: Path) -> None:
    drawn = (repository / "docs" / "rooms.svg").read_text(encoding="utf-8")
    assert drawn == script["picture"](), "run docs/scripts/rooms.py"


def test_the_table_is_todays(script: dict[str, Any], repository: Path) -> None:
    page = (repository / "docs" / "architecture.md").read_text(encoding="utf-8")
    found = re.search(r"<!-- rooms -->\n\n(.*?)\n\n<!-- end of rooms -->", page, re.DOTALL)
    assert found is not None
    assert found[1] == script["table"](), "run docs/scripts/rooms.py"


def test_an_independent_reading_of_the_imports_finds_the_same(
    script: dict[str, Any], repository: Path
) -> None:
    drawn = (repository / "docs" / "rooms.svg").read_text(encoding="utf-8")
    shown = set(re.findall(r"<title>(\w+) uses (\w+)</title>", drawn))
    rooms = {room for layer in script["layers"]() for room in layer}
    graph = grimp.build_graph("simengine", cache_dir=None)
    found = set()
    for module in graph.modules:
        room = (*module.split("."), "")[1]
        for used in graph.find_modules_directly_imported_by(module):
            other = (*used.split("."), "")[1]
            if room in rooms and other in rooms and room != other:
                found.add((room, other))
    assert shown == found


def test_only_a_result_looks_upwards(script: dict[str, Any]) -> None:
    rooms = [room for layer in script["layers"]() for room in layer]
    upwards = {(user, used) for user, used in script["uses"]() if rooms.index(user) > rooms.index(used)}
    assert upwards == {("results", "report")}
