"""A scenario's spaces and ways of the air, all the way from the file to the summary."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from simengine.constants import ZERO_CELSIUS
from simengine.house.spec import Ground
from simengine.results import Result
from simengine.scenario import Scenario
from simengine.simulate import Resolved, resolve, run
from simengine.simulate.forcing import Place, demand_rows, place, zone_rows
from simengine.simulate.house_rows import ground_of

OPEN: dict[str, Any] = {"collector.mounting": "open", "collector.wall_resistance": None}
CELLAR: dict[str, Any] = {"floor_area": "70 m2", "ground_conductance": "45 W/K", "door_flow": "60 m3/h"}
HOUSES = ("standard", "low_energy")


@pytest.fixture(scope="module")
def here(resolved: Resolved) -> Place:
    return place(resolved.series, resolved.parts.site, "berdahl_martin")


@pytest.fixture(scope="module")
def ran(demo: Scenario) -> dict[tuple[str, str], Result]:
    base = demo.changed({**OPEN, "second_space": CELLAR})
    ways = (("room", "room"), ("second_space", "room"), ("room", "second_space"), ("outdoors", "room"))
    return {way: run(base.changed({"air.intake": way[0], "air.supply": way[1]})) for way in ways}


def test_every_way_closes(ran) -> None:
    for result in ran.values():
        closure = result.summary["closure"]
        assert max(closure["collector"], closure["house"]) < 1e-6
        assert max(closure["worst_step_collector"], closure["worst_step_house"]) < 1e-9


@pytest.mark.parametrize("house", HOUSES)
def test_the_summary_closes_by_its_names(ran, house) -> None:
    # first law of the box in the open
    for result in ran.values():
        year = result.summary["houses"][house]
        gained = year["absorbed_kwh"] + year["fan_heat_kwh"] + year["night_loss_kwh"]
        parts = ("cover_loss", "back_loss", "edge_loss", "leak_loss", "duct_loss", "stored")
        parts = (*parts, "delivered", "carried", "fresh_air")
        assert gained == pytest.approx(sum(year[f"{part}_kwh"] for part in parts), abs=1e-3)


@pytest.mark.parametrize("house", HOUSES)
def test_the_baseline_is_the_same_whichever_way_the_air_goes(ran, house) -> None:
    need = {result.summary["houses"][house]["heating_without_kwh"] for result in ran.values()}
    assert len(need) == 1


def test_fresh_air_is_a_credit_for_the_leaky_house_and_hardly_one_with_heat_recovery(ran) -> None:
    fresh = ran["outdoors", "room"].summary["houses"]
    for name, least, most in (("standard", 0.97, 1.0001), ("low_energy", 0.1, 0.4)):
        year = fresh[name]
        assert year["fresh_air_kwh"] > 0.0
        assert least < year["ventilation_replaced_kwh"] / year["fresh_air_kwh"] < most
    room = ran["room", "room"].summary["houses"]
    assert fresh["standard"]["offset_kwh"] > room["standard"]["offset_kwh"]
    assert fresh["low_energy"]["offset_kwh"] < room["low_energy"]["offset_kwh"]


def test_without_a_second_space_nothing_is_said_of_one(demo: Scenario) -> None:
    result = run(demo)
    assert not [name for name in result.hours if "second_space" in str(name)]
    assert "second_space_c" not in result.summary["houses"]["standard"]
    for key in ("carried_kwh", "fresh_air_kwh", "ventilation_replaced_kwh"):
        assert result.summary["houses"]["standard"][key] == 0.0


def test_heat_for_the_cellar_saves_less_than_heat_for_the_room(ran) -> None:
    for name in HOUSES:
        room, cellar = (ran["room", place].summary["houses"][name] for place in ("room", "second_space"))
        assert 0.0 < cellar["offset_kwh"] < room["offset_kwh"]
        assert cellar["delivered_kwh"] > room["delivered_kwh"]  # above the cellar's own temperature
        assert cellar["carried_kwh"] < 0.0


def test_the_cellar_is_shown_and_warmer_for_the_collector(ran) -> None:
    hours = ran["room", "second_space"].hours
    with_it, without = hours["second_space_temperature"], hours["second_space_temperature_without"]
    assert float((with_it - without).mean()) > 0.5
    year = ran["room", "second_space"].summary["houses"]["standard"]
    assert 5.0 < year["second_space_without_c"] < year["second_space_c"] < 20.0


def test_cautions_name_what_such_air_brings(ran) -> None:
    def told(way) -> str:
        return " ".join(ran[way].summary["cautions"])

    assert "radon" in told(("second_space", "room"))
    assert "condense" in told(("outdoors", "room"))
    assert "radon" not in told(("room", "room"))


def test_the_cellar_takes_the_place_of_the_ground(demo: Scenario, resolved: Resolved) -> None:
    below, plain = resolve(demo.changed({"second_space": CELLAR})), resolved
    for house, before, u_value in zip(below.houses, plain.houses, (0.55, 0.16), strict=True):
        # the floor of 70 m2 with its thermal bridges counted at 0.6 before, and is the coupling now
        assert before.opaque_conductance - house.opaque_conductance == pytest.approx(0.6 * 70.0 * u_value)
        assert house.second_space is not None
        assert house.second_space.coupling == pytest.approx(70.0 * u_value)
    beside = {**CELLAR, "lies": "beside", "coupling": "25 W/K"}
    for house, before in zip(
        resolve(demo.changed({"second_space": beside})).houses, plain.houses, strict=True
    ):
        assert house.opaque_conductance == before.opaque_conductance
        assert house.second_space is not None
        assert house.second_space.coupling == pytest.approx(25.0)


def test_rows_of_a_house_without_a_second_space_beside_one_with(demo: Scenario, here: Place) -> None:
    first, second = resolve(demo.changed({"second_space": CELLAR})).houses
    alone = replace(second, second_space=None)
    rows, wishes = zone_rows((first, alone)), demand_rows(here, (first, alone))
    assert rows.shape[0] == 18
    assert wishes.shape[1:] == (9, 2)
    assert rows[9, 1] == 0.0  # no coupling
    assert np.isfinite(wishes).all()


def test_wind_and_stack_give_the_built_in_houses_their_air(
    demo: Scenario, resolved: Resolved, here: Place
) -> None:
    blown = resolve(demo.changed({"builtin_houses.infiltration": "wind_and_stack"}))
    rows = demand_rows(here, blown.houses)[:, 5]
    assert (rows >= 0.0).all()
    for lane, before in enumerate(resolved.houses):
        total = rows[:, lane].mean() + blown.houses[lane].ventilation_conductance
        # common practice: n50/20 within a factor of two, and the airing or the fan besides
        assert 0.5 < total / before.ventilation_conductance < 2.0
    cold, mild = here.ambient < ZERO_CELSIUS, here.ambient > ZERO_CELSIUS + 15.0
    assert rows[cold, 0].mean() > 1.2 * rows[mild, 0].mean()


def test_heating_months_switch_the_wish_off(demo: Scenario, here: Place) -> None:
    own = {"floor_area": "100 m2", "opaque_conductance": "120 W/K", "heating_months": [11, 12, 1, 2]}
    rows = demand_rows(here, resolve(demo.changed({"house": own})).houses[:1])
    heated = np.isin(here.month + 1, [11, 12, 1, 2])
    assert (rows[heated, 3, 0] == 293.15).all()
    assert (rows[~heated, 3, 0] == 0.0).all()


def test_a_heater_gives_no_more_than_its_capacity(demo: Scenario) -> None:
    own = {"name": "own", "floor_area": "100 m2", "opaque_conductance": "200 W/K", "heating_capacity": "3 kW"}
    result = run(demo.changed({**OPEN, "house": own}))
    for name in ("heating_with", "heating_without"):
        heating = result.hours[name].sel(house="own").to_numpy()
        assert heating.max() == pytest.approx(3000.0)
        assert (heating > 2999.9).sum() > 50
    coldest = result.hours["room_temperature_without"].sel(house="own").to_numpy().min()
    assert coldest < 292.0  # it does not suffice in the coldest hours


def test_ground_is_milder_and_later_than_the_air(here: Place) -> None:
    ground = ground_of(here, Ground())
    assert ground.mean() == pytest.approx(here.ambient.mean(), abs=0.05)
    assert np.ptp(ground) < 0.7 * np.ptp(here.ambient.reshape(-1, 24).mean(axis=1))
    assert ground[: 60 * 24].argmin() / 24.0 > 30.0  # coldest in February
    assert (ground_of(here, Ground(temperature=284.0)) == 284.0).all()
