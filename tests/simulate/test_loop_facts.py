"""What the loop costs, as the results tell it."""

from typing import Any

import pytest

from simengine.airflow.circuit import loop_pressure
from simengine.data_files import data_path
from simengine.results.settle import settle
from simengine.scenario import load
from simengine.simulate.fan_at_flow import flow_of
from simengine.simulate.loop_facts import loop_cautions, loop_facts
from simengine.simulate.resolve import Resolved, resolve

CURVED = {"shut_off_pressure": "80 Pa", "free_flow": "150 cfm", "power": "20 W"}


def demo(**changes: Any) -> Resolved:
    scenario = load(data_path("scenarios", "demo.toml"))
    return resolve(scenario.changed(changes) if changes else scenario)


def test_the_parts_add_up_to_the_loop() -> None:
    resolved = demo()
    facts = loop_facts(resolved)
    whole = loop_pressure(resolved.parts.air_path.parts, resolved.parts.fan.mass_flow, resolved.pressure)
    assert facts["pressure_pa"] == pytest.approx(whole, rel=1e-12)
    assert [row["part"] for row in facts["parts"]][3] == "space behind the absorber"


def test_a_small_duct_is_told_to_be_heard() -> None:
    small = {"ducts.supply.diameter": "4 in", "ducts.return.diameter": "4 in"}
    assert any("may be heard" in caution for caution in loop_cautions(demo(**small)))
    assert not any("may be heard" in caution for caution in loop_cautions(demo()))


@pytest.mark.parametrize(
    ("place", "words"), [("room_side", "below outdoor pressure"), ("hot_side", "comes cold")]
)
def test_a_leaky_box_says_which_way_it_moves_the_house(place: str, words: str) -> None:
    leaky = demo(**{"collector.leak": {"flow": "20 cfm"}, "fan.place": place})
    told = [caution for caution in loop_cautions(leaky) if words in caution]
    assert len(told) == 1 and "draught" in told[0]


def test_a_flow_can_be_asked_for_in_the_place_of_a_curve() -> None:
    fan = {"shut_off_pressure": "80 Pa", "free_flow": "150 cfm", "efficiency": 0.1}
    curved = load(data_path("scenarios", "demo.toml")).changed({"fan": fan})
    plain = load(data_path("scenarios", "demo.toml"))
    assert flow_of(curved, "90 cfm") == pytest.approx(flow_of(plain, "90 cfm"), rel=1e-12)


def test_a_given_power_is_that_of_the_operating_point_wherever_it_is() -> None:
    parts = demo(fan=CURVED).parts
    assert parts.fan.electric_power == pytest.approx(20.0, rel=1e-12)
    assert parts.fan_curve is not None and parts.fan_curve.parabolic


def test_pressures_are_told_in_both_units_and_a_narrowing_space_is_one_part() -> None:
    told = loop_facts(resolve(load(data_path("scenarios", "demo_us.toml"))))
    names = [row["part"] for row in told["parts"]]
    assert len(names) == len(set(names)) == 13
    for row in [*told["parts"], told]:
        # 1 in.wg is 249.089 Pa: 25.4 mm of 1000 kg/m3 under 9.80665 m/s2 (definition)
        assert row["pressure_pa"] == pytest.approx(249.089 * row["pressure_in_wg"], rel=1e-5)


def test_the_facts_say_where_the_flow_is_from_and_how_the_box_stands() -> None:
    given, curved = (
        loop_facts(demo()),
        loop_facts(demo(**{"fan": CURVED, "collector.leak": {"flow": "9 cfm"}})),
    )
    assert given["flow_from"] == "given" and given["box_pressure_pa"] is None
    assert curved["flow_from"] == "fan curve" and curved["box_pressure_pa"] > 0.0


def test_a_duct_that_ends_without_a_mouth_is_told() -> None:
    duct = {"part": "duct", "length": "1 m", "diameter": "6 in"}
    mouths = [{"part": "entry", "diameter": "6 in"}, {"part": "exit", "diameter": "6 in"}]
    ends = [{**duct, "name": "first"}, mouths[1], {"part": "collector"}, mouths[0], {**duct, "name": "last"}]
    told = [text for text in loop_cautions(demo(loop=ends, ducts=None)) if "without a mouth" in text]
    assert [text.partition(":")[0] for text in told] == ["First", "Last"]


def test_a_space_that_air_is_only_taken_from_is_told_to_be_drawn_down() -> None:
    cellar = {"floor_area": "70 m2", "ground_conductance": "45 W/K"}
    two = {"second_space": cellar, "collector.mounting": "open", "collector.wall_resistance": None}
    told = loop_cautions(demo(**two, **{"air.intake": "second_space"}))
    assert [text for text in told if "drawn below outdoor pressure" in text and "carbon monoxide" in text]
    for intake in ("room", "outdoors"):
        assert not [text for text in loop_cautions(demo(**{"air.intake": intake})) if "drawn below" in text]


def test_a_box_that_nobody_tested_has_no_pressure_but_a_reason() -> None:
    told = settle(loop_facts(demo()))
    assert told["box_pressure_pa"] is None
    assert "taken as tight" in told["box_pressure_reason"]
    leaky = settle(loop_facts(demo(**{"collector.leak": {"flow": "9 cfm"}})))
    assert "box_pressure_reason" not in leaky and leaky["box_pressure_pa"] > 0.0
