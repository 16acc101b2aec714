"""A second space: closed forms, the matrix exponential, limits and laws of its network."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import expm

from simengine.engine.march import march_house
from simengine.errors import RangeError
from simengine.house.second_space import (
    SecondDemand,
    SecondZone,
    link_second,
    read_second,
    read_second_demand,
    second_zone,
    settle_second,
)
from simengine.house.spec import SecondSpace
from simengine.house.zone import DEMAND_FIELDS, ZONE_ROWS, Demand, Zone, settle_zone

ZONE = Zone(70.0, 2173.5, 70.0, 3185.0, 138.8, 2.1e6, 2.31e7, 1.0e9)  # house A of the reference years
CELLAR = SecondZone(45.0, 6.0, 11.0, 640.0, 12.0, 50.0, 0.95e6, 1.8e7, 0.0)
OUTDOORS, GROUND, ROOM = 263.15, 283.15, 293.15
FOREVER = 1.0e15
NOTHING = SecondDemand(0.0, 0.0, GROUND)
HOURS = 48


def series(*links: float) -> float:
    return 1.0 / sum(1.0 / link for link in links)


def march(
    zone: Zone,
    second: SecondZone | None,
    wish: Demand,
    beside: SecondDemand = NOTHING,
    start: tuple[float, float, float, float] = (ROOM,) * 4,
    steps: int = 60,
    hours: int = HOURS,
    ambient: float = OUTDOORS,
) -> tuple[np.ndarray, np.ndarray]:
    """Return hours [interval, 4] and the state at the end [4] of a house in constant weather."""
    rows = np.array(zone if second is None else (*zone, *second))[:, None]
    wishes = np.array(wish if second is None else (*wish, *beside))
    demand = np.ascontiguousarray(np.broadcast_to(wishes[None, :, None], (hours, wishes.size, 1)))
    state, found = np.array(start)[:, None], np.zeros((hours, 4, 1))
    plan = np.full(hours, steps, dtype=np.int64)
    march_house(rows, demand, np.full(hours, ambient), plan, 3600.0, state, found)
    return found[:, :, 0], state[:, 0]


def test_rows_are_read_in_their_order() -> None:
    rows = np.arange(ZONE_ROWS + 9, dtype=float)[:, None]
    assert read_second(rows, 0) == SecondZone(*range(ZONE_ROWS, ZONE_ROWS + 9))
    wishes = np.arange(DEMAND_FIELDS + 3, dtype=float)[None, :, None]
    assert read_second_demand(wishes, 0, 0) == SecondDemand(*range(DEMAND_FIELDS, DEMAND_FIELDS + 3))


def test_steady_need_and_temperature_are_the_closed_form() -> None:
    # closed form: star of two conductances seen from the room, node by node
    wish = Demand(0.0, 0.0, 0.0, ROOM, 1000.0)
    link = link_second(CELLAR, NOTHING, OUTDOORS, (290.0, 288.0), ROOM, 1.0 / FOREVER, (0.0, 0.0, 0.0))
    heat = (
        CELLAR.coupling * (link.rise + (1.0 - link.slope) * link.origin),
        -CELLAR.coupling * (1.0 - link.slope),
    )
    room = settle_zone(ZONE, wish, OUTDOORS, (ROOM, ROOM), 1.0 / FOREVER, heat)
    cellar = settle_second(CELLAR, NOTHING, OUTDOORS, (290.0, 288.0), 1.0 / FOREVER, link, room.air)
    air = CELLAR.outdoor + CELLAR.airing
    outer = series(CELLAR.inner, CELLAR.outer + CELLAR.ground)
    behind = (CELLAR.outer * OUTDOORS + CELLAR.ground * GROUND) / (CELLAR.outer + CELLAR.ground)
    expected = (CELLAR.coupling * ROOM + air * OUTDOORS + outer * behind) / (CELLAR.coupling + air + outer)
    own = ZONE.ventilation + series(ZONE.surface, ZONE.window + series(ZONE.inner, ZONE.outer))
    need = own * (ROOM - OUTDOORS) + CELLAR.coupling * (ROOM - expected)
    assert cellar.air == pytest.approx(expected, abs=1e-7)
    assert room.heating == pytest.approx(need, rel=1e-9)
    assert room.lost + cellar.lost == pytest.approx(need, rel=1e-6)


def four_nodes() -> tuple[np.ndarray, np.ndarray]:
    """Return A and b of x' = A x + b for room air, room mass, cellar air, cellar mass."""
    total = ZONE.surface + ZONE.window + ZONE.inner
    air_mass = ZONE.surface * ZONE.inner / total  # the surface node eliminated
    air_out = ZONE.ventilation + ZONE.surface * ZONE.window / total
    mass_out = ZONE.outer + ZONE.inner * ZONE.window / total
    cellar_out = CELLAR.outdoor + CELLAR.airing
    links = np.zeros((4, 4))
    links[0, 1] = links[1, 0] = air_mass
    links[0, 2] = links[2, 0] = CELLAR.coupling
    links[2, 3] = links[3, 2] = CELLAR.inner
    out = np.array([air_out, mass_out, cellar_out, CELLAR.outer])
    ground = np.array([0.0, 0.0, 0.0, CELLAR.ground])
    capacity = np.array([ZONE.air_capacity, ZONE.mass_capacity, CELLAR.air_capacity, CELLAR.mass_capacity])
    matrix = links - np.diag(links.sum(axis=1) + out + ground)
    return matrix / capacity[:, None], (out * OUTDOORS + ground * GROUND) / capacity


