"""The best orientation is a top of the hill, stands where geometry says, and takes few runs."""

from typing import Any

import pytest

from simengine.batch.orientation import LARGEST_TURN, MOST_RUNS, best_orientation
from simengine.data_files import data_path
from simengine.errors import InputError
from simengine.report.shown import Shown
from simengine.report.spots import orientation
from simengine.scenario import Scenario, load

OPEN: dict[str, Any] = {"collector.mounting": "open", "collector.wall_resistance": None}


@pytest.fixture(scope="module")
def free() -> Scenario:
    """The demo on a rack in the open, without a tree or a skyline."""
    demo = load(data_path("scenarios", "demo.toml"))
    return demo.changed({**OPEN, "site.trees": [], "site.horizon": None})


@pytest.fixture(scope="module")
def found(free: Scenario) -> dict[str, Any]:
    return best_orientation(free)


def test_it_is_the_top_of_both_curves(found: dict[str, Any]) -> None:
    for key in ("tilt", "azimuth"):
        curve = found[f"{key}_curve"]
        top = max(curve, key=lambda point: point["offset_kwh"])
        best = found["best"][f"{key}_deg"]
        near = [point for point in curve if point[f"{key}_deg"] == best]
        assert near and near[0]["offset_kwh"] >= 0.999 * top["offset_kwh"]


def test_heat_is_wanted_in_winter_so_it_stands_steep_and_looks_south(found: dict[str, Any]) -> None:
    """Common practice: latitude plus some 10 to 25 deg for winter heat, within some 20 deg of south."""
    assert 45.0 <= found["best"]["tilt_deg"] <= 75.0
    assert 160.0 <= found["best"]["azimuth_deg"] <= 210.0
    low, high = found["near"]["tilt_deg"]
    assert low < found["best"]["tilt_deg"] < high
    low, high = found["near"]["azimuth_deg"]
    assert low < found["best"]["azimuth_deg"] < high


def test_it_saves_more_than_where_it_stands_in_few_runs(found: dict[str, Any]) -> None:
    assert found["best"]["offset_kwh"] > found["as_it_stands"]["offset_kwh"]
    assert found["runs"] <= MOST_RUNS + 25


def test_the_listing_tells_the_best_and_the_curves(found: dict[str, Any]) -> None:
    text = orientation(found, Shown("si"))
    assert f"tilt of {found['best']['tilt_deg']:.0f} deg" in text
    assert "Heating saved over the tilt" in text and "Heating saved over the azimuth" in text


@pytest.mark.slow
def test_shade_in_the_east_turns_it_west(free: Scenario, found: dict[str, Any]) -> None:
    shaded = free.changed({"site.horizon": [[60, 60], [170, 60], [175, 0], [55, 0]]})
    turned = best_orientation(shaded)
    assert turned["best"]["azimuth_deg"] > found["best"]["azimuth_deg"] + 5.0
    assert abs(turned["best"]["azimuth_deg"] - 180.0) <= LARGEST_TURN


@pytest.mark.slow
def test_on_the_southern_half_it_looks_north(free: Scenario) -> None:
    from simengine.weather.normals import Normals, Place
    from simengine.weather.synthetic import synthetic_year

    ghi = (6.0, 5.3, 4.3, 3.1, 2.0, 1.6, 1.8, 2.6, 3.7, 4.8, 5.6, 6.2)
    warmth = (24.0, 23.0, 19.0, 12.5, 7.0, 1.5, -1.0, 0.5, 5.0, 11.0, 16.5, 21.5)
    south = synthetic_year(Place(-40.0, 147.0, 100.0, 10.0), Normals(ghi, warmth))
    azimuth = best_orientation(free.changed({"control.months": None}), south)["best"]["azimuth_deg"]
    assert min(azimuth, 360.0 - azimuth) <= 30.0


def test_an_unknown_house_is_told(free: Scenario) -> None:
    with pytest.raises(InputError, match="accepted: standard, low_energy"):
        best_orientation(free, house="castle")
