"""The quick start alone leads to a result: its blocks are run as they stand, its five values changed."""

import json
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

BLOCK = re.compile(r"^<!-- quick start: ([a-z ]+) -->\n```(\w+)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


@pytest.fixture(scope="module")
def blocks(repository: Path) -> dict[str, str]:
    text = (repository / "docs" / "quick_start.md").read_text(encoding="utf-8")
    return {name: body for name, _, body in BLOCK.findall(text)}


def wanted_values(block: str) -> list[tuple[str, str, str]]:
    """Return section, key and value of every line that the reader is told to change."""
    section, found = "", []
    for line in block.splitlines():
        if head := re.fullmatch(r"\[(\w+)\]", line.strip()):
            section = head[1]
        elif entry := re.match(r'(\w+) = ("[^"]*"|[\w-]+)', line):
            found.append((section, entry[1], entry[2]))
    return found


def edited(text: str, section: str, key: str, value: str) -> str:
    """Return a scenario with one value changed, as a reader would: the line of that key in its section."""
    head = text.index(f"\n[{section}]")
    line = re.compile(rf"^(?:# )?{key} = (?:\"[^\"]*\"|\S+)", re.MULTILINE)
    assert line.search(text, head), f"{section}.{key} is not in the new file"
    return text[:head] + line.sub(f"{key} = {value}", text[head:], count=1)


def follow(blocks: dict[str, str], folder: Path, environment: dict[str, str]) -> dict[str, object]:
    """Do what the text says from step 2 on, and return the summary."""

    def run(block: str) -> None:
        done = subprocess.run(
            ["bash", "-euo", "pipefail", "-c", blocks[block]],
            cwd=folder,
            env=environment,
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, (block, done.stderr)

    run("new")
    mine = folder / "mine.toml"
    values = wanted_values(blocks["values"])
    assert len(values) == 5
    for section, key, value in values:
        mine.write_text(edited(mine.read_text(encoding="utf-8"), section, key, value), encoding="utf-8")
    for block in ("check", "run", "what if", "money"):
        run(block)
    return dict(json.loads((folder / "results" / "mine" / "summary.json").read_text(encoding="utf-8")))


@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash on this machine")
def test_it_leads_from_an_empty_folder_to_a_result(blocks: dict[str, str], tmp_path: Path) -> None:
    # the program under test by the name that the text gives it, however it was installed
    command = tmp_path / "bin" / "simengine"
    command.parent.mkdir()
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m simengine "$@"\n', encoding="utf-8")
    command.chmod(0o755)
    environment = {**os.environ, "PATH": f"{command.parent}{os.pathsep}{os.environ['PATH']}"}
    summary = follow(blocks, tmp_path, environment)
    house = summary["houses"]["standard"]  # type: ignore[index]
    assert house["offset_kwh"] > 0.0 and house["fuel"]["money_saved"] > 0.0
    assert summary["collector"]["aperture_m2"] == pytest.approx(5 * 8 * 0.3048**2)  # type: ignore[index]
    assert (tmp_path / "results" / "mine" / "report.html").is_file()
    paid = json.loads((tmp_path / "results" / "paid" / "summary.json").read_text(encoding="utf-8"))
    assert paid["houses"]["standard"]["economics"]["simple_payback_a"] > 0.0


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash on this machine")
def test_on_a_fresh_clone_with_its_own_environment(
    blocks: dict[str, str], repository: Path, tmp_path: Path
) -> None:
    clone = tmp_path / "a clone"
    subprocess.run(["git", "clone", "-q", str(repository), str(clone)], check=True)
    subprocess.run(["bash", "-euo", "pipefail", "-c", blocks["install"]], cwd=clone, check=True)
    environment = {**os.environ, "PATH": f"{clone / '.venv' / 'bin'}{os.pathsep}{os.environ['PATH']}"}
    environment.pop("PYTHONPATH", None)
    empty = tmp_path / "empty"
    empty.mkdir()
    assert follow(blocks, empty, environment)["houses"]
