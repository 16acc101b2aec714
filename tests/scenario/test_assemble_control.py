"""Fan control and damper of a scenario: what they turn into, and the one line that each fault gets."""

import copy
import math
import tomllib
from typing import Any

import pytest

from simengine.errors import ScenarioError
from simengine.scenario import Scenario
from simengine.scenario.assembly import Assembly

SNAP = {"kind": "snap_switch", "start": "110 degF", "stop": "90 degF"}
DIFFERENTIAL = {"kind": "differential", "start": "9 K", "stop": "3 K"}
MODULE = {
    "kind": "pv_module",
    "open_circuit_voltage": "21.6 V",
    "short_circuit_current": "1.3 A",
    "best_voltage": "17.4 V",
    "best_current": "1.15 A",
}
NONE = {"kind": "none"}


@pytest.fixture
def made(demo_text: str):
    """Assemble the demo with another control and damper."""

    def make(control: dict[str, Any], damper: dict[str, Any] | None = None) -> Assembly:
        data = copy.deepcopy(tomllib.loads(demo_text))
        data["control"] = control
        if damper is not None:
            data["damper"] = damper
        return Scenario.from_dict(data).assemble()

    return make


def test_a_rule_without_speeds_has_one(made) -> None:
    rule = made(SNAP).control
    assert (rule.low_speed, rule.slope, rule.part_speeds) == (1.0, 0.0, False)
    assert rule.second_start == rule.second_stop == math.inf


def test_two_speeds_are_a_low_one_and_two_thresholds(made) -> None:
    rule = made({**SNAP, "low_speed": 0.5, "second_start": "60 degC", "second_stop": "50 degC"}).control
    assert (rule.low_speed, rule.slope) == (0.5, 0.0)
    assert (rule.second_start, rule.second_stop) == pytest.approx((333.15, 323.15))
    assert rule.part_speeds


def test_thresholds_of_a_differential_are_differences(made) -> None:
    rule = made({**DIFFERENTIAL, "low_speed": 0.5, "second_start": "36 degF", "second_stop": "10 K"}).control
    assert (rule.second_start, rule.second_stop) == pytest.approx((20.0, 10.0))
    assert rule.reference_weight == 1.0


def test_a_rising_speed_goes_from_stop_to_full(made) -> None:
    rule = made({**DIFFERENTIAL, "low_speed": 0.4, "full_speed_at": "23 K"}).control
    assert rule.low_speed + rule.slope * (23.0 - rule.stop) == pytest.approx(1.0)


def test_a_schedule_is_windows_of_hours(made) -> None:
    assert made({**SNAP, "hours": [[6, 9], [16.5, 22]]}).control.hours == ((6.0, 9.0), (16.5, 22.0))
    assert made({**SNAP, "hours": [[22, 6]]}).control.hours == ((22.0, 6.0),)


def test_a_module_drives_the_fan_whenever_it_gives_power(made) -> None:
    rule = made({**MODULE, "room_limit": "24 degC", "tilt": "30 deg"}).control
    assert rule.module is not None
    assert rule.module.fan_power == 28.0  # the demo's fan
    assert (rule.module.fan_voltage, rule.module.cells, rule.module.tilt) == (12.0, 36, pytest.approx(30.0))
    assert rule.stop < rule.start < 250.0  # no temperature keeps it off
    assert rule.room_limit == pytest.approx(297.15)


def test_without_a_fan_no_temperature_starts_it(made) -> None:
    parts = made(NONE, {"kind": "flap"})
    assert parts.control.start > 2000.0
    assert parts.passive is not None


def test_without_a_damper_section_a_tight_one_follows_the_fan(made) -> None:
    assert made(SNAP).passive is None
    assert made(SNAP, {"kind": "motorised"}).passive is None


def test_no_damper_lets_air_pass_both_ways(made) -> None:
    path = made(SNAP, {"kind": "none", "riser": "2 ft"}).passive
    assert path.opening_pressure == path.extra_forward == path.extra_reverse == 0.0
    assert path.riser == pytest.approx(0.6096)
    assert path.box_height == pytest.approx(made(SNAP).collector.length)  # it stands upright


def test_a_flap_opens_one_way(made) -> None:
    path = made(SNAP, {"kind": "flap", "opening_pressure": "2 Pa"}).passive
    assert (path.opening_pressure, path.extra_forward, path.extra_reverse) == (2.0, 0.0, math.inf)


def test_a_leak_is_an_orifice_in_the_narrowest_place(made) -> None:
    # a 6-in duct: dp = rho/2 (m / (rho 0.6 leak A))^2 (common practice)
    path = made(SNAP, {"kind": "flap", "leak": 0.1}).passive
    area = 0.6 * 0.1 * math.pi / 4.0 * 0.1524**2
    density = 101325.0 / (287.05 * 293.15)
    assert path.extra_reverse == pytest.approx(1.0 / (2.0 * density * area**2), rel=0.05)
    both_ways = made(SNAP, {"kind": "motorised", "leak": 0.1}).passive
    assert both_ways.extra_forward == both_ways.extra_reverse == path.extra_reverse


LOOP = [
    {"part": "entry", "diameter": "6 in"},
    {"part": "duct", "length": "5 ft", "diameter": "6 in"},
    {"part": "collector", "riser": "1 ft"},
    {"part": "duct", "length": "4 ft", "diameter": "5 in"},
    {"part": "exit", "diameter": "5 in"},
]


