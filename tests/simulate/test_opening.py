"""A panel in a window opening: the house loses the window's heat and sun, and the collector pays for it."""

from typing import Any

import numpy as np
import pytest

from simengine.errors import ScenarioError
from simengine.results import Result
from simengine.results.balance import COLLECTOR_TERMS, HOUSE_TERMS, left_open
from simengine.scenario import Scenario
from simengine.simulate import Resolved, resolve, run
from simengine.simulate.forcing import on_plane, place
from simengine.simulate.opening import change_of_conductance, house_with, panel_cautions
from simengine.simulate.resolve import wall_conductance

BARE: dict[str, Any] = {"window_panel": {"area": "0.55 m2", "azimuth": "180 deg"}}
FOAM: dict[str, Any] = {"window_panel": {**BARE["window_panel"], "insulation": "R-6"}}
OPEN: dict[str, Any] = {"collector.mounting": "open", "collector.wall_resistance": None}
NEVER: dict[str, Any] = {"control.start": "149 degC", "control.stop": "148 degC", **OPEN}
HOUSE: dict[str, Any] = {
    "name": "own",
    "floor_area": "100 m2",
    "opaque_conductance": "120 W/K",
    "window_conductance": "40 W/K",
    "windows": [
        {"azimuth": "90 deg", "area": "5 m2"},
        {"azimuth": "180 deg", "area": "2 m2", "u_value": "2.8 W/m2K"},
    ],
}


@pytest.fixture(scope="module")
def plain(demo: Scenario) -> Result:
    return run(demo)


@pytest.fixture(scope="module")
def bare(demo: Scenario) -> Result:
    return run(demo.changed(BARE))


@pytest.fixture(scope="module")
def foam(demo: Scenario) -> Result:
    return run(demo.changed(FOAM))


def panel_of(scenario: Scenario) -> Any:
    return scenario.assemble().window_panel


def test_u_value_of_an_inch_of_foam(demo: Scenario) -> None:
    # R-6 an inch read in a data sheet (published), films of ISO 6946 from memory: 0.815 W/m2K +-0.2 %
    assert panel_of(demo.changed(FOAM)).u_value == pytest.approx(0.815, rel=2e-3)
    # a bare sheet is its two films, 1/0.17 (ISO 6946, from memory)
    assert panel_of(demo.changed(BARE)).u_value == pytest.approx(5.882, rel=1e-3)


def test_panel_looks_as_the_collector_where_nothing_is_said(demo: Scenario) -> None:
    told = panel_of(demo.changed({"window_panel": {"area": "0.55 m2"}}))
    assert told.window.azimuth == demo.assemble().collector.azimuth
    assert demo.assemble().window_panel is None


def test_house_with_the_panel_conducts_by_hand(demo: Scenario, resolved: Resolved) -> None:
    # 0.55 m2 (0.815 - 2.8) = -1.092 W/K
    parts = demo.changed(FOAM).assemble(resolved.pressure)
    house = resolved.houses[0]
    change = house_with(house, parts).window_conductance - house.window_conductance
    assert change == pytest.approx(-1.092, rel=2e-3)


@pytest.mark.parametrize("build", [BARE, FOAM], ids=["bare", "foam"])
def test_a_collector_that_never_runs_leaves_the_house_with_another_opening(
    demo: Scenario, build: dict[str, Any]
) -> None:
    # the same house told without the window, and with the panel among its conductances (independent way)
    window = {**build, "window_panel": {**build["window_panel"], "area": "2 m2"}}
    told = demo.changed({**NEVER, **window, "house": HOUSE})
    conductance = 40.0 + change_of_conductance(panel_of(told))
    closed = {**HOUSE, "windows": HOUSE["windows"][:1], "window_conductance": f"{conductance:.12g} W/K"}
    other = run(demo.changed({**NEVER, "house": closed})).summary["houses"]["own"]
    ours = run(told).summary["houses"]["own"]
    assert ours["delivered_kwh"] == 0.0
    assert ours["heating_with_kwh"] == pytest.approx(other["heating_without_kwh"], rel=1e-4)
    assert ours["heating_without_kwh"] != pytest.approx(ours["heating_with_kwh"], rel=1e-4)


def test_the_house_without_the_collector_keeps_its_window(plain: Result, bare: Result) -> None:
    for name in ("heating_without", "room_temperature_without", "vented_without"):
        np.testing.assert_array_equal(plain.hours[name], bare.hours[name])


@pytest.mark.parametrize("house", [0, 1])
def test_the_opening_is_both_changes_with_their_signs(demo: Scenario, bare: Result, house: int) -> None:
    free = {"collector.azimuth": "180 deg", "site.horizon": [], "site.trees": []}
    resolved = resolve(demo.changed({**BARE, **free}))
    here = place(resolved.series, resolved.parts.site, resolved.parts.run.clear_sky)
    sun = on_plane(here, resolved).total  # upright and south: the very plane of the window
    # 0.55 m2 glazed to 70 %, g 0.75, 0.9 of shade, 0.9 for slanting light (ISO 13790, from memory)
    gone = 0.55 * 0.7 * 0.75 * 0.9 * 0.9 * sun
    above = bare.hours["room_temperature"][house] - bare.hours["ambient_temperature"]
    wall = -bare.hours["wall_heat"][house] - wall_conductance(resolved.parts.collector) * above
    expected = wall + 0.55 * (1.0 / 0.17 - 2.8) * above + gone
    np.testing.assert_allclose(bare.hours["opening_loss"][house], expected, atol=1e-6)


@pytest.mark.parametrize("name", ["standard", "low_energy"])
def test_a_bare_panel_costs_more_than_foam_and_foam_more_than_none(
    plain: Result, bare: Result, foam: Result, name: str
) -> None:
    saved = [result.summary["houses"][name]["offset_kwh"] for result in (bare, foam, plain)]
    assert saved == sorted(saved)
    lost = [result.summary["houses"][name]["opening_loss_kwh"] for result in (bare, foam, plain)]
    assert lost == sorted(lost, reverse=True)


def test_the_panel_counts_in_summer_too(plain: Result, bare: Result) -> None:
    july = bare.hours["time"].dt.month == 7
    more = (bare.hours["opening_loss"] - plain.hours["opening_loss"])[:, july]
    assert float(more.sum()) > 0.0


@pytest.mark.parametrize("name", ["standard", "low_energy"])
def test_both_ledgers_close_with_a_panel(bare: Result, name: str) -> None:
    house = bare.summary["houses"][name]
    assert left_open(house, COLLECTOR_TERMS) < 1e-6
    assert left_open(house, HOUSE_TERMS) < 1e-6


def test_a_panel_larger_than_the_windows_is_told(demo: Scenario) -> None:
    small = panel_cautions(resolve(demo.changed(FOAM)))
    huge = panel_cautions(resolve(demo.changed({"window_panel.area": "9.5 m2"})))
    assert len(small) == 1 and "way of escape" in small[0]
    assert any("less window on that side" in caution for caution in huge)


def test_a_panel_needs_its_area(demo: Scenario) -> None:
    with pytest.raises(ScenarioError, match=r"window_panel\.area: is missing; accepted: area = "):
        demo.changed({"window_panel": {"insulation": "R-6"}})
