"""The year of the demo: it closes, stays within what must be, and nothing beside a house moves it."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from simengine.data_files import data_path
from simengine.errors import RunEnded
from simengine.results import Result
from simengine.scenario import Scenario, load
from simengine.simulate import Resolved, houses_alone, resolve, run, run_resolved

HOUSES = ("standard", "low_energy")
OPEN: dict[str, Any] = {"collector.mounting": "open", "collector.wall_resistance": None}
OWN: dict[str, Any] = {
    "house": {
        "name": "own",
        "floor_area": "110 m2",
        "opaque_conductance": "150 W/K",
        "window_conductance": "50 W/K",
        "windows": [{"azimuth": "180 deg", "area": "6 m2"}],
    }
}


@pytest.fixture(scope="module")
def walled(demo: Scenario) -> Result:
    return run(demo)


@pytest.fixture(scope="module")
def opened(demo: Scenario) -> Result:
    """The demo with its back in the open: no wall behind it, and so no opening loss."""
    return run(demo.changed(OPEN))


def of(result: Result, name: str, house: int = 0) -> np.ndarray:
    return result.hours[name].to_numpy()[house]


# ---- what must be ----------------------------------------------------------


def test_both_houses_are_what_common_practice_says(walled: Result) -> None:
    # common practice: a low-energy house needs about a tenth of an ordinary one's heat per floor area
    standard, low = (walled.summary["houses"][name] for name in HOUSES)
    need = [house["heating_without_kwh"] / house["floor_area_m2"] for house in (standard, low)]
    assert 0.05 < need[1] / need[0] < 0.20
    assert 0.0 < low["useful_share"] < standard["useful_share"] < 1.0


def test_the_year_and_every_step_close(walled: Result) -> None:
    closure = walled.summary["closure"]
    assert max(closure["collector"], closure["house"]) < 1e-6
    assert max(closure["worst_step_collector"], closure["worst_step_house"]) < 1e-9


@pytest.mark.parametrize("name", ["demo_us.toml", "demo_metric.toml"])
def test_the_other_demos_close_and_save_heat(name: str) -> None:
    summary = run(load(data_path("scenarios", name))).summary
    closure = summary["closure"]
    assert max(closure["collector"], closure["house"]) < 1e-6
    assert max(closure["worst_step_collector"], closure["worst_step_house"]) < 1e-9
    for house in summary["houses"].values():
        assert 0.0 < house["offset_kwh"] < house["heating_without_kwh"]
        assert 0.0 < house["delivered_kwh"] < house["absorbed_kwh"] + house["fan_heat_kwh"]


@pytest.mark.parametrize("house", [0, 1])
def test_the_hours_balance_by_their_names(opened: Result, house: int) -> None:
    # first law over every hour of the box in the open, from what is shown and not from the march's own books
    gained = of(opened, "absorbed", house) + of(opened, "fan_heat", house) + of(opened, "night_loss", house)
    lost = sum(
        of(opened, name, house)
        for name in (
            "cover_convection_loss",
            "cover_longwave_loss",
            "back_loss",
            "edge_loss",
            "leak_loss",
            "duct_loss",
            "delivered",
            "stored",
        )
    )
    assert gained == pytest.approx(lost, abs=1e-6)
    reflected = of(opened, "incident", house) - of(opened, "absorbed", house)
    assert of(opened, "reflected", house) == pytest.approx(reflected, abs=1e-9)


@pytest.mark.parametrize("name", HOUSES)
def test_the_heat_saved_lies_between_nothing_and_what_the_air_brings(opened: Result, name: str) -> None:
    house = opened.summary["houses"][name]
    assert house["night_loss_kwh"] < 0.001 * house["delivered_kwh"]
    assert house["opening_loss_kwh"] == 0.0
    assert 0.0 <= house["offset_kwh"] <= house["delivered_kwh"]


@pytest.mark.parametrize("name", HOUSES)
def test_a_wall_behind_the_box_loses_less_than_it_did(walled: Result, name: str) -> None:
    house = walled.summary["houses"][name]
    assert house["opening_loss_kwh"] < 0.0
    assert 0.0 <= house["offset_kwh"] <= house["net_kwh"]


def test_the_opening_is_what_the_wall_loses_now_less_what_it_lost(walled: Result, resolved: Resolved) -> None:
    # the box's balance gives the heat that went into the wall; the old loss is U A (T_room - T_a)
    gained = of(walled, "absorbed") + of(walled, "fan_heat") + of(walled, "night_loss")
    names = ("cover_convection_loss", "cover_longwave_loss", "back_loss", "edge_loss", "leak_loss")
    names = (*names, "duct_loss", "delivered", "stored")
    into_wall = gained - sum(of(walled, name) for name in names)
    back = resolved.parts.collector.back
    assert back.wall_resistance is not None
    films = 0.13 + back.outside_film  # inside film of ISO 6946, heat flowing sideways; from memory, 1 %
    before = resolved.parts.collector.aperture / (back.wall_resistance + films)
    before = before * (of(walled, "room_temperature") - walled.hours["ambient_temperature"].to_numpy())
    assert of(walled, "opening_loss") == pytest.approx(-into_wall - before, abs=0.03)


# ---- fan and season ----------------------------------------------------------


def test_the_fan_uses_its_power_and_rests_out_of_season(walled: Result, resolved: Resolved) -> None:
    fan = resolved.parts.fan
    on, month = of(walled, "fan_on"), resolved.series.data.index.month
    assert of(walled, "fan_power") == pytest.approx(fan.electric_power * on, abs=1e-9)
    assert of(walled, "fan_heat") == pytest.approx(fan.electric_power * fan.heat_to_air * on, abs=1e-9)
    assert of(walled, "mass_flow") == pytest.approx(fan.mass_flow * on, abs=1e-12)
    allowed = np.isin(month, resolved.parts.control.months)
    assert on[~allowed].max() == 0.0
    assert on[allowed].sum() > 300.0
    assert np.isnan(of(walled, "peak_supply_temperature")[on == 0.0]).all()
    assert np.isfinite(of(walled, "peak_supply_temperature")[on > 0.0]).all()


def test_a_fan_that_never_runs_changes_nothing_in_the_house(demo: Scenario) -> None:
    # with the box in the open, a house with it is the house without it
    never = run(demo.changed({**OPEN, "control.start": "150 degC", "control.stop": "149 degC"}))
    for house in range(2):
        assert of(never, "fan_on", house).max() == 0.0
        assert of(never, "delivered", house).max() == 0.0
        bare = of(never, "heating_without", house)
        assert of(never, "heating_with", house) == pytest.approx(bare, rel=1e-12, abs=1e-9)
        bare = of(never, "room_temperature_without", house)
        assert of(never, "room_temperature", house) == pytest.approx(bare, rel=1e-12)


def test_fan_starts_hardly_change_when_the_step_is_halved(demo: Scenario, walled: Result) -> None:
    half = run(demo.changed({"run.step": f"{0.5 * demo.assemble().run.step:g} s"}))
    for house in range(2):
        for name, tolerance in (("fan_starts", 0.05), ("delivered", 0.003), ("heating_with", 0.003)):
            one, other = of(walled, name, house).sum(), of(half, name, house).sum()
            assert other == pytest.approx(one, rel=tolerance)


# ---- houses side by side, start of the year ----------------------------------------------------------


def test_a_house_beside_the_others_leaves_them_as_they_are(demo: Scenario, walled: Result) -> None:
    three = run(demo.changed(OWN))
    assert [str(name) for name in three.hours["house"].to_numpy()] == ["own", *HOUSES]
    for name in walled.hours.data_vars:
        with_own, without = three.hours[name].to_numpy(), walled.hours[name].to_numpy()
        assert np.array_equal(with_own[-2:] if with_own.ndim == 2 else with_own, without, equal_nan=True)


def test_the_house_starts_the_year_as_warm_as_it_ends_it(
    resolved: Resolved, walled: Result, monkeypatch: pytest.MonkeyPatch
) -> None:
    # twice as long a run-up moves nothing: the walls have forgotten where they started
    monkeypatch.setattr(houses_alone, "WARM_UP_DAYS", 2 * houses_alone.WARM_UP_DAYS)
    longer = run_resolved(resolved)
    for house in range(2):
        for name in ("heating_with", "heating_without", "delivered"):
            assert of(longer, name, house).sum() == pytest.approx(of(walled, name, house).sum(), rel=1e-4)


def test_the_same_run_gives_the_same_year(resolved: Resolved, walled: Result) -> None:
    again = run_resolved(resolved)
    for name in walled.hours.data_vars:
        one, other = again.hours[name].to_numpy(), walled.hours[name].to_numpy()
        assert np.array_equal(one, other, equal_nan=True)


# ---- weather that cannot be used ----------------------------------------------------------


@pytest.mark.parametrize("column", ["temp_air", "wind_speed"])
def test_weather_that_is_not_finite_ends_the_run_in_words(resolved: Resolved, column: str) -> None:
    data = resolved.series.data.copy()
    data.loc[data.index[4000], column] = np.nan
    with pytest.raises(RunEnded, match="not a finite number"):
        run_resolved(replace(resolved, series=replace(resolved.series, data=data)))


def test_weather_beside_the_scenarios_own_is_taken(demo: Scenario, resolved: Resolved) -> None:
    data = resolved.series.data.copy()
    data["temp_air"] += 3.0
    warmer = resolve(demo, replace(resolved.series, data=data))
    assert warmer.series.data["temp_air"].mean() == pytest.approx(
        resolved.series.data["temp_air"].mean() + 3.0
    )
