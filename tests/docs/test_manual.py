"""The manual builds without a warning, its links lead somewhere, and its generated page is the program's."""

import re
import runpy
import subprocess
import sys
from pathlib import Path

import pytest

PAGES = sorted((Path(__file__).parents[2] / "docs").rglob("*.md"))
LINK = re.compile(r"\]\(([^)#\s]+)(?:#[^)]*)?\)")


def test_it_builds_without_a_warning(repository: Path, tmp_path: Path) -> None:
    pytest.importorskip("sphinx", reason="sphinx is not installed")
    command = [
        sys.executable,
        "-m",
        "sphinx",
        "-q",
        "-W",
        "--keep-going",
        "-b",
        "html",
        "-d",
        str(tmp_path / "trees"),
    ]
    done = subprocess.run(
        [*command, str(repository / "docs"), str(tmp_path / "html")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert (tmp_path / "html" / "quick_start.html").is_file()


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_its_links_lead_somewhere(page: Path) -> None:
    targets = [target for target in LINK.findall(page.read_text(encoding="utf-8")) if "://" not in target]
    assert not [target for target in targets if not (page.parent / target).exists()]


def test_the_nomenclature_is_the_programs(repository: Path) -> None:
    script = runpy.run_path(str(repository / "docs" / "scripts" / "nomenclature.py"))
    written = (repository / "docs" / "nomenclature.md").read_text(encoding="utf-8")
    assert written == script["text"](), "run docs/scripts/nomenclature.py"


def test_every_numbered_equation_has_its_own_name(repository: Path) -> None:
    labels = re.findall(
        r"\$\$ \(([a-z-]+)\)$", (repository / "docs" / "model.md").read_text(encoding="utf-8"), re.M
    )
    assert len(labels) > 15 and len(labels) == len(set(labels))