def looped(demo_text: str, *damper: dict[str, Any], **changes: Any) -> Scenario:
    """Return the demo with a loop told part by part, its damper before the exit."""
    data = tomllib.loads(demo_text)
    del data["ducts"]
    return Scenario.from_dict({**data, "loop": [*LOOP[:4], *damper, LOOP[4]], **changes})


def test_a_loop_without_a_damper_among_its_parts_has_none(demo_text: str) -> None:
    path = looped(demo_text).assemble().passive
    assert (path.extra_forward, path.extra_reverse) == (0.0, 0.0)
    assert path.riser == pytest.approx(0.3048)


def test_the_damper_of_a_loop_is_the_one_among_its_parts(demo_text: str) -> None:
    flap = {"part": "damper", "kind": "flap", "opening_pressure": "3 Pa", "leak": 0.1}
    path = looped(demo_text, flap).assemble().passive
    area = 0.6 * 0.1 * math.pi / 4.0 * 0.127**2  # it sits in the 5-in duct
    density = 101325.0 / (287.05 * 293.15)
    assert path.opening_pressure == 3.0
    assert path.extra_reverse == pytest.approx(1.0 / (2.0 * density * area**2), rel=0.05)
    motorised = {"part": "damper", "kind": "motorised"}
    assert looped(demo_text, motorised).assemble().passive is None


def test_a_loop_from_outdoors_is_taken_as_shut_at_rest(demo_text: str) -> None:
    assert looped(demo_text, air={"intake": "outdoors"}).assemble().passive is None


@pytest.mark.parametrize(
    ("parts", "changes", "says"),
    [
        ([], {"damper": {"kind": "flap"}}, "tells its damper among its parts"),
        ([{"part": "damper", "kind": "motorised"}], {"control": NONE}, "lets no air pass by itself"),
    ],
)
def test_a_loop_and_its_damper_must_go_together(demo_text: str, parts, changes, says) -> None:
    with pytest.raises(ScenarioError) as caught:
        looped(demo_text, *parts, **changes)
    (line,) = caught.value.problems
    assert says in line


def test_a_damper_needs_a_loop_that_comes_back(demo_text: str) -> None:
    data = {**tomllib.loads(demo_text), "damper": {"kind": "flap"}, "air": {"intake": "outdoors"}}
    with pytest.raises(ScenarioError, match="from one space back into it"):
        Scenario.from_dict(data)


def test_the_loss_of_the_resting_loop_is_that_of_its_parts(made) -> None:
    from simengine.airflow.circuit import loop_pressure

    parts = made(SNAP, {"kind": "none"})
    path = parts.passive
    for share in (0.1, 0.3, 0.7, 1.0):
        m = share * parts.fan.mass_flow
        fitted = path.quadratic * m**2 + path.blasius * m**1.75 + path.linear * m
        assert fitted == pytest.approx(loop_pressure(parts.air_path.parts, m, 101325.0), rel=0.1)


FAULTS = [
    pytest.param(
        {**SNAP, "second_start": "140 degF", "low_speed": 0.5}, "both its thresholds", id="one threshold"
    ),
    pytest.param(
        {**SNAP, "low_speed": 0.5, "second_start": "120 degF", "second_stop": "130 degF"},
        "the second speed would end where it begins",
        id="second stop above its start",
    ),
    pytest.param({**SNAP, "low_speed": 0.5}, "low_speed and what raises it", id="low speed for ever"),
    pytest.param(
        {**SNAP, "second_start": "140 degF", "second_stop": "120 degF"},
        "low_speed and what raises it",
        id="second speed as the first",
    ),
    pytest.param(
        {**SNAP, "low_speed": 0.5, "full_speed_at": "100 degF"},
        "full speed is due before the fan starts",
        id="full below start",
    ),
    pytest.param(
        {
            **SNAP,
            "low_speed": 0.5,
            "full_speed_at": "150 degF",
            "second_start": "140 degF",
            "second_stop": "120 degF",
        },
        "two steps and rises as well",
        id="both",
    ),
    pytest.param({**MODULE, "best_voltage": "22 V"}, "no module gives power there", id="voltage"),
    pytest.param({**MODULE, "best_current": "1.4 A"}, "no module gives power there", id="current"),
    pytest.param({**MODULE, "start": "40 degC"}, 'unknown key "start"', id="threshold of a module"),
    pytest.param({**SNAP, "hours": [[7, 7]]}, "windows of the day", id="empty window"),
    pytest.param({**SNAP, "hours": [[-1, 7]]}, "windows of the day", id="before midnight"),
    pytest.param({**SNAP, "hours": [7, 9]}, "windows of the day", id="not pairs"),
    pytest.param(NONE, "the damper lets no air pass by itself", id="nothing moves the air"),
]


@pytest.mark.parametrize(("control", "says"), FAULTS)
def test_a_control_that_cannot_be_gets_one_line(made, control, says) -> None:
    with pytest.raises(ScenarioError) as caught:
        made(control)
    (line,) = caught.value.problems
    assert says in line
    assert "control" in line
    assert "accepted: " in line


@pytest.mark.parametrize(
    ("damper", "says"),
    [
        ({"kind": "backdraft"}, '"backdraft" is no damper'),
        ({"kind": "flap", "opening_pressure": "200 Pa"}, "is above 100 Pa"),
        ({"kind": "flap", "leak": 1.5}, "is above"),
        ({"opening_pressure": "1 Pa"}, "damper.kind"),
    ],
)
def test_a_damper_that_cannot_be_gets_one_line(made, damper, says) -> None:
    with pytest.raises(ScenarioError) as caught:
        made(SNAP, damper)
    (line,) = caught.value.problems
    assert says in line
