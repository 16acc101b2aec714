"""Faults in the parts of a loop, and very many faults, are lines like any other."""

import pytest

from simengine.data_files import data_path
from simengine.errors import ScenarioError
from simengine.scenario import Scenario, load


@pytest.fixture(scope="module")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo.toml"))


def test_a_fault_in_a_part_of_the_loop_is_a_line_as_well(demo: Scenario) -> None:
    loop = [
        {"part": "bend", "bend": 1},
        {"diameter": "6 in"},
        {"part": "bent"},
        {"part": "duct", "lenght": 1},
    ]
    with pytest.raises(ScenarioError) as caught:
        demo.changed({"ducts": None, "loop": loop})
    lines = "\n".join(caught.value.problems)
    assert 'loop.1.diameter: is missing; accepted: diameter = "6 in"' in lines
    assert 'loop.1.bend: unknown key "bend"' in lines
    assert "loop.2: part is missing; accepted: duct, flexible_duct" in lines
    assert 'loop.3: part "bent" is not known, the nearest is "bend"; accepted: duct, flexible_duct' in lines
    assert 'loop.4.lenght: unknown key "lenght", the nearest is "length"' in lines
    assert "loop.4.length: is missing" not in lines


def test_thousands_of_faults_are_told_shortly(demo: Scenario) -> None:
    with pytest.raises(ScenarioError) as caught:
        demo.changed({"ducts": [{"name": "supply"}] * 30_000})
    assert len(caught.value.problems) == 201
    assert caught.value.problems[-1] == "(changed): 59800 more problems"


@pytest.mark.parametrize("key", ["[key]", "0", "", "differential", "collector", "x.y", "\x00"])
def test_a_key_with_any_name_is_told_as_unknown(demo: Scenario, key: str) -> None:
    for data in ({**demo.data, key: 1}, {**demo.data, "control": {**demo.data["control"], key: 1}}):
        if key == "collector" and data[key] == 1:
            continue
        with pytest.raises(ScenarioError) as caught:
            Scenario.from_dict(data)
        assert any("unknown key" in line or "[" in line for line in caught.value.problems)


def test_a_tag_that_is_no_text_is_told_at_its_key(demo: Scenario) -> None:
    tags = {"[key]": 5, "k" * 99: "x"}
    with pytest.raises(ScenarioError) as caught:
        Scenario.from_dict({**demo.data, "collector": {**demo.data["collector"], "tags": tags}})
    assert len(caught.value.problems) == 2
    assert all("collector.tags." in line for line in caught.value.problems)
