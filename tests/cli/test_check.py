"""The check command prints what the program understood, and runs nothing."""

import json
from pathlib import Path

import click.testing
import pytest

from simengine.cli import main
from simengine.data_files import data_path

DEMO = str(data_path("scenarios", "demo.toml"))


def check(*arguments: str) -> click.testing.Result:
    """Run the command."""
    return click.testing.CliRunner().invoke(main, ["check", *arguments])


def test_it_prints_inputs_houses_and_weather_and_writes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    outcome = check(DEMO, "--set", "collector.tilt=61.5 deg")
    assert outcome.exit_code == 0, outcome.stderr
    tilt = next(line for line in outcome.stdout.splitlines() if line.split()[:1] == ["tilt"])
    assert tilt.split() == ["tilt", "61.5", "deg", "changed"]
    assert "Low-energy house" in outcome.stdout and "weather:" in outcome.stdout
    assert "hold against its label" in outcome.stdout and "5.75 W/m2K" in outcome.stdout
    assert list(tmp_path.iterdir()) == []


def test_what_is_unsure_about_a_build_is_told() -> None:
    outcome = check(DEMO, "--set", "collector.wind_relation=mcadams")
    assert "contain radiation" in outcome.stdout


def test_json_has_both_unit_systems() -> None:
    rows = json.loads(check(DEMO, "--json").stdout)
    flow = next(row for row in rows if (row["group"], row["name"]) == ("fan", "flow"))
    assert flow["us"].endswith("cfm") and flow["si"].endswith("m3/h")


def test_a_broken_scenario_ends_with_2_and_writes_to_stderr_only(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    path.write_text("schema = 1\n[collector]\ntilt = 5\nlid = 3\n")
    outcome = check(str(path))
    assert outcome.exit_code == 2
    assert outcome.stdout == ""
    assert len(outcome.stderr.splitlines()) >= 2
    assert all("house.toml" in line for line in outcome.stderr.splitlines())
