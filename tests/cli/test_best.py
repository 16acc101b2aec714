"""The search from the command line: what it prints, keeps and refuses."""

import csv
import json
from pathlib import Path
from typing import Any

import click.testing
import pytest

from simengine.batch.optimise import Best
from simengine.batch.tries import Goal, Try
from simengine.cli import main
from simengine.data_files import data_path

DEMO = str(data_path("scenarios", "demo.toml"))
TILT = ("--vary", "collector.tilt=40 deg..90 deg", "--for", "offset_kwh")


@pytest.fixture(autouse=True)
def invented(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """Replace the search by an invented outcome; the list holds what was asked."""
    asked: list[Any] = []

    def best(scenario: Any, bounds: Any, goal: Goal, **how: Any) -> Best:
        asked.append((bounds, goal, how))
        how["progress"](2, 2)
        tries = (Try({"collector.tilt": "61 deg"}, 512.25), Try({"collector.tilt": "90 deg"}, None, "=1+1"))
        return Best(goal.measure, "USD", "standard", tries[0], Try({}, 400.0), tries)

    monkeypatch.setattr("simengine.batch.optimise.best", best)
    return asked


def run(*arguments: str) -> click.testing.Result:
    return click.testing.CliRunner().invoke(main, ["best", DEMO, *arguments])


def test_it_prints_the_best_and_keeps_every_try(tmp_path: Path, invented: list[Any]) -> None:
    folder = tmp_path / "best"
    outcome = run(*TILT, "--out", str(folder), "--tries", "20", "--jobs", "1")
    assert outcome.exit_code == 0, outcome.output
    assert outcome.stdout.splitlines() == [
        "Best heating saved (offset_kwh) for the standard house: 1.75 MMBtu",
        "  collector.tilt = 61 deg",
        "of 2 tries; the scenario as it is: 1.36 MMBtu",
    ]
    ((bounds, goal, how),) = invented
    assert [(one.key, one.low, one.high, one.unit) for one in bounds] == [
        ("collector.tilt", 40.0, 90.0, "deg")
    ]
    assert (goal, how["most"], how["jobs"]) == (Goal("offset_kwh"), 20, 0)
    rows = list(csv.reader((folder / "tries.csv").read_text().splitlines()))
    assert rows[0] == ["try", "collector.tilt", "offset_kwh", "reason"]
    assert rows[2] == ["2", "90 deg", "", "'=1+1"]  # no table program takes it for a formula
    assert json.loads((folder / "best.json").read_text())["best"]["measure"] == 512.25


def test_it_prints_in_the_units_that_are_asked_for(tmp_path: Path, invented: list[Any]) -> None:
    outcome = run(*TILT, "--out", str(tmp_path / "best"), "--units", "si")
    assert "the standard house: 512 kWh" in outcome.stdout and "as it is: 400 kWh" in outcome.stdout


def test_a_filled_folder_is_refused_before_the_search(tmp_path: Path, invented: list[Any]) -> None:
    run(*TILT, "--out", str(tmp_path / "best"))
    outcome = run(*TILT, "--out", str(tmp_path / "best"))
    assert outcome.exit_code == 2 and "holds something already" in outcome.stderr
    assert len(invented) == 1
    assert run(*TILT, "--out", str(tmp_path / "best"), "--replace").exit_code == 0
    assert (tmp_path / "best.previous" / "best.json").is_file()


def test_every_range_that_makes_no_sense_has_its_line() -> None:
    outcome = run("--vary", "collector.tilt=40 deg", "--vary", "fan.flow=3 W..5 W", "--for", "npv")
    assert outcome.exit_code == 2
    lines = outcome.stderr.splitlines()
    assert len(lines) == 2
    assert lines[0].startswith("--vary: 'collector.tilt=40 deg' is no range; accepted:")
    assert lines[1].startswith("--vary: fan.flow: ")
