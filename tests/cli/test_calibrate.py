"""The calibrate command prints what it found and writes a whole scenario, or none."""

import json
from pathlib import Path

import click.testing
import pytest

from simengine.cli import main
from simengine.data_files import data_path
from simengine.scenario import load

US = str(data_path("scenarios", "demo_us.toml"))


def calibrate(*arguments: str) -> click.testing.Result:
    """Run the command."""
    return click.testing.CliRunner().invoke(main, ["calibrate", *arguments])


def test_it_prints_losses_degree_days_and_assumptions_and_writes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    outcome = calibrate(US)
    assert outcome.exit_code == 0, outcome.stderr
    assert outcome.stdout.startswith("Farmhouse: losses times ")
    for words in ("by the bill", "Btu/h", "heating degree days", "Taken for granted:", "setpoints"):
        assert words in outcome.stdout
    assert list(tmp_path.iterdir()) == []


def test_json_and_units() -> None:
    told = json.loads(calibrate(US, "--json").stdout)
    assert told["house"] == "farmhouse" and told["hdd18_kd"] > 0.0
    assert told["calibration"]["space_heat_kwh"] == pytest.approx(
        told["calibration"]["simulated_need_kwh"], rel=1e-4
    )
    assert "W/K" in calibrate(US, "--units", "si").stdout


def test_the_written_scenario_is_whole_and_nothing_is_lost(tmp_path: Path) -> None:
    target = tmp_path / "mine.toml"
    outcome = calibrate(US, "--out", str(target), "--json")
    assert outcome.exit_code == 0, outcome.stderr
    factor = json.loads(outcome.stdout)["calibration"]["factor"]
    house = load(target).inputs.house
    assert house is not None and house.yearly_fuel is None and house.bill is None
    assert house.heat_loss_factor == pytest.approx(factor)
    assert "taken" not in target.read_text(encoding="utf-8").splitlines()[0]
    refused = calibrate(US, "--out", str(target))
    assert refused.exit_code == 2 and "is there already" in refused.stderr
    assert calibrate(US, "--out", str(target), "--replace", "--quiet").exit_code == 0
    assert sorted(path.name for path in tmp_path.iterdir()) == ["mine.toml", "mine.toml.previous"]


def test_the_weather_file_is_found_from_the_new_place(tmp_path: Path) -> None:
    import gzip

    (tmp_path / "in").mkdir()
    year = gzip.decompress(data_path("weather", "greensboro.csv.gz").read_bytes())
    (tmp_path / "in" / "year.csv").write_bytes(year)
    given = tmp_path / "in" / "a.toml"
    given.write_text(load(US).changed({"site.weather": "year.csv"}).as_toml(), encoding="utf-8")
    assert calibrate(str(given), "--out", str(tmp_path / "b.toml")).exit_code == 0
    assert load(tmp_path / "b.toml").inputs.site.weather == "in/year.csv"


def test_a_house_without_a_bill_ends_with_2() -> None:
    outcome = calibrate(str(data_path("scenarios", "demo.toml")))
    assert outcome.exit_code == 2
    assert outcome.stdout == "" and "house.bill: is missing" in outcome.stderr


def test_a_run_and_check_know_of_the_bill() -> None:
    outcome = click.testing.CliRunner().invoke(main, ["check", US])
    assert "scaled to its fuel bill" in outcome.stdout
