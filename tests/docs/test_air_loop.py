"""The table of a loop's parts in the manual is what the program gives now."""

import re
import runpy
import sys
from pathlib import Path

import pytest


def test_the_parts_of_the_loop_are_the_programs(repository: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    scripts = repository / "docs" / "scripts"
    monkeypatch.setattr(sys, "path", [str(scripts), *sys.path])
    made = runpy.run_path(str(scripts / "air_loop.py"))["parts"]()
    page = (repository / "docs" / "air_side.md").read_text(encoding="utf-8")
    found = re.search(r"<!-- parts -->\n\n(.*?)\n\n<!-- end of parts -->", page, re.DOTALL)
    assert found is not None
    assert made == found[1], "run docs/scripts/air_loop.py"
