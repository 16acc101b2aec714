"""The heated space in one implicit step: closed forms, ideal heater and vent, and its energy balance."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simengine.house.zone import Demand, Zone, read_demand, read_zone, settle_zone

FOREVER = 1.0e15
GAMMA = 1.0 - math.sqrt(0.5)  # of the march's scheme (Alexander 1977)

# House A of the reference house years (invented): H_op 133, H_w 70, H_ve 70 W/K, 140 m2, medium mass.
H_IS, H_MS, H_EM, C_M = 2173.5, 3185.0, 138.796, 23.1e6
HOUSE_A = Zone(70.0, H_IS, 70.0, H_MS, H_EM, 0.0, C_M, 1.0e9)
FREE = Demand(0.0, 0.0, 0.0, 0.0, 1000.0)


def stepped(zone, demand, ambient, state, seconds, count, heat=(0.0, 0.0)):
    """March by the scheme of the engine: two implicit stages a step."""
    air, mass = state
    part, ratio = GAMMA * seconds / count, (1.0 - GAMMA) / GAMMA
    for _ in range(count):
        first = settle_zone(zone, demand, ambient, (air, mass), 1.0 / part, heat)
        between = (air + ratio * (first.air - air), mass + ratio * (first.mass - mass))
        last = settle_zone(zone, demand, ambient, between, 1.0 / part, heat)
        air, mass = last.air, last.mass
    return air, mass


def test_rows_are_read_in_the_order_of_the_fields() -> None:
    zone, demand = Zone(*range(9)), Demand(*range(6))
    assert read_zone(np.array(zone, dtype=float)[:, None], 0) == zone
    assert read_demand(np.array(demand, dtype=float)[None, :, None], 0, 0) == demand


def test_steady_need_is_the_closed_form_of_the_network() -> None:
    # closed form [H_ve + H_is (H_w + H_op)/(H_is + H_w + H_op)] dT; house A, -10 and 20 degC; derived
    wish = Demand(0.0, 0.0, 0.0, 293.15, 1000.0)
    answer = settle_zone(HOUSE_A, wish, 263.15, (293.15, 293.15), 1.0 / FOREVER, (0.0, 0.0))
    assert answer.heating == pytest.approx(7669.79, abs=0.05)
    assert answer.heating == pytest.approx(answer.lost, rel=1e-9)
    exact = (70.0 + H_IS * 203.0 / (H_IS + 203.0)) * 30.0
    assert exact == pytest.approx(7669.79, abs=0.005)


def test_mass_cools_freely_as_the_analytic_solution() -> None:
    # 20 exp(-24/tau), tau = C_m / (H_3 + H_em) = 23.69 h; house A; analytic solution, 0.2 %
    _, mass = stepped(HOUSE_A, FREE, 273.15, (293.15, 293.15), 86400.0, 24)
    assert mass - 273.15 == pytest.approx(7.26096, rel=0.002)


def test_free_cooling_has_the_exact_exponential_as_its_limit_at_second_order() -> None:
    to_air = 70.0 * H_IS / (70.0 + H_IS) + 70.0
    exact = 20.0 * math.exp(-86400.0 * (to_air * H_MS / (to_air + H_MS) + H_EM) / C_M)
    errors = [
        abs(stepped(HOUSE_A, FREE, 273.15, (293.15, 293.15), 86400.0, count)[1] - 273.15 - exact)
        for count in (12, 24, 48)
    ]
    for coarse, fine in itertools.pairwise(errors):
        assert math.log2(coarse / fine) == pytest.approx(2.0, abs=0.15)
    assert errors[-1] < 1e-3


def test_heater_and_vent_hold_their_temperatures_exactly_and_never_both() -> None:
    wish = Demand(0.0, 0.0, 0.0, 293.15, 299.15)
    cold = settle_zone(HOUSE_A, wish, 263.15, (290.0, 291.0), 1.0 / 600.0, (0.0, 0.0))
    assert cold.air == pytest.approx(293.15, abs=1e-9)
    assert cold.heating > 0.0
    assert cold.vented == 0.0
    hot = settle_zone(HOUSE_A, wish, 303.15, (299.0, 300.0), 1.0 / 600.0, (5000.0, 0.0))
    assert hot.air == pytest.approx(299.15, abs=1e-9)
    assert hot.vented > 0.0
    assert hot.heating == 0.0
    mild = settle_zone(HOUSE_A, wish, 294.15, (295.0, 295.0), 1.0 / 600.0, (0.0, 0.0))
    assert mild.heating == 0.0
    assert mild.vented == 0.0
    assert 293.15 < mild.air < 299.15


def test_a_small_heater_gives_all_it_has_and_the_room_stays_below_the_setpoint() -> None:
    wish = Demand(0.0, 0.0, 0.0, 293.15, 299.15)
    answer = settle_zone(
        HOUSE_A._replace(heater=2000.0), wish, 263.15, (293.15, 293.15), 1.0 / FOREVER, (0.0, 0.0)
    )
    assert answer.heating == 2000.0
    # closed form turned round: dT = P / [H_ve + H_is (H_w + H_op)/(H_is + H_w + H_op)]
    assert answer.air - 263.15 == pytest.approx(2000.0 / (7669.79 / 30.0), rel=1e-5)


def test_air_alone_takes_the_implicit_step_of_one_node() -> None:
    # C (T - T0)/dt = H_ve (T_e - T) + P with no surface behind it: mathematics
    alone = Zone(70.0, 0.0, 70.0, H_MS, H_EM, 2.0e6, C_M, 1.0e9)
    answer = settle_zone(
        alone, FREE._replace(air_gain=300.0), 273.15, (293.15, 293.15), 1.0 / 900.0, (0.0, 0.0)
    )
    storage = 2.0e6 / 900.0
    assert answer.air == pytest.approx(
        (storage * 293.15 + 70.0 * 273.15 + 300.0) / (storage + 70.0), abs=1e-10
    )


def test_heat_that_hangs_on_the_room_is_the_heat_at_the_answer() -> None:
    zone = HOUSE_A._replace(air_capacity=2.0e6)
    affine = settle_zone(zone, FREE, 273.15, (293.15, 294.0), 1.0 / 60.0, (9000.0, -25.0))
    given_heat = 9000.0 - 25.0 * affine.air
    plain = settle_zone(zone, FREE, 273.15, (293.15, 294.0), 1.0 / 60.0, (given_heat, 0.0))
    assert plain.air == pytest.approx(affine.air, abs=1e-9)
    assert plain.mass == pytest.approx(affine.mass, abs=1e-9)


conductance = st.floats(1.0, 5000.0)
temperature = st.floats(250.0, 320.0)
gain = st.floats(0.0, 3000.0)


@given(
    zone=st.tuples(conductance, conductance, conductance, conductance, conductance),
    capacities=st.tuples(st.floats(0.0, 1e7), st.floats(1e5, 1e8), st.floats(0.0, 1e5)),
    demand=st.tuples(gain, gain, gain, st.floats(285.0, 296.0), st.floats(296.0, 303.0)),
    temperatures=st.tuples(temperature, temperature, temperature),
    duration=st.floats(1.0, 86400.0),
    heat=st.tuples(st.floats(-1e4, 3e4), st.floats(-100.0, 0.0)),
)
def test_every_step_closes_its_balance(zone, capacities, demand, temperatures, duration, heat) -> None:
    ambient, air, mass = temperatures
    answer = settle_zone(
        Zone(*zone, *capacities), Demand(*demand), ambient, (air, mass), 1.0 / duration, heat
    )
    brought = heat[0] + heat[1] * answer.air
    gains = sum(demand[:3])
    given_out = answer.vented + answer.lost + answer.stored
    size = max(
        abs(gains), abs(brought), abs(heat[0]), answer.heating, *map(abs, (answer.lost, answer.stored))
    )
    storage = (capacities[0] + capacities[1]) / duration * 320.0  # what rounding of the terms scales with
    assert gains + brought + answer.heating - given_out == pytest.approx(
        0.0, abs=1e-9 * max(size, storage, 1.0)
    )


@given(
    zone=st.tuples(conductance, conductance, conductance, conductance, conductance),
    capacities=st.tuples(st.floats(0.0, 1e7), st.floats(1e5, 1e8), st.floats(100.0, 1e5)),
    demand=st.tuples(gain, gain, gain, st.floats(285.0, 296.0), st.floats(296.0, 303.0)),
    temperatures=st.tuples(temperature, temperature, temperature),
    duration=st.floats(1.0, 86400.0),
    heat=st.tuples(st.floats(-1e4, 3e4), st.floats(-100.0, 0.0)),
)
def test_a_step_is_the_solution_of_the_three_nodes(
    zone, capacities, demand, temperatures, duration, heat
) -> None:
    # mathematics: implicit Euler of air, surface and mass as one dense matrix, heater and vent given
    ambient, air, mass = temperatures
    ventilation, surface, window, inner, outer = zone
    in_air, in_mass = capacities[0] / duration, capacities[1] / duration
    answer = settle_zone(
        Zone(*zone, *capacities), Demand(*demand), ambient, (air, mass), 1.0 / duration, heat
    )
    matrix = np.array(
        [
            [in_air + ventilation + surface - heat[1], -surface, 0.0],
            [-surface, surface + window + inner, -inner],
            [0.0, -inner, in_mass + inner + outer],
        ]
    )
    given_in = np.array(
        [
            in_air * air + ventilation * ambient + demand[0] + heat[0] + answer.heating - answer.vented,
            window * ambient + demand[1],
            in_mass * mass + outer * ambient + demand[2],
        ]
    )
    new_air, new_surface, new_mass = np.linalg.solve(matrix, given_in)
    assert answer.air == pytest.approx(new_air, abs=1e-6)
    assert answer.mass == pytest.approx(new_mass, abs=1e-6)
    lost = ventilation * (new_air - ambient) + window * (new_surface - ambient) + outer * (new_mass - ambient)
    assert answer.lost == pytest.approx(lost, abs=0.01)
    stored = in_air * (new_air - air) + in_mass * (new_mass - mass)
    assert answer.stored == pytest.approx(stored, rel=1e-6, abs=1e-6 * (in_air + in_mass))


@given(
    outdoors=st.floats(250.0, 320.0),
    air=st.floats(285.0, 303.0),
    offered=st.floats(-2e4, 3e4),
    heater=st.floats(0.0, 2e4),
    duration=st.floats(1.0, 3600.0),
)
def test_heater_and_vent_do_no_more_than_they_must(outdoors, air, offered, heater, duration) -> None:
    # complementarity: heat only at (or, at full power, below) the setpoint, vent only at the limit
    zone = HOUSE_A._replace(air_capacity=2.0e6, heater=heater)
    wish = Demand(0.0, 0.0, 0.0, 293.15, 299.15)
    answer = settle_zone(zone, wish, outdoors, (air, 295.0), 1.0 / duration, (offered, 0.0))
    assert 0.0 <= answer.heating <= heater
    assert answer.vented >= 0.0
    assert answer.heating * answer.vented == 0.0
    assert answer.air <= 299.15 + 1e-9
    if 0.0 < answer.heating < heater:
        assert answer.air == pytest.approx(293.15, abs=1e-9)
    if answer.air < 293.15 - 1e-9:
        assert answer.heating == heater
    if answer.vented > 0.0:
        assert answer.air == pytest.approx(299.15, abs=1e-9)
