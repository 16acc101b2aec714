"""The point command: conditions with units in, figures with units out."""

import json
from pathlib import Path
from typing import Any

import click.testing
import pytest

from simengine.cli import main
from simengine.data_files import data_path

DEMO = str(data_path("scenarios", "demo.toml"))


FIGURES = {
    "irradiance": 800.0,
    "incidence_angle": 0.0,
    "mass_flow": 0.05,
    "useful_gain": 1000.0,
    "efficiency": 0.4,
    "outlet_temperature": 313.15,
    "absorber_temperature": 333.15,
    "fan_power": 28.0,
}
HOT = {"part": "back: board", "hottest_c": 100.0, "limit_c": 74.0, "exceeded": True}


@pytest.fixture
def asked(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """Replace the steady points by invented figures; the list holds the conditions that were asked for."""
    calls: list[Any] = []

    def report(scenario: Any, conditions: Any) -> dict[str, Any]:
        calls.append(conditions)
        still = conditions.flow == 0.0
        beside = {
            "cover": {"g_value": 0.86},
            "hottest_parts": [HOT] if still else [],
            "loop": [],
            "cautions": ["Mind it."],
        }
        return {**FIGURES, "mass_flow": 0.0 if still else 0.05, **beside}

    def table(scenario: Any, over: str, conditions: Any) -> dict[str, Any]:
        calls.append((over, conditions))
        points = [{**FIGURES, "mass_flow": flow} for flow in (0.0, 0.025, 0.05, 0.1)]
        return {"over": over, "own_flow": 0.05, "points": points, "fit": {}, "cautions": []}

    monkeypatch.setattr("simengine.simulate.point_report", report)
    monkeypatch.setattr("simengine.simulate.point_table", table)
    return calls


def point(*arguments: str) -> click.testing.Result:
    """Run the command."""
    return click.testing.CliRunner().invoke(main, ["point", *arguments])


def test_conditions_arrive_in_si(asked: list[Any]) -> None:
    outcome = point(
        DEMO, "--irradiance", "800 W/m2", "--ambient", "32 degF", "--incidence", "30 deg", "--flow", "0"
    )
    assert outcome.exit_code == 0, outcome.stderr
    (call,) = asked
    assert call.ambient == pytest.approx(273.15)  # definition
    assert (call.irradiance, call.incidence, call.flow) == (800.0, 30.0, 0.0)
    assert call.wind == 3.0  # not given: the usual one
    assert "Stagnation" in outcome.stdout and "TOO HOT" in outcome.stdout


def test_a_point_stands_in_both_unit_systems_with_the_label_of_its_cover(asked: list[Any]) -> None:
    both, one = point(DEMO).stdout, point(DEMO, "--units", "si").stdout
    assert "1000 W" in both and "3412 Btu/h" in both
    assert "1000 W" in one and "Btu" not in one
    assert "0.86" in both and "Mind it." in both and "local code" in both.replace("\n", " ")


def test_a_volume_flow_is_meant_at_the_fan_of_the_scenario(asked: list[Any]) -> None:
    assert point(DEMO, "--flow", "105 cfm").exit_code == 0
    (call,) = asked
    # the demo's own flow: 105 cfm of air at 20 degC and the pressure of its weather
    assert call.flow == pytest.approx(105 * 0.3048**3 / 60 * 1.18, rel=0.02)


def test_a_table_over_flow_answers_whether_slow_air_brings_more(asked: list[Any]) -> None:
    outcome = point(DEMO, "--over", "flow", "--units", "si")
    assert outcome.exit_code == 0, outcome.stderr
    assert asked[0][0] == "flow"
    lines = outcome.stdout.splitlines()
    assert lines[0].split()[0] == "flow" and [line.split()[0] for line in lines[2:6]] == [
        "0",
        "0.025",
        "0.05",
        "0.1",
    ]
    assert 'capture more heat"' in outcome.stdout


def test_json_is_strict_and_in_si(asked: list[Any]) -> None:
    found = json.loads(point(DEMO, "--over", "wind", "--json").stdout)
    assert found["over"] == "wind"
    assert all(one["useful_gain"] == 1000.0 for one in found["points"])
    assert json.loads(point(DEMO, "--json").stdout)["cover"] == {"g_value": 0.86}


def test_every_condition_that_cannot_be_read_has_its_line(asked: list[Any]) -> None:
    outcome = point(DEMO, "--wind", "3", "--inlet", "12 miles", "--flow", "fast")
    assert outcome.exit_code == 2
    assert {line.split(":")[0] for line in outcome.stderr.splitlines()} == {"--inlet", "--wind", "--flow"}
    assert asked == []


def test_a_missing_scenario_is_said(tmp_path: Path) -> None:
    outcome = point(str(tmp_path / "none.toml"))
    assert outcome.exit_code == 2
    assert "none.toml" in outcome.stderr