def cooled(start: tuple[float, ...]) -> np.ndarray:
    matrix, source = four_nodes()
    rest = -np.linalg.solve(matrix, source)
    return rest + expm(matrix * HOURS * 3600.0) @ (np.array(start) - rest)


def test_free_cooling_is_the_matrix_exponential_of_the_network() -> None:
    # mathematics: scipy.linalg.expm of the four nodes
    free, start = Demand(0.0, 0.0, 0.0, 0.0, 1000.0), (295.0, 294.0, 288.0, 286.0)
    errors = [
        np.abs(march(ZONE, CELLAR, free, start=start, steps=steps)[1] - cooled(start)).max()
        for steps in (10, 20, 40)
    ]
    assert errors[-1] < 2e-6
    assert math.log2(errors[1] / errors[2]) == pytest.approx(2.0, abs=0.2)


def test_two_equal_spaces_strongly_coupled_are_one_of_twice_the_size() -> None:
    # the second space has its surfaces merged into one film: give the zone the same
    film = series(ZONE.surface, ZONE.inner)
    zone = ZONE._replace(window=0.0, heater=5000.0)
    twin = SecondZone(
        1.0e9, ZONE.ventilation, 0.0, film, ZONE.outer, 0.0, ZONE.air_capacity, ZONE.mass_capacity, 0.0
    )
    double = Zone(
        2.0 * zone.ventilation,
        2.0 * zone.surface,
        0.0,
        2.0 * zone.inner,
        2.0 * zone.outer,
        2.0 * zone.air_capacity,
        2.0 * zone.mass_capacity,
        5000.0,
    )
    wish = Demand(600.0, 0.0, 0.0, ROOM, 299.15)
    both, end = march(zone, twin, wish, start=(290.0,) * 4)
    one, _ = march(double, None, wish, start=(290.0,) * 4)
    assert both[:, 0] == pytest.approx(one[:, 0], rel=1e-5)
    assert end[0] == pytest.approx(end[2], abs=1e-3)


def test_without_coupling_the_room_is_alone() -> None:
    wish = Demand(300.0, 200.0, 400.0, ROOM, 299.15)
    alone, end = march(ZONE, None, wish)
    beside, other = march(ZONE, CELLAR._replace(coupling=0.0), wish)
    assert beside[:, :3] == pytest.approx(alone[:, :3], rel=1e-12)
    assert other[:2] == pytest.approx(end[:2], abs=1e-10)


def test_an_empty_space_strongly_coupled_is_more_air_and_more_airing() -> None:
    wish = Demand(300.0, 200.0, 400.0, ROOM, 299.15)
    empty = SecondZone(1.0e9, 0.0, 25.0, 0.0, 0.0, 0.0, 1.0e6, 1.0, 0.0)
    both, _ = march(ZONE, empty, wish)
    larger = ZONE._replace(ventilation=ZONE.ventilation + 25.0, air_capacity=ZONE.air_capacity + 1.0e6)
    one, _ = march(larger, None, wish)
    assert both[:, 0] == pytest.approx(one[:, 0], rel=1e-5)


