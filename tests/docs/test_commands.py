"""Every `simengine` line of README and manual does what it says, in a folder where a reader would stand."""

import gzip
import re
import shlex
from pathlib import Path

import pytest
from click.testing import CliRunner

from simengine.cli import main
from simengine.data_files import data_path

ROOT = Path(__file__).parents[2]
TEXTS = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
LINE = re.compile(r"^\s*(?:\.venv/bin/)?simengine (.*)$", re.MULTILINE)
SCENARIOS = ("mine.toml", "my.toml", "house.toml")
"""Names that the texts give to a reader's own scenario."""

MAKES = {"new"}
"""Commands whose file must not be there yet."""


def commands() -> list[str]:
    """Return every command line once, without its remark."""
    texts = [text.read_text(encoding="utf-8").replace("\\\n", " ") for text in TEXTS]
    found = [line for text in texts for line in LINE.findall(text)]
    return list(dict.fromkeys(re.sub(r"\s{2,}#.*$", "", line).strip() for line in found))


def made_coarse(scenario: Path) -> None:
    """Give a scenario the longest steps: what the commands do is the same, and done sooner."""
    text = scenario.read_text(encoding="utf-8")
    assert "\n[run]" not in text, scenario.name
    scenario.write_text(f'{text}\n[run]\nstep = "1 h"\n', encoding="utf-8")


def test_there_are_commands() -> None:
    assert len(commands()) > 15


def test_all_of_them_work_one_after_the_other(
    repository: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "scenarios").mkdir()
    for scenario in (repository / "scenarios").glob("demo*"):
        copied = tmp_path / "scenarios" / scenario.name
        copied.write_bytes(scenario.read_bytes())
        if scenario.suffix == ".toml":
            made_coarse(copied)
    (tmp_path / "my_year.csv").write_bytes(
        gzip.decompress(data_path("weather", "greensboro.csv.gz").read_bytes())
    )
    runner = CliRunner()
    for name in SCENARIOS:
        runner.invoke(main, ["new", name])
        made_coarse(Path(name))
    failed = []
    for line in commands():
        words = shlex.split(line)
        if words[0] in MAKES:
            Path(words[1]).unlink(missing_ok=True)
        outcome = runner.invoke(main, words)
        if outcome.exit_code != 0:
            failed.append((line, outcome.stderr))
        elif words[0] in MAKES:
            made_coarse(Path(words[1]))
    assert failed == []
