"""Nothing in the repository hangs on one machine or names where packages are fetched from."""

import re
import shutil
import subprocess
from pathlib import Path

import pytest

# Written in halves, so that this file does not hold what it looks for.
FORBIDDEN = re.compile(
    "|".join(
        (
            r"(?<![\w.\-])/(?:ho" + r"me|ro" + r"ot|o" + r"pt|Us" + r"ers|tm" + r"p|wo" + r"rk)/",
            r"[A-Z]:\\Us" + r"ers\\",
            "pythonhos" + "ted",
            r"py" + r"pi\.org",
            "--(?:extra-)?inde" + "x-url",
            "--find-lin" + "ks",
        )
    ),
    re.IGNORECASE,
)
TOP_LEVEL = {
    "CHANGELOG.md", "DEVELOPERS.md", "LICENSE", "README.md", "docs", "notebooks", "pyproject.toml",
    "scenarios", "simengine", "tests", "weather",
}  # fmt: skip


@pytest.fixture(scope="module")
def tracked(repository: Path) -> list[str]:
    if shutil.which("git") is None or not (repository / ".git").exists():
        pytest.skip("not a git checkout")
    listed = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=repository,
        capture_output=True,
        text=True,
        check=True,
    )
    return [name for name in listed.stdout.split("\0") if name and (repository / name).is_file()]


def test_no_path_of_one_machine_and_no_registry_address(tracked: list[str], repository: Path) -> None:
    found = []
    for name in tracked:
        raw = (repository / name).read_bytes()
        if name == ".gitignore" or b"\0" in raw:
            continue
        lines = raw.decode("utf-8", errors="replace").splitlines()
        found += [
            f"{name}:{row}: {line[:120]}" for row, line in enumerate(lines, 1) if FORBIDDEN.search(line)
        ]
    assert not found


@pytest.mark.parametrize(
    "line", ["see /ro" + "ot/x", "open('/tm" + "p/a')", "pip --find-lin" + "ks here", "C:\\Us" + "ers\\me"]
)
def test_the_search_finds_what_it_is_for(line: str) -> None:
    assert FORBIDDEN.search(line)


def test_top_level_holds_what_it_should(tracked: list[str]) -> None:
    top = {name.split("/")[0] for name in tracked}
    assert not {name for name in top if not name.startswith(".")} - TOP_LEVEL
