"""KEY=VALUE from a command line means what a file would mean."""

from typing import Any

import pytest

from simengine.errors import ScenarioError
from simengine.scenario import read_override
from simengine.scenario.overrides import apply


@pytest.mark.parametrize(
    ("text", "key", "value"),
    [
        ("collector.tilt=45 deg", "collector.tilt", "45 deg"),
        (' collector.tilt = "45 deg" ', "collector.tilt", "45 deg"),
        ("collector.segments=5", "collector.segments", 5),
        ("fan.heat_to_air=0.9", "fan.heat_to_air", 0.9),
        ("site.snow=false", "site.snow", False),
        ("control.months=[11, 12, 1]", "control.months", [11, 12, 1]),
        ("title=a = b", "title", "a = b"),
        ('title=""', "title", ""),
        ("collector.leak=", "collector.leak", None),
        ("title=1\nx = 2", "title", "1\nx = 2"),
        ("title='''", "title", "'''"),
    ],
)
def test_values(text: str, key: str, value: Any) -> None:
    assert read_override(text) == (key, value)


@pytest.mark.parametrize("text", ["", "collector.tilt", "=5", "  = 5", "k=" + "x" * 20_000])
def test_what_is_no_pair_is_refused(text: str) -> None:
    with pytest.raises(ScenarioError, match="accepted: KEY=VALUE"):
        read_override(text)


def test_all_bad_keys_come_at_once() -> None:
    data = {"fan": {"flow": "1 cfm"}, "ducts": [{"name": "supply"}]}
    with pytest.raises(ScenarioError) as caught:
        apply(data, {"fan.flow.x": 1, "ducts.9.length": "1 m", "fan.power": "3 W"})
    assert len(caught.value.problems) == 2


def test_new_tables_are_made_on_the_way() -> None:
    assert apply({}, {"a.b.c": 1}) == ({"a": {"b": {"c": 1}}}, [("a", "b", "c")])


def test_nothing_behind_the_key_takes_it_away() -> None:
    data = {"fan": {"flow": "1 cfm", "power": "3 W"}, "ducts": [{"name": "supply"}, {"name": "return"}]}
    assert apply(data, {"fan.power": None, "ducts.supply": None})[0] == {
        "fan": {"flow": "1 cfm"},
        "ducts": [{"name": "return"}],
    }
    assert apply(data, {"collector.leak.flow": None})[0] == data  # nothing there, nothing made


def test_a_key_that_no_scenario_has_is_not_taken_away_silently() -> None:
    with pytest.raises(ScenarioError, match="no key that could be taken away"):
        apply({"fan": {"flow": "1 cfm"}}, {"fan.flaw": None})


ONE = {"name": "main", "fuel": "heating_oil", "price": "3 USD/gal"}


@pytest.mark.parametrize("written", [ONE, [ONE]], ids=["[heating]", "[[heating]]"])
@pytest.mark.parametrize("key", ["heating.price", "heating.1.price", "heating.main.price"])
def test_one_table_and_a_list_of_one_are_reached_by_the_same_keys(key: str, written: Any) -> None:
    changed, paths = apply({"heating": written}, {key: "4 USD/gal"})
    heating = changed["heating"] if isinstance(written, dict) else changed["heating"][0]
    assert heating == {**ONE, "price": "4 USD/gal"}
    assert paths == [("heating", "price") if isinstance(written, dict) else ("heating", 0, "price")]


def test_an_item_that_is_not_there_is_not_the_one_table() -> None:
    with pytest.raises(ScenarioError, match=r"heating\.2"):
        apply({"heating": [ONE]}, {"heating.2.price": "4 USD/gal"})
    assert "2" in apply({"heating": ONE}, {"heating.2.price": "4 USD/gal"})[0]["heating"]  # refused when read
