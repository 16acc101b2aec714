"""The loop part by part: what it becomes, where a fan's curve meets it, and what is refused."""

import math
from dataclasses import replace
from typing import Any

import pytest

from simengine.airflow.circuit import loop_pressure
from simengine.airflow.parts import Bend, FlexibleDuct, Grille
from simengine.data_files import data_path
from simengine.errors import InputError
from simengine.scenario import Scenario, load

PRESSURE = 98000.0

SHORT: list[dict[str, Any]] = [
    {"part": "entry", "diameter": "6 in"},
    {"part": "duct", "length": "5 ft", "diameter": "6 in", "insulation": "R-6"},
    {"part": "exit", "diameter": "6 in"},
    {"part": "collector"},
    {"part": "entry", "diameter": "6 in"},
    {"part": "duct", "length": "4 ft", "diameter": "6 in", "insulation": "R-6"},
    {"part": "exit", "diameter": "6 in"},
]
"""The demo's own ducts, written out."""


@pytest.fixture(scope="module")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo.toml"))


def looped(demo: Scenario, loop: list[dict[str, Any]], **fan: Any) -> Scenario:
    changes: dict[str, Any] = {"loop": loop, "ducts": None}
    if fan:
        changes["fan"] = fan
    return demo.changed(changes)


def without(loop: list[dict[str, Any]], part: str) -> list[dict[str, Any]]:
    return [item for item in loop if item["part"] != part]


def test_the_short_form_written_out_is_the_same_loop(demo: Scenario) -> None:
    short, full = demo.assemble(PRESSURE), looped(demo, SHORT).assemble(PRESSURE)
    assert (full.supply_ducts, full.return_ducts) == (short.supply_ducts, short.return_ducts)
    flow = short.fan.mass_flow
    assert loop_pressure(full.air_path.parts, flow, PRESSURE) == pytest.approx(
        loop_pressure(short.air_path.parts, flow, PRESSURE), rel=1e-12
    )


def test_every_kind_of_part_arrives(demo: Scenario) -> None:
    loop = [
        {"part": "grille", "area": "1 ft2", "free_share": 0.5},
        {"part": "filter", "area": "1 ft2", "rated_velocity": "300 ft/min", "rated_pressure": "0.1 in.wg"},
        {"part": "rectangular_duct", "length": "2 m", "width": "350 mm", "height": "90 mm"},
        {"part": "fan"},
        {"part": "collector"},
        {"part": "bend", "diameter": "6 in", "radius": 0.0},
        {"part": "reducer", "before": "6 in", "after": "5 in"},
        {"part": "flexible_duct", "length": "4 ft", "diameter": "5 in", "stretch": 0.8},
        {"part": "damper", "kind": "flap", "loss_coefficient": 0.7},
        {"part": "fitting", "loss_coefficient": 1.3, "diameter": "5 in", "name": "hood"},
    ]
    parts = looped(demo, loop).assemble(PRESSURE)
    before, after = parts.air_path.before, parts.air_path.after
    assert [type(part).__name__ for part in before] == ["Grille", "Filter", "RectangularDuct"]
    assert isinstance(before[0], Grille) and before[0].free_share == 0.5
    assert isinstance(after[0], Bend) and after[0].radius == 0.0
    assert isinstance(after[2], FlexibleDuct) and after[2].stretch == 0.8
    assert after[3].area == pytest.approx(math.pi / 4.0 * 0.127**2)  # the damper sits in the 5 in duct
    assert after[4].name == "hood"
    assert parts.fan_place == "room_side"
    # a flat duct loses heat as a round one of the same wall: 2 (0.35 + 0.09) / pi
    assert parts.return_ducts[0].diameter == pytest.approx(0.88 / math.pi)


@pytest.mark.parametrize(
    "part",
    [
        {"part": "entry", "diameter": "6 in"},
        {"part": "exit", "diameter": "6 in"},
        {"part": "bend", "diameter": "6 in"},
        {"part": "reducer", "before": "8 in", "after": "6 in"},
        {"part": "grille", "area": "28.274334 in2"},
    ],
)
def test_every_usual_loss_can_be_overridden(demo: Scenario, part: dict[str, Any]) -> None:
    # zeta rho v^2/2 on the narrowest place of the part, here a circle of 6 in each time (definition)
    flow, area = 0.06, math.pi / 4.0 * 0.1524**2
    own = looped(demo, [{**part, "loss_coefficient": 2.5}, *SHORT]).assemble(PRESSURE).air_path.before[0]
    usual = looped(demo, [part, *SHORT]).assemble(PRESSURE).air_path.before[0]
    density = PRESSURE / (287.05 * 293.15)
    expected = 2.5 * 0.5 * flow**2 / (density * area**2)
    assert loop_pressure([own], flow, PRESSURE) == pytest.approx(expected, rel=1e-4)
    assert loop_pressure([usual], flow, PRESSURE) != pytest.approx(expected, rel=0.05)


def test_roughness_and_exponent_can_be_overridden(demo: Scenario) -> None:
    rough = [{**SHORT[1], "roughness": "3 mm"}, {"part": "collector"}, SHORT[1]]
    parts = looped(demo, rough).assemble(PRESSURE).air_path
    assert loop_pressure(parts.before, 0.06, PRESSURE) > 1.5 * loop_pressure(
        [replace(parts.before[0], roughness=0.09e-3)], 0.06, PRESSURE
    )
    rating = {"area": "0.1 m2", "rated_velocity": "1 m/s", "rated_pressure": "20 Pa", "exponent": 2.0}
    mesh = looped(demo, [{"part": "filter", **rating}, *SHORT]).assemble(PRESSURE).air_path.before[0]
    one, two = (loop_pressure([mesh], m, PRESSURE) for m in (0.05, 0.1))
    assert two == pytest.approx(4.0 * one, rel=1e-12)


