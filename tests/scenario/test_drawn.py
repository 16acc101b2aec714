"""Spreads in a scenario: what is read, and one line for everything that is refused."""

from typing import Any

import pytest

from simengine.data_files import data_path
from simengine.errors import ScenarioError
from simengine.scenario import Scenario, load


@pytest.fixture(scope="module")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo_us.toml"))


@pytest.mark.parametrize(
    ("key", "spread"),
    [
        ("collector.tilt", {"from": "40 deg", "to": "50 deg"}),
        (
            "collector.leak.flow",
            {"kind": "lognormal", "by": "factor", "median": 1, "factor": 2, "to": "250 %"},
        ),
        (
            "heating.price",
            {"kind": "triangular", "from": "2 USD/gal", "most": "3 USD/gal", "to": "4 USD/gal"},
        ),
        ("house.setpoint", {"kind": "normal", "by": "shift", "mean": "0 K", "deviation": "2 degF"}),
        ("site.weather", ["builtin:greensboro", "mine.csv"]),
        ("site.wind_shelter", False),
    ],
)
def test_it_is_read(demo: Scenario, key: str, spread: Any) -> None:
    assert key in demo.changed({"spread": {"vary": {key: spread}}}).inputs.spread.vary  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("key", "spread", "line"),
    [
        ("collector.tilt", {"from": "50 deg", "to": "40 deg"}, "from is not below to"),
        ("collector.tilt", {"from": 40, "to": 50}, 'spread.vary.collector.tilt: "40" has no unit'),
        ("collector.tilt", {"from": "40 deg", "to": "95 deg"}, '"95 deg" is above 90 deg'),
        ("collector.tilt", {"from": "40 deg"}, "a uniform spread has no to; accepted: from, to"),
        ("collector.tilt", {"from": "40 deg", "to": "50 deg", "mean": "45 deg"}, 'has "mean", which means'),
        ("collector.arrangement", {"from": "a", "to": "b"}, "is no quantity"),
        ("collector.tlt", {"from": "40 deg", "to": "50 deg"}, "is no key of a scenario, the nearest is"),
        ("site.trees.9.height", {"by": "factor", "from": 0.5, "to": 2}, "this scenario has no item"),
        ("heating.price", {"from": "1 USD/gal", "to": "2 EUR/L"}, "mixes EUR/L and USD/gal"),
        ("economics.first_cost", ["600 USD", "900 EUR"], "mixes EUR and USD; accepted: one currency"),
        ("heating.price", ["1 USD/gal", "2 EUR/L"], "mixes EUR and USD; accepted: one currency"),
        ("fan.power", {"kind": "nrmal"}, '"nrmal" is no kind of spread'),
        ("fan.power", {"kind": "normal", "mean": "3 W", "deviation": 0.1}, "has no unit"),
        (
            "fan.power",
            {"kind": "normal", "by": "twice", "mean": 1, "deviation": 1},
            'by "twice" says nothing',
        ),
        ("fan.power", {"kind": "lognormal", "by": "shift", "median": "3 W", "factor": 2}, "cannot be added"),
        ("fan.power", {"kind": "choice", "values": ["3 W"], "weights": [1, 2]}, "the weights do not fit"),
        ("fan.power", "3 W to 5 W", "where a spread is due"),
        ("collector.leak", {"from": "1 m", "to": "2 m"}, "is a section, not a value"),
    ],
)
def test_it_is_refused_in_one_line(demo: Scenario, key: str, spread: Any, line: str) -> None:
    with pytest.raises(ScenarioError) as refused:
        demo.changed({"spread": {"vary": {key: spread}}})
    assert len(refused.value.problems) == 1
    assert line in refused.value.problems[0]


def test_a_line_names_the_place_in_the_file(demo: Scenario, tmp_path: Any) -> None:
    text = data_path("scenarios", "demo_us.toml").read_text(encoding="utf-8")
    path = tmp_path / "mine.toml"
    path.write_text(f'{text}\n[spread.vary]\n"collector.tilt" = {{ from = "9 deg", to = "3 deg" }}\n')
    with pytest.raises(
        ScenarioError, match=rf"mine\.toml:{text.count(chr(10)) + 3}:1: spread\.vary\.collector"
    ):
        load(path)
