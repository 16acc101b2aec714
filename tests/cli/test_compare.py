"""Results side by side from their folders."""

import json
from pathlib import Path

from click.testing import CliRunner

from simengine.cli import main
from simengine.results import Result


def test_two_folders_make_two_columns(result: Result, tmp_path: Path) -> None:
    folders = [str(result.save(tmp_path / name)) for name in ("one", "two")]
    outcome = CliRunner().invoke(main, ["compare", *folders, "--units", "si"])
    assert outcome.exit_code == 0, outcome.stderr
    line = next(line for line in outcome.stdout.splitlines() if "Heating saved" in line)
    assert line.count("1752 kWh") == 2


def test_json_holds_the_summaries(result: Result, tmp_path: Path) -> None:
    folder = str(result.save(tmp_path / "one"))
    outcome = CliRunner().invoke(main, ["compare", folder, "--json"])
    assert json.loads(outcome.stdout)[folder] == result.summary


def test_every_folder_without_a_result_is_named(tmp_path: Path) -> None:
    outcome = CliRunner().invoke(main, ["compare", str(tmp_path / "a"), str(tmp_path / "b")])
    assert outcome.exit_code == 2
    assert len(outcome.stderr.splitlines()) == 2
