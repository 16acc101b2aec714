"""What materials bear, and the check against it."""

import numpy as np
import pint
import pytest

from simengine.collector.limits import LIMITS, check_limits, material_limit
from simengine.errors import InputError

UNITS = pint.UnitRegistry()


@pytest.mark.parametrize(
    ("material", "fahrenheit", "celsius"),
    [
        # Limits read in the named source; tolerance 0.8 K throughout.
        pytest.param("polystyrene", 165, 73.9, id="ASTM C578-16/-22 scope"),
        pytest.param("polyiso_unfaced", 300, 149, id="ASTM C591-17 scope"),
        pytest.param("polycarbonate", 212, 100, id="UL 746B table, polycarbonate"),
        pytest.param("acrylic", 122, 50, id="UL 746B table, acrylic"),
        pytest.param("silicone", 350, 176, id="sealant data sheet"),
        pytest.param("mineral_wool", 1800, 982, id="ASTM C612 scope"),
        pytest.param("sealed_unit", 140, 60, id="ASTM E2188 test"),
        pytest.param("wood", 170, 77, id="Babrauskas et al. 2007"),
    ],
)
def test_limit_is_that_of_its_source(material: str, fahrenheit: float, celsius: float) -> None:
    assert material_limit(material).limit_c == pytest.approx(celsius, abs=0.8)
    converted = UNITS.Quantity(fahrenheit, "degF").to("degC").magnitude
    assert material_limit(material).limit_c == pytest.approx(converted, abs=0.8)


@pytest.mark.parametrize(
    ("material", "celsius"),
    # Common practice, from memory of the trade's tables.
    [("polyiso_faced", 93), ("pvc", 50), ("flexible_duct", 60), ("fibrous_glass", 121)],
)
def test_limits_of_common_practice(material: str, celsius: float) -> None:
    assert material_limit(material).limit_c == celsius


@pytest.mark.parametrize("key", LIMITS)
def test_every_limit_has_words_and_a_source(key: str) -> None:
    limit = LIMITS[key]
    assert limit.material == key and limit.words and limit.source
    assert 40.0 <= limit.limit_c <= 1000.0
    assert limit.short_c is None or limit.short_c > limit.limit_c


def test_hotter_than_the_limit_is_exceeded_and_says_so() -> None:
    (check,) = check_limits({"duct": np.array([293.15, 343.15, 300.0])}, {"duct": "flexible_duct"})
    assert check.exceeded and check.index == 1
    assert check.hottest_c == pytest.approx(70.0) and check.limit_c == 60.0
    assert check.sentence == (
        "duct reaches 70 degC: above the 60 degC that polymer-core flexible duct bears, "
        "only for a short time (82 degC) (UL 181, 140 degF (from memory))."
    )


def test_beyond_the_short_limit_is_said() -> None:
    (check,) = check_limits({"duct": 363.15}, {"duct": "flexible_duct"})
    assert "not even for a short time (82 degC)" in check.sentence


def test_at_the_limit_is_within() -> None:
    (check,) = check_limits({"frame": 273.15 + 77.0}, {"frame": "wood"})
    assert not check.exceeded and "within" in check.sentence


def test_the_worst_part_comes_first() -> None:
    hot = {"pane": 340.0, "back": 360.0, "frame": 352.0}
    checks = check_limits(hot, {"pane": "tempered_glass", "back": "polystyrene", "frame": "wood"})
    assert [check.part for check in checks] == ["back", "frame", "pane"]


def test_hotter_never_stops_a_warning() -> None:
    for material, limit in LIMITS.items():
        verdicts = [
            check_limits({"part": 273.15 + limit.limit_c + over}, {"part": material})[0].exceeded
            for over in (-1.0, 0.5, 50.0)
        ]
        assert verdicts == [False, True, True]


@pytest.mark.parametrize(
    ("temperatures", "materials"),
    [
        ({"pane": 300.0}, {}),
        ({"pane": 300.0}, {"pane": "stone"}),
        ({"pane": float("nan")}, {"pane": "glass"}),
        ({"pane": np.array([])}, {"pane": "glass"}),
    ],
)
def test_incomplete_input_is_refused(temperatures: dict[str, float], materials: dict[str, str]) -> None:
    with pytest.raises(InputError, match="accepted"):
        check_limits(temperatures, materials)
