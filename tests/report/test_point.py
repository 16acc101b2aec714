"""An operating point for people: every figure with its meaning and unit, from invented numbers."""

import pytest

from simengine.report import point
from simengine.report.shown import Shown

US, SI = Shown("us"), Shown("si")
FIGURES = {
    "irradiance": 800.0,
    "incidence_angle": 30.0,
    "ambient_temperature": 273.15,
    "mass_flow": 0.05,
    "useful_gain": 1000.0,
    "efficiency": 0.4,
    "outlet_temperature": 313.15,
    "absorber_temperature": 333.15,
    "something_new": 7.0,
}


@pytest.mark.parametrize(
    ("units", "words"),
    [  # definitions of the units; 1 W = 3.412 Btu/h
        (SI, ["800 W/m2", "30 °", "0.0 °C", "0.05 kg/s", "1000 W", "40.0 °C"]),
        (US, ["254 Btu/h.ft2", "30 °", "32.0 °F", "3412 Btu/h", "104.0 °F"]),
    ],
)
def test_every_figure_has_its_unit(units: Shown, words: list[str]) -> None:
    text = point.listing(FIGURES, [units])
    squeezed = " ".join(text.split())
    assert all(word in squeezed for word in words)
    assert "Something new" in text


def test_both_unit_systems_stand_side_by_side_and_plain_numbers_once() -> None:
    lines = [" ".join(line.split()) for line in point.listing(FIGURES).splitlines()]
    assert "Heat into the air 1000 W 3412 Btu/h" in lines
    assert "Efficiency: heat into the air over sun on the aperture 0.4" in lines


def test_stagnation_is_named() -> None:
    assert "Stagnation" in point.listing({**FIGURES, "mass_flow": 0.0})
    assert "Stagnation" not in point.listing(FIGURES)


def test_a_table_has_a_line_a_point_and_one_unit_a_column() -> None:
    points = [{**FIGURES, "mass_flow": flow} for flow in (0.0, 0.05, 0.1)]
    lines = point.table(points, "mass_flow", SI).splitlines()
    assert len(lines) == 5
    assert lines[0].split()[0] == "flow"
    assert [line.split()[0] for line in lines[1:]] == ["kg/s", "0", "0.05", "0.1"]


def test_a_figure_that_one_point_lacks_is_a_dash() -> None:
    points = [{**FIGURES, "mass_flow": 0.0}, {**FIGURES, "net_heat_per_fan_watt": 33.1}]
    lines = point.table(points, "mass_flow", SI).splitlines()
    assert lines[2].split()[-1] == point.MISSING
    assert lines[3].split()[-1] == "33.1"


def test_the_test_standards_abscissa_has_its_unit_in_both_systems() -> None:
    points = [{**FIGURES, "inlet_temperature": 293.15, "reduced_difference": 0.025}]
    # definition: 0.025 m2K/W x 5.678263 = 0.142 h ft2 degF/Btu
    assert point.table(points, "inlet_temperature", SI).splitlines()[2].split()[1] == "0.025"
    assert point.table(points, "inlet_temperature", US).splitlines()[2].split()[1] == "0.142"


def test_what_is_held_is_told_without_what_varies() -> None:
    text = point.held(FIGURES, "mass_flow", SI)
    assert "800 W/m2" in text and "kg/s" not in text


def test_the_cover_is_told_or_its_absence() -> None:
    text = point.cover({"g_value": 0.859, "u_value": 5.75})
    assert "0.859" in text and "5.75 W/m2K" in text and "1.01 Btu/h.ft2.degF" in text
    assert point.cover(None) == "There is no cover."


def test_the_hottest_parts_are_held_against_their_limits() -> None:
    rows = [
        {"part": "back: foam_board", "hottest_c": 100.0, "limit_c": 74.0, "exceeded": True},
        {"part": "absorber: sheet", "hottest_c": 120.0, "limit_c": 150.0, "exceeded": False},
    ]
    lines = point.hottest(rows).splitlines()
    assert "Foam board (back)" in lines[1] and "212 °F" in lines[1] and lines[1].endswith("TOO HOT")
    assert "TOO HOT" not in lines[2]
