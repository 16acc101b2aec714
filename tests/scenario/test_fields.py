"""Every kind of value refuses what it cannot mean, in one line that says what it takes."""

import math
from typing import Any

import pytest

from simengine.data_files import data_path
from simengine.errors import ScenarioError
from simengine.scenario import Scenario, load

TREE = "site.trees.1"
MORE_THAN_ALL = {"transmittance": 0.8, "reflectance_outside": 0.3, "reflectance_inside": 0.1}


@pytest.fixture(scope="module")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo.toml"))


@pytest.mark.parametrize(
    ("changes", "line"),
    [
        (
            {"site.snow": "yes"},
            'site.snow: "yes" where yes or no is due; accepted: true or false, without quotes',
        ),
        (
            {"site.snow": 1},
            'site.snow: "1" where yes or no is due; accepted: true or false, without quotes',
        ),
        (
            {"collector.segments": "3"},
            'collector.segments: "3" where a whole number is due; accepted: 1 to 50 (more than 10 is '
            "for studies)",
        ),
        (
            {"collector.segments": 3.5},
            'collector.segments: "3.5" where a whole number is due; accepted: 1 to 50 (more than 10 '
            "is for studies)",
        ),
        (
            {"collector.segments": 500},
            'collector.segments: "500" is out of range; accepted: 1 to 50 (more than 10 is for studies)',
        ),
        (
            {"title": 5},
            'title: "5" where text is due; accepted: text in quotes, e.g. "south wall"',
        ),
        (
            {"title": "x" * 201},
            "title: text of 201 characters; accepted: at most 200",
        ),
        (
            {"title": "a\x07b"},
            'title: "a\\x07b" holds control characters; accepted: plain text',
        ),
        (
            {"site.weather": ""},
            'site.weather: "" where a file is due; accepted: "builtin:NAME", or a path relative to '
            "the scenario file",
        ),
        (
            {"site.weather": "a\x00b"},
            'site.weather: "a\\x00b" is no file name; accepted: "builtin:NAME", or a path relative to '
            "the scenario file",
        ),
        (
            {"date": "2026-13-01"},
            'date: "2026-13-01" is no date; accepted: year-month-day, e.g. 2026-05-01',
        ),
        (
            {"control.months": []},
            'control.months: "[]" where months are due; accepted: different numbers 1 to 12, e.g. '
            "[10, 11, 12, 1, 2, 3, 4]",
        ),
        (
            {"fan.heat_to_air": math.nan},
            'fan.heat_to_air: "nan" is no finite number; accepted: e.g. "85 %"',
        ),
        (
            {"fan.flow": ["1 cfm"]},
            'fan.flow: a list where a flow of air is due; accepted: e.g. "110 cfm", "0.06 kg/s", "3 '
            'cfm/ft2", "0.02 kg/s.m2"',
        ),
        (
            {"collector.width": {"m": 1}},
            'collector.width: a table where a length is due; accepted: e.g. "4 ft"',
        ),
        (
            {"economics.first_cost": 1100},
            'economics.first_cost: "1100" where money is due; accepted: a sum with its currency, e.g. '
            '"2400 USD"',
        ),
        (
            {"economics.first_cost": "-5 USD"},
            'economics.first_cost: "-5 USD" is below zero; accepted: zero or more',
        ),
        (
            {"heating.price": "-5 USD/gal"},
            'heating.price: "-5 USD/gal" is below zero; accepted: zero or more',
        ),
        (
            {"site.horizon": [[1, 2, 3]]},
            "site.horizon: a list where pairs are due; accepted: a list of pairs, e.g. [[90, 5], [180, 12]]",
        ),
        (
            {"site.ground_reflectance": [0.2, 0.3]},
            "site.ground_reflectance: a list of 2 values; accepted: one value, or 12: one for each of "
            "the months",
        ),
        (
            {"spots": [{"name": "a", "changes": {"fan.power": {}}}]},
            "spots.1.changes.fan.power: a table where one value is due; accepted: text with a unit, "
            'or a number, e.g. "200 deg"',
        ),
        (
            {"sweep": {"vary": {"fan.power": "3 W"}}},
            'sweep.vary.fan.power: "3 W" where values to try are due; accepted: a list such as ["45 '
            'deg", "60 deg"], or { from = "1 m", to = "3 m" } with a kind: uniform, '
            "triangular, normal, lognormal, choice",
        ),
        (
            {"ducts": [{"name": "supply", "length": "1 m", "diameter": "6 in"}] * 21},
            "ducts: has 21 items, which is more than is read; accepted: a shorter list",
        ),
        (
            {"collector.back.layers": []},
            "collector.back.layers: is empty; accepted: at least one item",
        ),
        (
            {"fan": "strong"},
            'fan: "strong" where a table is due; accepted: a table of flow, curve, shut_off_pressure, '
            "free_flow, power, efficiency, heat_to_air, "
            "place, inlet_temperature",
        ),
        (
            {"ducts": "long"},
            'ducts: "long" where a list is due; accepted: a list, or [[ducts]]',
        ),
    ],
)
def test_each_refused_value_is_one_exact_line(demo: Scenario, changes: dict[str, Any], line: str) -> None:
    with pytest.raises(ScenarioError) as caught:
        demo.changed(changes)
    assert caught.value.problems == (f"(changed): {line}",)


