"""The run command around an invented result: what it prints, keeps, refuses and how it ends."""

import dataclasses
import json
from pathlib import Path
from types import ModuleType
from typing import Any

import click.testing
import pytest

from simengine.cli import main
from simengine.data_files import data_path
from simengine.errors import RunEnded
from simengine.results import Result

DEMO = str(data_path("scenarios", "demo.toml"))


@pytest.fixture
def marched(monkeypatch: pytest.MonkeyPatch, made_up: ModuleType) -> list[Any]:
    """Replace the march by the invented year; the list holds what was marched."""
    calls: list[Any] = []

    def year(resolved: Any) -> Result:
        calls.append(resolved)
        return Result.of(made_up.record(provenance=resolved.provenance))

    monkeypatch.setattr("simengine.simulate.run_resolved", year)
    return calls


def run(*arguments: str) -> click.testing.Result:
    """Run the command."""
    return click.testing.CliRunner().invoke(main, ["run", *arguments])


def test_the_verdict_is_the_first_line_and_the_folder_holds_everything(
    marched: list[Any], tmp_path: Path
) -> None:
    outcome = run(DEMO, "--out", str(tmp_path / "year"))
    assert outcome.exit_code == 0, outcome.stderr
    assert outcome.stdout.splitlines()[0].startswith("Standard house saves")
    assert outcome.stderr.splitlines() == ["marching through the year ...", f"written: {tmp_path / 'year'}"]
    names = {path.name for path in (tmp_path / "year").iterdir()}
    assert names == {"summary.json", "hours.nc", "months.csv", "report.html", "run.log"}


