"""The sweep command: what it tells beforehand, shows at the end, and refuses."""

import json
from pathlib import Path
from typing import Any

import click.testing
import numpy as np
import pytest

from simengine.batch.measures import COLUMNS, WIDTH
from simengine.batch.task import Outcome
from simengine.cli import main
from simengine.data_files import data_path

SWEEP = """
[sweep]
measure = "simple_payback_a"
[sweep.vary]
"fan.flow" = ["80 cfm", "100 cfm", "120 cfm"]
"control.sensor" = ["outlet_air", "absorber"]
"""


@pytest.fixture
def scenario(tmp_path: Path) -> str:
    path = tmp_path / "mine.toml"
    path.write_text(data_path("scenarios", "demo.toml").read_text(encoding="utf-8") + SWEEP, encoding="utf-8")
    return str(path)


@pytest.fixture(autouse=True)
def invented(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Replace the years by invented numbers; the list holds the members that were worked on."""
    worked: list[int] = []

    def execute(base: Any, tasks: Any, jobs: int, scheduler: str) -> Any:
        for task in tasks:
            worked.extend(task.members)
            yield task, [outcome(member) for member in task.members]

    def outcome(member: int) -> Outcome:
        if member == 4:
            return Outcome(4, None, "an invented reason")
        row = np.zeros((2, WIDTH))
        row[:, COLUMNS.index("offset_kwh")] = 100.0 * member
        row[:, COLUMNS.index("first_cost")] = 500.0 + member
        row[:, COLUMNS.index("simple_payback_a")] = 20.0 - member
        return Outcome(member, row)

    monkeypatch.setattr("simengine.batch.sweep.execute", execute)
    monkeypatch.setattr("simengine.simulate.run", lambda scenario: None)
    return worked


def run(*arguments: str) -> click.testing.Result:
    return click.testing.CliRunner().invoke(main, ["sweep", *arguments])


def test_it_says_how_many_how_long_and_how_large_before_it_starts(scenario: str, tmp_path: Path) -> None:
    outcome = run(scenario, "--out", str(tmp_path / "all"))
    assert outcome.exit_code == 0, outcome.output
    notes = outcome.stderr.splitlines()
    assert notes[0] == "6 members of fan.flow, control.sensor"
    assert notes[1].startswith("about ") and notes[1].endswith(" kB on the disk")
    assert "members: 6 of 6, 0 s left" in notes
    assert notes[-1] == f"written: {tmp_path / 'all'}"


def test_it_ends_with_the_best_the_front_and_what_each_key_does(scenario: str, tmp_path: Path) -> None:
    text = run(scenario, "--out", str(tmp_path / "all"), "--units", "si").stdout
    assert "6 members, Standard house" in text.splitlines()[0]
    best = text.splitlines()[text.splitlines().index("Best by simple payback (simple_payback_a)") + 2]
    assert best.split()[0] == "5" and "505 USD" in best and "15.0 years" in best and "203.9 m3/h" in best
    assert "none is both cheaper and better" in text
    assert "- fan.flow: " in text and "- control.sensor: " in text
    assert "1 member failed; the first: an invented reason" in text


def test_a_finished_sweep_is_shown_again_and_not_run_again(
    scenario: str, tmp_path: Path, invented: list[int]
) -> None:
    first = run(scenario, "--out", str(tmp_path / "all"), "--json")
    again = run(scenario, "--out", str(tmp_path / "all"), "--json")
    assert again.exit_code == 0
    assert json.loads(first.stdout) == json.loads(again.stdout)
    assert "6 of them are there already" in again.stderr
    assert sorted(invented) == list(range(6))


def test_status_says_how_far_it_is(scenario: str, tmp_path: Path) -> None:
    folder = str(tmp_path / "all")
    missing = run(scenario, "--out", folder, "--status")
    assert missing.exit_code == 2 and "holds no sweep" in missing.stderr
    run(scenario, "--out", folder)
    assert run(scenario, "--out", folder, "--status").stdout == f"{folder}: 6 of 6 members done, complete\n"
    told = json.loads(run(scenario, "--out", folder, "--status", "--json").stdout)
    assert told == {"members": 6, "done": 6, "complete": True, "state": "complete"}


def test_another_scenario_is_refused_and_replaced_when_told(scenario: str, tmp_path: Path) -> None:
    folder = str(tmp_path / "all")
    run(scenario, "--out", folder)
    other = run(scenario, "--out", folder, "--set", "collector.tilt=70 deg")
    assert other.exit_code == 2
    assert "holds a sweep of another scenario; accepted" in other.stderr.splitlines()[-1]
    replaced = run(scenario, "--out", folder, "--set", "collector.tilt=70 deg", "--replace")
    assert replaced.exit_code == 0, replaced.output
    assert (tmp_path / "all.previous" / "sweep.nc").is_file()


def test_a_scenario_without_a_sweep_is_refused() -> None:
    outcome = run(str(data_path("scenarios", "demo.toml")))
    assert outcome.exit_code == 2
    assert "the scenario has no [sweep.vary]" in outcome.stderr