def test_its_own_heater_holds_its_setpoint_as_far_as_it_can() -> None:
    wish = Demand(0.0, 0.0, 0.0, ROOM, 1000.0)
    beside = SecondDemand(0.0, 288.15, GROUND)
    heated, end = march(ZONE, CELLAR._replace(heater=1.0e9), wish, beside)
    assert end[2] == pytest.approx(288.15, abs=0.01)
    weak, cold = march(ZONE, CELLAR._replace(heater=100.0), wish, beside)
    assert cold[2] < 288.0
    assert weak[-1, 0] < heated[-1, 0]


def test_a_warmer_second_space_leaves_less_to_heat() -> None:
    wish = Demand(0.0, 0.0, 0.0, ROOM, 1000.0)
    need = [march(ZONE, CELLAR, wish, NOTHING._replace(gain=gain))[0][:, 0].sum() for gain in (0.0, 500.0)]
    assert need[1] < need[0]


numbers = st.tuples(
    *[st.floats(0.0, 500.0)] * 3,
    st.floats(1.0, 2000.0),
    *[st.floats(0.0, 200.0)] * 2,
    st.floats(1e4, 1e7),
    st.floats(1e5, 1e9),
    st.sampled_from([0.0, 800.0, 1e9]),
)
level = st.floats(263.0, 303.0)


@settings(derandomize=True, deadline=None, max_examples=50)
@given(
    numbers,
    level,
    level,
    level,
    level,
    st.floats(0.01, 3600.0),
    st.floats(-300.0, 3000.0),
    st.floats(0.0, 90.0),
)
def test_in_is_out_and_stored_at_every_room_temperature(
    space, air, mass, ambient, room, duration, given_heat, flow
) -> None:
    second = SecondZone(*space)
    wish = SecondDemand(120.0, 288.15, 282.0)
    heat = (given_heat, -flow, 0.5 * flow)
    link = link_second(second, wish, ambient, (air, mass), room, 1.0 / duration, heat)
    end = settle_second(second, wish, ambient, (air, mass), 1.0 / duration, link, room)
    got = wish.gain + end.heating + heat[0] + heat[1] * end.air + heat[2] * room
    got += second.coupling * (room - end.air)
    sizes = abs(got) + abs(end.lost) + abs(end.stored) + 2.0 * flow * 300.0 + second.coupling * 30.0
    rounding = 1e-13 * (second.air_capacity + second.mass_capacity) / duration  # of a temperature, as heat
    assert got == pytest.approx(end.lost + end.stored, abs=1e-10 * max(sizes, 1.0) + rounding)


def test_conductances_of_a_cellar_by_hand() -> None:
    cellar = SecondSpace(60.0, 132.0, 30.0, 0.02, 8.0, 10.0, 40.0, 0.2)
    zone = second_zone(cellar)
    # 3.45 x 4.5 and 9.1 x 3 W/K per m2 of floor (ISO 13790:2008, from memory), one behind the other
    inner = 60.0 * series(15.525, 27.3)
    assert zone.inner == pytest.approx(inner)
    assert zone.coupling == pytest.approx(30.0 + 1.2014 * 1006.0 * 0.02, rel=1e-4)
    assert (zone.outdoor, zone.airing) == (10.0, pytest.approx(8.8))
    # from the air outwards walls and ground conduct what they were given
    assert series(zone.inner, zone.outer + zone.ground) == pytest.approx(48.0)
    assert zone.ground / zone.outer == pytest.approx(5.0)
    assert zone.heater == 0.0
    assert second_zone(replace(cellar, setpoint=(288.15,) * 24)).heater > 1e8


@pytest.mark.parametrize("changes", [{"ground_conductance": 1e4}, {"floor_area": 0.0}, {"volume": 0.0}])
def test_a_space_that_cannot_be_is_refused(changes) -> None:
    cellar = SecondSpace(60.0, 132.0, 30.0, 0.02, 8.0, 10.0, 40.0, 0.2)
    with pytest.raises(RangeError, match="second space"):
        second_zone(replace(cellar, **changes))
