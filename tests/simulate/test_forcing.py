"""From weather to the march: every row in its place, and a plan of steps that hangs on weather alone."""

from dataclasses import replace

import numpy as np
import pytest

from simengine import sun
from simengine.collector.network import Forcing, Weather
from simengine.heat_transfer.wind import WIND_RELATIONS
from simengine.house.network import network
from simengine.house.zone import Demand, Zone, read_demand, read_zone
from simengine.scenario import Scenario
from simengine.scenario.assembly import Site, Strip, Tree, Wall
from simengine.simulate import Resolved, resolve
from simengine.simulate.forcing import (
    DIM,
    Place,
    collector_forcing,
    demand_rows,
    on_plane,
    place,
    step_plan,
    zone_rows,
)
from simengine.simulate.shade import shade


@pytest.fixture(scope="module")
def here(resolved: Resolved) -> Place:
    return place(resolved.series, resolved.parts.site, "berdahl_martin")


@pytest.fixture(scope="module")
def forcing(resolved: Resolved, here: Place) -> Forcing:
    return collector_forcing(here, resolved, on_plane(here, resolved))


def plan_of(incident: list[float], interval: float = 3600.0, step: float = 90.0) -> list[int]:
    rows = np.array([[280.0, 270.0, 10.0, value] for value in incident])
    return [int(n) for n in step_plan(Forcing(rows, np.zeros((len(incident), 2))), interval, step)]


# ---- steps ----------------------------------------------------------


def test_steps_are_fine_in_the_sun() -> None:
    lit = DIM + 1.0
    assert plan_of([0.0, lit, 0.0, 0.0, DIM]) == [13, 40, 13, 13, 13]


def test_out_of_season_the_steps_are_those_of_the_dark_and_by_night_twice_as_long() -> None:
    rows = np.array([[280.0, 270.0, 10.0, sun] for sun in (500.0, 500.0, 500.0, 0.0, 0.0)])
    shut = np.array([False, True, True, True, True])
    plan = step_plan(Forcing(rows, np.zeros((5, 2))), 3600.0, 90.0, shut)
    assert plan.tolist() == [40, 13, 13, 7, 7]


def test_where_air_moves_by_itself_the_steps_are_shorter() -> None:
    forcing = Forcing(np.array([[280.0, 270.0, 10.0, sun] for sun in (500.0, 0.0)]), np.zeros((2, 2)))
    assert step_plan(forcing, 3600.0, 600.0, passive=True).tolist() == [15, 5]
    assert step_plan(forcing, 3600.0, 3600.0, passive=True).tolist() == [2, 1]


@pytest.mark.parametrize(
    ("interval", "step", "fine", "coarse"),
    [(3600.0, 60.0, 60, 20), (3600.0, 3600.0, 1, 1), (3600.0, 900.0, 4, 1), (900.0, 90.0, 10, 3)],
)
def test_a_step_is_a_whole_part_of_the_interval(interval, step, fine, coarse) -> None:
    assert plan_of([500.0, 0.0], interval, step) == [fine, coarse]


def test_the_plan_is_that_of_the_sun_on_the_plane_alone(forcing: Forcing) -> None:
    plan = step_plan(forcing, 3600.0, 90.0)
    assert plan.dtype == np.int64
    other = Forcing(forcing.weather + np.array([17.0, -3.0, 5.0, 0.0]), 0.8 * forcing.absorbed)
    assert np.array_equal(plan, step_plan(other, 3600.0, 90.0))
    dark = plan == plan.min()
    assert forcing.weather[dark, 3].max() <= DIM
    assert forcing.absorbed[dark, -1].max() <= 0.9 * DIM  # glass and sheet leave no more


# ---- rows ----------------------------------------------------------


def test_weather_rows_stand_in_the_order_of_their_fields(resolved: Resolved, here: Place) -> None:
    plane = on_plane(here, resolved)
    rows = Weather(*collector_forcing(here, resolved, plane).weather.T)
    site, box = resolved.parts.site, resolved.parts.collector
    assert np.array_equal(rows.ambient, resolved.series.data["temp_air"].to_numpy() + 273.15)
    assert np.array_equal(rows.sky, here.sky)
    assert np.array_equal(rows.incident, plane.total)
    wind = sun.collector_wind(resolved.series, site.collector_height, site.terrain, site.wind_shelter)
    relation = WIND_RELATIONS[box.wind_relation]
    for i in (0, 4000, 8759):
        assert rows.wind_coefficient[i] == relation(float(wind[i]), box.length)


def test_the_sky_is_colder_than_the_air_and_warms_with_it(here: Place) -> None:
    assert (here.sky < here.ambient).mean() > 0.95
    assert np.corrcoef(here.sky, here.ambient)[0, 1] > 0.8


def test_no_more_is_taken_up_than_falls_on_the_plane(forcing: Forcing) -> None:
    sunlight = forcing.weather[:, 3]
    taken = forcing.absorbed.sum(axis=1)
    assert np.all(forcing.absorbed >= 0.0)
    assert np.all(taken <= sunlight + 1e-9)
    # common practice: a black box behind one clear pane takes up seven to nine tenths of a year's sun
    assert 0.7 < taken.sum() / sunlight.sum() < 0.9


