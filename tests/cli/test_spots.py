"""The spots command ranks places and finds the best orientation, for people and for programs."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from simengine.cli import main
from simengine.data_files import data_path


@pytest.fixture
def scenario(tmp_path: Path) -> str:
    text = data_path("scenarios", "demo.toml").read_text(encoding="utf-8")
    path = tmp_path / "places.toml"
    path.write_text(
        f'{text}\n[[spots]]\nname = "rack"\ntilt = "60 deg"\nmounting = "open"\n', encoding="utf-8"
    )
    return str(path)


def spots(*words: str) -> Result:
    return CliRunner().invoke(main, ["spots", *words])


def test_it_ranks_in_both_unit_systems(scenario: str) -> None:
    told = spots(scenario, "--units", "si", "--set", "run.step=300 s")
    assert told.exit_code == 0, told.stderr
    assert "rack" in told.stdout and "kWh" in told.stdout
    assert "marching through 2 years" in told.stderr


def test_json_is_strict_and_quiet(scenario: str) -> None:
    told = spots(scenario, "--json", "--quiet", "--set", "run.step=300 s")
    found = json.loads(told.stdout, parse_constant=lambda word: (_ for _ in ()).throw(ValueError(word)))
    assert {row["name"] for row in found["houses"]["standard"]["spots"]} == {"rack", "as in the file"}
    assert told.stderr == ""


def test_a_scenario_without_places_ends_with_2(tmp_path: Path) -> None:
    told = spots(str(data_path("scenarios", "demo.toml")))
    assert told.exit_code == 2
    assert told.stdout == "" and "[[spots]]" in told.stderr


def test_a_house_belongs_to_the_search(scenario: str) -> None:
    assert spots(scenario, "--house", "standard").exit_code == 2