@pytest.mark.parametrize(
    ("changes", "key"),
    [
        ({f"{TREE}.base_height": "40 ft"}, f"{TREE}.base_height"),
        ({f"{TREE}.in_leaf": 0.9}, f"{TREE}.in_leaf"),
        ({f"{TREE}.leaf_fall": "04-15"}, f"{TREE}.leaf_fall"),
        ({"collector.wall_resistance": "R-0"}, "collector.wall_resistance"),
        (
            {"collector.back.layers.1.thickness": None, "collector.back.layers.1.resistance": "R-0"},
            "collector.back.layers.1.resistance",
        ),
        ({"collector.edge.depth": None}, "collector.edge"),
        ({"collector.cover.1.rated": MORE_THAN_ALL}, "collector.cover.1.rated"),
        (
            {"collector.absorber.perforation": {"hole_diameter": "5 mm", "pitch": "4 mm"}},
            "collector.absorber.perforation.hole_diameter",
        ),
        ({"control": {"kind": "differential", "start": "3 K", "stop": "4 K"}}, "control.stop"),
        ({"electricity.price_date": None}, "electricity.price"),
        ({"house": {"floor_area": "90 m2", "elements": [{"name": "w", "area": "9 m2"}]}}, "house.elements.1"),
    ],
)
def test_what_contradicts_itself_is_told_at_its_key(
    demo: Scenario, changes: dict[str, Any], key: str
) -> None:
    with pytest.raises(ScenarioError) as caught:
        demo.changed(changes)
    (line,) = caught.value.problems
    assert line.startswith(f"(changed): {key}: ")
    assert "; accepted: " in line


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("collector.tilt", "90 deg"),
        ("collector.tilt", "0 deg"),
        ("collector.tilt", "1.5707963267948966 rad"),
        ("fan.heat_to_air", "100 %"),
        ("fan.heat_to_air", 1),
        ("collector.azimuth", "360 deg"),
    ],
)
def test_the_bounds_themselves_are_inside(demo: Scenario, key: str, value: Any) -> None:
    assert demo.changed({key: value})


def test_all_contradictions_of_a_section_come_at_once(demo: Scenario) -> None:
    with pytest.raises(ScenarioError) as caught:
        demo.changed({f"{TREE}.base_height": "40 ft", f"{TREE}.in_leaf": 0.9, f"{TREE}.crown_width": "99 ft"})
    assert len(caught.value.problems) == 3
