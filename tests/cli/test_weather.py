"""The weather command tells what a file holds, for people and for programs."""

import json
from pathlib import Path

from click.testing import CliRunner

from simengine.cli import main
from simengine.weather import builtin_names

YEAR = f"builtin:{builtin_names()[0]}"


def test_it_lists_a_year() -> None:
    outcome = CliRunner().invoke(main, ["weather", YEAR])
    assert outcome.exit_code == 0, outcome.stderr
    assert "heating degree days" in outcome.stdout and "Jan" in outcome.stdout


def test_json_is_strict_and_whole() -> None:
    outcome = CliRunner().invoke(main, ["weather", YEAR, "--json"])
    known = json.loads(outcome.stdout, parse_constant=lambda word: (_ for _ in ()).throw(ValueError(word)))
    assert len(known["months"]) == 12


def test_a_file_that_is_no_weather_ends_with_2_and_says_why(tmp_path: Path) -> None:
    path = tmp_path / "letter.csv"
    path.write_text("dear reader\n")
    outcome = CliRunner().invoke(main, ["weather", str(path)])
    assert outcome.exit_code == 2
    assert outcome.stdout == ""
    assert "letter.csv" in outcome.stderr