def test_the_folder_is_called_after_the_scenario(
    marched: list[Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(DEMO, "--quiet").exit_code == 0
    assert (tmp_path / "results" / "demo" / "summary.json").is_file()


def test_the_same_run_is_kept_and_printed_again(marched: list[Any], tmp_path: Path) -> None:
    first = run(DEMO, "--out", str(tmp_path / "year"))
    again = run(DEMO, "--out", str(tmp_path / "year"))
    assert again.stdout == first.stdout
    assert "kept as it was" in again.stderr
    assert len(marched) == 1


def test_another_run_is_refused_before_it_marches_unless_replaced(marched: list[Any], tmp_path: Path) -> None:
    folder = str(tmp_path / "year")
    run(DEMO, "--out", folder)
    refused = run(DEMO, "--out", folder, "--set", "collector.tilt=60 deg")
    assert refused.exit_code == 2
    assert "--replace" in refused.stderr and len(marched) == 1
    assert run(DEMO, "--out", folder, "--set", "collector.tilt=60 deg", "--replace").exit_code == 0
    assert (tmp_path / "year.previous" / "summary.json").is_file()


def test_json_is_the_summary_and_nothing_else(marched: list[Any], tmp_path: Path) -> None:
    outcome = run(DEMO, "--out", str(tmp_path / "year"), "--json", "--quiet")
    assert json.loads(outcome.stdout) == json.loads((tmp_path / "year" / "summary.json").read_text())
    assert outcome.stderr == ""


def test_another_weather_and_changes_reach_the_march(marched: list[Any], tmp_path: Path) -> None:
    changes = ["--set", "collector.tilt=50 deg", "--set", "collector.tilt=60 deg"]
    run(DEMO, "--out", str(tmp_path / "year"), "--weather", "builtin:sand_point", *changes)
    (resolved,) = marched
    assert "SAND POINT" in resolved.series.station
    assert resolved.parts.collector.tilt == pytest.approx(60.0)
    log = (tmp_path / "year" / "run.log").read_text()
    assert "set collector.tilt=60 deg" in log and resolved.series.sha256 in log


def test_every_problem_of_a_scenario_has_its_line(tmp_path: Path) -> None:
    outcome = run(
        DEMO, "--set", "collector.tilt=1000 deg", "--set", "fan.power=3 m", "--out", str(tmp_path / "x")
    )
    assert outcome.exit_code == 2
    lines = outcome.stderr.splitlines()
    assert any("collector.tilt" in line for line in lines) and any("fan.power" in line for line in lines)
    assert not (tmp_path / "x").exists()


def test_a_run_that_ended_early_says_why_and_ends_with_3(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, made_up: ModuleType
) -> None:
    def early(resolved: Any) -> Result:
        record = made_up.record(provenance=resolved.provenance)
        return Result.of(dataclasses.replace(record, end_reason="weather row 7 unusable"))

    monkeypatch.setattr("simengine.simulate.run_resolved", early)
    outcome = run(DEMO, "--out", str(tmp_path / "year"))
    assert outcome.exit_code == 3
    assert "weather row 7 unusable" in outcome.stderr
    assert (tmp_path / "year" / "summary.json").is_file()


@pytest.mark.parametrize(
    ("error", "status"), [(RunEnded("not converged"), 3), (KeyboardInterrupt(), 130), (ValueError("x"), 1)]
)
def test_a_march_that_fails_leaves_no_folder(
    error: BaseException, status: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(_: Any) -> Result:
        raise error

    monkeypatch.setattr("simengine.simulate.run_resolved", fail)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    assert run(DEMO, "--out", str(tmp_path / "year")).exit_code == status
    assert not (tmp_path / "year").exists()


def test_several_weathers_are_spread(tmp_path: Path) -> None:
    several = (
        "--weather",
        "builtin:greensboro",
        "--weather",
        "builtin:sand_point",
        "--set",
        "run.step=300 s",
    )
    told = run(DEMO, "--out", str(tmp_path / "both"), "--units", "si", *several)
    assert told.exit_code == 0, told.stderr
    assert "Heating saved over 2 weather years" in told.stdout
    assert all(len(line) <= 80 for line in told.stdout.splitlines() if " K d " in line)
    page = (tmp_path / "both" / "report.html").read_text(encoding="utf-8")
    assert "Heating saved over 2 weather years" in page and "told for the first weather alone" in page
    again = run(DEMO, "--out", str(tmp_path / "both"), *several)
    assert "kept as it was" in again.stderr
    other = run(
        DEMO, "--out", str(tmp_path / "both"), "--weather", "builtin:greensboro", "--set", "run.step=300 s"
    )
    assert other.exit_code == 2 and "another weather" in other.stderr


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[Any]:
    """Replace the years of the band by an invented block; the list holds what was drawn."""
    calls: list[Any] = []

    def band(result: Result, scenario: Any, base: Any, wanted: Any, jobs: int, tell: Any) -> Result:
        calls.append((wanted, jobs))
        tell(wanted[0], wanted[0])
        block = {
            "members": wanted[0],
            "seed": 1 if wanted[1] is None else wanted[1],
            "drivers": [],
            "failed": 0,
        }
        block["offset_kwh"] = {"p10": 1000.0, "p50": 2000.0, "p90": 3000.0}  # type: ignore[assignment]
        houses = {name: {**house, "spread": block} for name, house in result.summary["houses"].items()}
        return Result(result.hours, {**result.summary, "houses": houses})

    monkeypatch.setattr("simengine.batch.spread.with_band", band)
    return calls


def test_a_band_is_in_the_verdict_and_kept(marched: list[Any], drawn: list[Any], tmp_path: Path) -> None:
    folder = str(tmp_path / "year")
    outcome = run(DEMO, "--out", folder, "--spread", "20", "--jobs", "1", "--units", "si")
    assert outcome.exit_code == 0, outcome.stderr
    assert drawn == [((20, None), 0)]
    verdict = outcome.stdout.splitlines()[0]
    assert verdict.startswith("Standard house saves ") and "2000 ± 1000 kWh" in verdict
    assert "years drawn: 20 of 20" in outcome.stderr
    again = run(DEMO, "--out", folder, "--spread", "20")
    assert again.exit_code == 0 and len(drawn) == 1 and "kept as it was" in again.stderr


@pytest.mark.parametrize("more", [("--spread", "21"), ("--spread", "20", "--seed", "9")])
def test_another_band_is_refused_before_anything_is_lost(
    marched: list[Any], drawn: list[Any], tmp_path: Path, more: tuple[str, ...]
) -> None:
    folder = str(tmp_path / "year")
    run(DEMO, "--out", folder, "--spread", "20")
    outcome = run(DEMO, "--out", folder, *more)
    assert outcome.exit_code == 2
    assert "holds this result without a band of 2" in outcome.stderr
    assert "--replace" in outcome.stderr
    assert len(drawn) == 1