def test_a_fan_behind_the_collector_pulls(demo: Scenario) -> None:
    loop = [*SHORT, {"part": "fan"}]
    assert looped(demo, loop).assemble(PRESSURE).fan_place == "hot_side"


def test_a_parabolic_fan_meets_a_loop_of_fittings_where_algebra_says(demo: Scenario) -> None:
    # p0 (1 - (Q/Q0)^2) = K/2 rho Q^2/A^2; a big loss on each side, beside which the box is nothing
    loop = [
        {"part": "fitting", "loss_coefficient": 400, "diameter": "300 mm"},
        {"part": "collector"},
        {"part": "fitting", "loss_coefficient": 400, "diameter": "300 mm"},
    ]
    scenario = looped(demo, loop, shut_off_pressure="150 Pa", free_flow="0.1 m3/s", power="20 W")
    parts = scenario.assemble(PRESSURE)
    flow = parts.fan_volume_flow
    area = math.pi / 4.0 * 0.3**2
    density = PRESSURE / (287.05 * 293.15)
    fan = 150.0 * density / 1.2014 * (1.0 - (flow / 0.1) ** 2)
    lost = loop_pressure(parts.air_path.parts, parts.fan.mass_flow, PRESSURE)
    assert fan == pytest.approx(lost, rel=1e-3)
    warm = density * 293.15 / 318.15  # half of the loop is at 45 degC
    algebra = 0.5 * 400.0 * (parts.fan.mass_flow / area) ** 2 * (1.0 / density + 1.0 / warm)
    assert lost == pytest.approx(algebra, rel=0.02)  # the box adds under 2 %


def test_a_curve_with_powers_gives_the_power_at_the_point(demo: Scenario) -> None:
    curve = [["150 Pa", "0 m3/s", "30 W"], ["100 Pa", "0.05 m3/s", "40 W"], ["0 Pa", "0.1 m3/s", "50 W"]]
    fan = looped(demo, SHORT, curve=curve).assemble(PRESSURE).fan
    assert 40.0 < fan.electric_power < 50.0


@pytest.mark.parametrize(
    ("loop", "wrong"),
    [
        (SHORT[:3], "the loop passes no collector"),
        ([*SHORT, {"part": "collector"}], "the loop passes 2 collectors"),
        (SHORT[3:], "the loop has no return: no air reaches the collector"),
        (SHORT[:4], "the loop has no supply: no air leaves the collector"),
        ([*SHORT, {"part": "fan"}, {"part": "fan"}], "the loop has two fans"),
        (
            [{"part": "grille", "area": "1 ft2"}, {"part": "damper", "kind": "flap"}, *SHORT[3:]],
            "a damper on no part",
        ),
        ([{**SHORT[1], "length": "101 m"}, *SHORT[3:]], '"101 m" is above 100 m'),
    ],
)
def test_a_loop_that_is_none_gets_one_line(demo: Scenario, loop: list[dict[str, Any]], wrong: str) -> None:
    with pytest.raises(InputError) as told:
        looped(demo, loop)
    assert len(told.value.problems) == 1
    assert wrong in told.value.problems[0] and "accepted:" in told.value.problems[0]


def test_short_form_and_parts_at_once_are_refused(demo: Scenario) -> None:
    with pytest.raises(InputError, match=r"\[\[ducts\]\] and \[\[loop\]\] are both given"):
        demo.changed({"loop": SHORT})


@pytest.mark.parametrize(
    ("fan", "wrong"),
    [
        ({"power": "20 W"}, "the fan's flow is not clear"),
        ({"flow": "100 cfm"}, "nothing is known of the fan's power"),
        ({"shut_off_pressure": "100 Pa", "power": "20 W"}, "half a curve"),
        ({"flow": "100 cfm", "efficiency": 0.3}, "an efficiency without a curve"),
        (
            {"curve": [["10 Pa", "0 cfm"], ["20 Pa", "90 cfm"]], "power": "9 W"},
            "the fan's curve is not falling",
        ),
        (
            {"curve": [["10 Pa", "90 cfm"], ["5 Pa", "90 cfm"]], "power": "9 W"},
            "two points have the same flow",
        ),
        ({"curve": [["10 Pa", "0"], ["5 Pa", "90 cfm"]], "power": "9 W"}, "has no unit"),
    ],
)
def test_a_fan_that_is_none_gets_one_line(demo: Scenario, fan: dict[str, Any], wrong: str) -> None:
    with pytest.raises(InputError) as told:
        looped(demo, SHORT, **fan)
    assert any(wrong in problem and "accepted:" in problem for problem in told.value.problems)


def test_a_fan_that_is_too_weak_or_runs_off_its_curve_is_told(demo: Scenario) -> None:
    weak = looped(demo, SHORT, curve=[["2 Pa", "100 cfm"], ["1 Pa", "110 cfm"]], power="9 W")
    with pytest.raises(InputError, match="more pressure than the fan has"):
        weak.assemble(PRESSURE)
    short = looped(demo, SHORT, curve=[["150 Pa", "0 cfm"], ["120 Pa", "60 cfm"]], power="9 W")
    with pytest.raises(InputError, match="last point of the curve"):
        short.assemble(PRESSURE)
