"""The page of cited values: its tests exist, and it says where it comes from."""

import re
from pathlib import Path

TESTS = Path(__file__).parents[1]


def test_every_test_on_the_page_is_there(repository: Path) -> None:
    page = (repository / "docs" / "cited_values.md").read_text(encoding="utf-8")
    named = set(re.findall(r"^\| `(test_\w+)`", page, re.MULTILINE))
    there = {
        name
        for file in TESTS.rglob("test_*.py")
        for name in re.findall(r"def (test_\w+)", file.read_text("utf-8"))
    }
    assert len(named) > 50
    assert named <= there, "run docs/scripts/cited_values.py"


def test_every_row_has_its_standing(repository: Path) -> None:
    page = (repository / "docs" / "cited_values.md").read_text(encoding="utf-8")
    rows = [line for line in page.splitlines() if line.startswith("| `test_")]
    standings = {row.split(" | ")[3] for row in rows}
    assert standings <= {
        "from memory",
        "published",
        "published, read",
        "mathematics",
        "independent solution",
        "common practice",
    }
