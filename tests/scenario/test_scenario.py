"""A scenario is read, changed and recognised again; the examples hold what they promise."""

import dataclasses
import datetime
import time
from pathlib import Path

import pytest
from pydantic import ValidationError

from simengine.data_files import data_folder, data_path
from simengine.errors import ScenarioError
from simengine.scenario import Scenario, load
from simengine.units import parse

CHIPS = {
    "name": "chips",
    "unit": "kg",
    "heat_content": "4 kWh",
    "source": "invented",
    "date": datetime.date(2026, 5, 1),
}
EXAMPLES = sorted(path.name for path in data_folder("scenarios").glob("*.toml"))


def example(name: str = "demo.toml") -> Scenario:
    return load(data_path("scenarios", name))


@pytest.mark.parametrize("name", EXAMPLES)
def test_each_example_loads_and_says_that_it_is_invented(name: str) -> None:
    scenario = example(name)
    text = data_path("scenarios", name).read_text(encoding="utf-8")
    assert "EVERYTHING HERE IS INVENTED" in text
    (heater,) = scenario.inputs.heating
    assert heater.invented
    assert scenario.weather == "greensboro"
    assert scenario.assemble().collector.aperture > 3.0


@pytest.mark.parametrize("name", EXAMPLES)
def test_the_plain_tables_make_the_same_scenario(name: str) -> None:
    scenario = example(name)
    again = Scenario.from_dict(scenario.data, scenario.folder, scenario.name)
    assert again.inputs == scenario.inputs
    assert again.sha256 == scenario.sha256


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_spot_and_every_value_of_a_sweep_is_a_scenario(name: str) -> None:
    scenario = example(name)
    for spot in scenario.inputs.spots:
        assert scenario.changed(spot.changes).sha256 != scenario.sha256
    if scenario.inputs.sweep is not None:
        for key, values in scenario.inputs.sweep.vary.items():
            assert [scenario.changed({key: value}) for value in values.term("values")]


def test_the_digest_follows_the_meaning_not_the_spelling() -> None:
    scenario = example()
    assert scenario.changed({"collector.width": "60 in"}).sha256 == scenario.sha256
    assert scenario.changed({"collector.width": "5 ft"}).sha256 == scenario.sha256
    assert scenario.changed({"collector.width": "61 in"}).sha256 != scenario.sha256
    assert scenario.changed({"title": "another"}).sha256 != scenario.sha256


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"fan.flow": "80 cfm"},
        {"collector.tilt": "45 deg", "economics.life": "12 years"},
        {"fuels": [CHIPS]},
        {"damper": {"kind": "none"}, "title": "another", "site.snow": True},
        {"economics": None},
    ],
    ids=str,
)
def test_changed_is_what_the_same_tables_give_anew(changes: dict[str, object]) -> None:
    """Tables that a change does not touch are not read again; it makes no difference."""
    changed = example().changed(changes)
    anew_inputs = Scenario.from_dict(changed.data).inputs
    assert changed.inputs == anew_inputs
    assert changed.inputs.model_fields_set == anew_inputs.model_fields_set


def test_changed_leaves_the_first_one_as_it_was() -> None:
    scenario = example()
    steeper = scenario.changed(
        {"collector.tilt": "60 deg", "ducts.supply.length": "3 m", "collector.segments": 5}
    )
    assert (scenario.inputs.collector.tilt, steeper.inputs.collector.tilt) == (90.0, 60.0)
    assert steeper.inputs.ducts[0].length == pytest.approx(3.0)
    assert scenario.inputs.ducts[0].length == pytest.approx(parse("4 ft", "length"))
    assert scenario.changed({"economics": None}).inputs.economics is None
    assert scenario.changed({"site.trees": []}).inputs.site.trees == ()


def test_nothing_can_be_set_behind_the_schema() -> None:
    scenario = example()
    with pytest.raises(dataclasses.FrozenInstanceError):
        scenario.name = "other"  # type: ignore[misc]
    with pytest.raises(ValidationError):
        scenario.inputs.fan.power = 3.0


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        (
            {"collector.tilt": "200 deg"},
            '(changed): collector.tilt: "200 deg" is above 90 deg; accepted: 0 deg to 90 deg (from '
            "horizontal: 0 lies flat, 90 stands upright)",
        ),
        (
            {"collector.cover.2.gap": "1 in"},
            '(changed): collector.cover.2.gap: there is no item "2"; accepted: a number from 1, or a name: 1',
        ),
        (
            {"ducts.left.length": "1 in"},
            '(changed): ducts.left.length: there is no item "left"; accepted: a number from 1, or a name: '
            "supply, return",
        ),
        (
            {"fan.flow.x": 1},
            '(changed): fan.flow.x: "x" lies below a single value; accepted: a key of the scenario',
        ),
        ({"fan": None}, "(changed): fan: is missing; accepted: [fan] (what moves the air)"),
    ],
)
def test_a_bad_change_is_one_line(changes: dict[str, object], line: str) -> None:
    with pytest.raises(ScenarioError) as caught:
        example().changed(changes)
    assert caught.value.problems == (line,)


def test_a_weather_path_is_relative_to_the_scenario(demo_text: str, tmp_path: Path) -> None:
    folder = tmp_path / "job"
    folder.mkdir()
    path = folder / "a.toml"
    path.write_text(demo_text.replace("builtin:greensboro", "years/mine.csv"), encoding="utf-8")
    scenario = load(path)
    assert scenario.weather == folder / "years" / "mine.csv"
    assert scenario.name == "a"


def test_loading_takes_less_than_50_ms() -> None:
    path = data_path("scenarios", "demo_us.toml")
    load(path)
    started = time.perf_counter()
    for _ in range(5):
        load(path)
    assert (time.perf_counter() - started) / 5 < 0.05


def test_a_notebook_shows_a_table_with_escaped_text() -> None:
    shown = example().changed({"title": "<script>alert(1)</script>"})._repr_html_()
    assert "<script>" not in shown
    assert "<td>collector.tilt</td><td>90 deg</td>" in shown