def test_a_bare_absorber_has_an_idle_outer_face(demo: Scenario, here: Place) -> None:
    bare = resolve(demo.changed({"collector.cover": None}))
    rows = collector_forcing(here, bare, on_plane(here, bare)).absorbed
    assert rows.shape == (8760, 2)
    assert rows[:, 0].max() == 0.0
    assert rows[:, 1].max() > 500.0


def test_panes_come_before_the_absorber(demo: Scenario, here: Place) -> None:
    two = resolve(demo.changed({"collector.cover": [{"gap": "12 mm"}, {}]}))
    rows = collector_forcing(here, two, on_plane(here, two)).absorbed
    assert rows.shape == (8760, 3)
    assert rows[:, 2].sum() > 3.0 * rows[:, 0].sum() > 0.0
    assert rows.flags.c_contiguous


def test_month_and_hour_are_those_of_the_clock(here: Place) -> None:
    assert np.array_equal(here.hour, np.arange(8760) % 24)
    assert np.array_equal(np.bincount(here.month) / 24, [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])


# ---- houses ----------------------------------------------------------


def test_zone_rows_are_those_of_the_network_by_name(resolved: Resolved) -> None:
    rows = zone_rows(resolved.houses)
    for lane, house in enumerate(resolved.houses):
        zone, net = read_zone(rows, lane), network(house)
        by_name = {field: getattr(net, field) for field in Zone._fields if hasattr(net, field)}
        assert zone == Zone(**by_name, heater=house.heating_capacity, recovered=house.recovered_conductance)


def test_demand_rows_hold_wishes_and_all_gains(resolved: Resolved, here: Place) -> None:
    setpoint = tuple(290.0 + hour / 10.0 for hour in range(24))
    gain = tuple(100.0 + hour for hour in range(24))
    house = replace(resolved.houses[0], setpoint=setpoint, internal_gain=gain, windows=(), vent_limit=301.0)
    rows = demand_rows(here, (house, resolved.houses[0]))
    assert rows.shape == (8760, len(Demand._fields), 2)
    for i in (5, 3333):
        wish = read_demand(rows, i, 0)
        assert (wish.setpoint, wish.vent_limit) == (setpoint[i % 24], 301.0)
        # ISO 13790 annex C, from memory: half of the internal gains into the air, the rest shared out
        assert wish.air_gain == pytest.approx(0.5 * gain[i % 24])
        net = network(house)
        kept = 1.0 - net.window / (9.1 * net.surface_area)
        assert wish.surface_gain + wish.mass_gain == pytest.approx(0.5 * gain[i % 24] * kept)
    sunny = rows[:, 2, 1] - rows[:, 2, 1].min()
    assert np.corrcoef(sunny, resolved.series.data["ghi"])[0, 1] > 0.6


# ---- shade ----------------------------------------------------------

EMPTY = dict(elevation=None, terrain="open", collector_height=2.0, wind_shelter=1.0, snow=False, horizon=())
GROUND = (0.2,) * 12
TREE = Tree(180.0, 6.0, 9.0, 1.0, 6.0, 0.2, 0.6, 100, 300)


def sun_behind(resolved: Resolved, here: Place, site: Site) -> float:
    """Return the year's sun on the collector [kWh/m2]."""
    there = replace(resolved, parts=replace(resolved.parts, site=site))
    return float(on_plane(here, there).total.sum()) / 1000.0


def test_an_open_site_has_no_shade(resolved: Resolved) -> None:
    assert shade(Site(**EMPTY, ground_reflectance=GROUND), resolved.parts.collector) is None


@pytest.mark.parametrize(
    "objects",
    [
        pytest.param({"horizon": ((90.0, 15.0), (180.0, 15.0), (270.0, 15.0))}, id="horizon"),
        pytest.param({"trees": (TREE,)}, id="tree"),
        pytest.param({"strips": (Strip("above", 0.6, 0.1),)}, id="overhang"),
        pytest.param({"strips": (Strip("left", 0.6, 0.1), Strip("right", 0.6, 0.1))}, id="fins"),
        pytest.param({"walls": (Wall(180.0, 5.0, 4.0, 8.0, 8.0),)}, id="wall"),
    ],
)
def test_every_kind_of_object_takes_sun_away(resolved: Resolved, here: Place, objects) -> None:
    open_site = Site(**EMPTY, ground_reflectance=GROUND)
    free = sun_behind(resolved, here, open_site)
    assert 0.2 * free < sun_behind(resolved, here, replace(open_site, **objects)) < 0.99 * free


def test_objects_together_take_no_less_than_each(resolved: Resolved, here: Place) -> None:
    open_site = Site(**EMPTY, ground_reflectance=GROUND)
    one = sun_behind(resolved, here, replace(open_site, trees=(TREE,)))
    both = replace(open_site, trees=(TREE,), strips=(Strip("above", 0.6, 0.1),))
    assert sun_behind(resolved, here, both) < one
