"""Where the collector's air is taken from and given to: every way closes, and fresh air is honest."""

from dataclasses import replace

import numpy as np
import pytest

from simengine.airflow.spec import Duct, Fan
from simengine.collector.spec import Leak
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.engine.ledger import Column
from simengine.engine.state import HEATED_SPACE, NOW, OUTDOORS, ROOM, SECOND, SECOND_SPACE, Member
from simengine.house.presets import low_energy, standard
from simengine.house.second_space import SecondDemand, second_zone
from simengine.house.spec import SecondSpace
from simengine.house.zone import replaced_ventilation
from tests.engine.drive import (
    ALWAYS,
    BOX,
    FAN,
    NEVER,
    SNAP,
    Ran,
    go,
    go_house,
    made_demand,
    made_forcing,
    member,
    start,
    started,
    steps,
)

CELLAR = SecondSpace(60.0, 132.0, 40.0, 0.01, 9.0, 6.0, 30.0, 0.3)
GROUND = 283.15
FLOW = FAN.mass_flow * SPECIFIC_HEAT_AIR
DUCTS = ((Duct(3.0, 0.15, 0.3, "outside"),), (Duct(2.0, 0.15, 0.3, "unheated"),))
SUN = np.array([0.0, 0.0, 300.0, 650.0, 800.0, 500.0, 100.0, 0.0, 0.0, 0.0, 0.0, 0.0])
WAYS = {
    (taken, given): f"{taken} to {given}"
    for taken in (HEATED_SPACE, SECOND_SPACE, OUTDOORS)
    for given in (HEATED_SPACE, SECOND_SPACE)
}
LEAKS = {
    "tight": None,
    "in": Leak(0.3e-3, 0.6, box_pressure=-30.0),
    "out": Leak(0.3e-3, 0.6, box_pressure=30.0),
}


def with_cellar(whole: Member, space: SecondSpace = CELLAR, gain: float = 90.0) -> Member:
    rows = np.concatenate([whole.zone, np.array(second_zone(space))[:, None]])
    beside = np.array(SecondDemand(gain, 288.15, GROUND))[None, :, None]
    beside = np.broadcast_to(beside, (whole.demand.shape[0], beside.shape[1], 1))
    demand = np.concatenate([whole.demand, beside], axis=1)
    return whole._replace(zone=rows, demand=np.ascontiguousarray(demand))


def both(way: tuple[int, int], rule=SNAP, box=BOX, space: SecondSpace = CELLAR, **parts) -> Member:
    whole = member(box, made_forcing(SUN, 275.0), rule, **parts)
    return with_cellar(whole, space)._replace(taken=way[0], given=way[1])


def run(whole: Member, always: bool = False, count: int = 40) -> Ran:
    return go(whole, steps(count, whole.demand.shape[0]), started(whole) if always else start(whole))


@pytest.mark.parametrize("leak", LEAKS)
@pytest.mark.parametrize("rule", [SNAP, ALWAYS], ids=["snap", "always"])
@pytest.mark.parametrize("way", WAYS, ids=WAYS.values())
def test_both_ledgers_close_at_every_step_of_every_way(way, rule, leak) -> None:
    box = replace(BOX, leak=LEAKS[leak])
    heated = replace(CELLAR, setpoint=(288.15,) * 24, heating_capacity=800.0)
    for space in (CELLAR, heated):
        ran = run(both(way, rule, box, space, ducts=DUCTS), always=rule is ALWAYS)
        assert ran.total(Column.AIR_MASS) > 0.0
        assert ran.hours[:, Column.RESIDUAL].max() < 1e-9
        assert ran.hours[:, Column.HOUSE_RESIDUAL].max() < 1e-9


def test_a_second_space_that_is_not_joined_changes_nothing() -> None:
    alone = member(BOX, made_forcing(SUN, 275.0), SNAP)
    apart = with_cellar(alone, replace(CELLAR, coupling=0.0, door_flow=0.0))
    one, other = run(alone), run(apart)
    for column in (Column.DELIVERED, Column.FAN_ON, Column.COLLECTED, Column.ROOM):
        assert other.hours[:, column, 0] == pytest.approx(one.hours[:, column, 0], rel=1e-12, abs=1e-9)


def test_without_the_fan_every_way_is_the_house_alone() -> None:
    plan = steps(40, SUN.size)
    hours, end = go_house(both((0, 0), NEVER), plan)
    for way in WAYS:
        ran = go(both(way, NEVER), plan, start(both(way)))
        assert ran.hours[:, Column.HEATING, 0] == pytest.approx(hours[:, 0, 0], rel=1e-12)
        assert ran.hours[:, Column.SECOND_SPACE, 0] == pytest.approx(hours[:, 3, 0], rel=1e-12)
        assert ran.state.zone[NOW, (ROOM, SECOND), 0] == pytest.approx(end[[0, 2], 0], abs=1e-9)


@pytest.mark.parametrize("way", [(0, 1), (1, 1), (2, 1)])
def test_the_room_sensor_sits_in_the_space_that_the_air_goes_to(way) -> None:
    small = replace(CELLAR, volume=30.0, heat_capacity_per_area=20_000.0, coupling=5.0)
    whole = both(way, replace(SNAP, room_limit=1000.0), space=small)
    cold, plan = start(whole, 280.0), steps(40, SUN.size)
    free = go(whole, plan, cold)
    warmest = free.hours[:, Column.SECOND_SPACE, 0].max() / 3600.0
    assert warmest > 284.0
    ran = go(both(way, replace(SNAP, room_limit=warmest - 1.5), space=small), plan, cold)
    # the heated room stands at 20 degC, far above that limit, and is not what the sensor reads
    assert 0.0 < ran.total(Column.FAN_ON) < 0.9 * free.total(Column.FAN_ON)
    assert ran.hours[:, Column.ROOM, 0].max() / 3600.0 > warmest
    assert ran.hours[:, Column.SECOND_SPACE, 0].max() / 3600.0 < warmest - 0.3


def test_colder_air_takes_up_more_and_brings_less() -> None:
    ran = {way: run(both(way, ALWAYS), always=True) for way in ((0, 0), (1, 0), (2, 0))}
    collected = [found.total(Column.COLLECTED) for found in ran.values()]
    brought = [found.total(Column.DELIVERED) - found.total(Column.NIGHT_LOSS) for found in ran.values()]
    assert collected == sorted(collected)
    assert brought == sorted(brought, reverse=True)


# ---- fresh air --------------------------------------------------------------------------------------------

HOURS = 96
DARK = np.zeros(HOURS)
COLD_FAN = Fan(0.055, 0.0, 0.0)


def fresh(house=None, colder_sky: float = 0.0, rule=ALWAYS, ducts=((), ())) -> Member:
    forcing = made_forcing(DARK, 268.15, colder_sky)
    whole = member(
        BOX, forcing, rule, house=house, demand=made_demand(HOURS, 150.0), fan=COLD_FAN, ducts=ducts
    )
    return whole._replace(taken=OUTDOORS)


def last_day(ran: Ran, column: Column) -> float:
    return float(ran.hours[-24:, column, 0].sum())


def test_fresh_air_through_a_covered_box_as_warm_as_outdoors_changes_no_need() -> None:
    # 0.055 kg/s are 55 W/K, less than the house's own 76 W/K: all of it replaces own ventilation
    whole = fresh()
    assert whole.zone[0, 0] > FLOW
    ran, (alone, _) = run(whole, always=True), go_house(whole, steps(40, HOURS))
    assert last_day(ran, Column.HEATING) == pytest.approx(alone[-24:, 0, 0].sum(), rel=1e-7)
    assert last_day(ran, Column.VENTILATION_REPLACED) == pytest.approx(
        last_day(ran, Column.NIGHT_LOSS), rel=1e-6
    )


def test_under_a_cold_sky_it_costs_what_box_and_ducts_lose() -> None:
    ducts = ((Duct(3.0, 0.15, 0.3, "outside"),), (Duct(2.0, 0.15, 0.3, "outside"),))
    whole = fresh(colder_sky=25.0, ducts=ducts)
    ran, (alone, _) = run(whole, always=True), go_house(whole, steps(40, HOURS))
    more = last_day(ran, Column.HEATING) - alone[-24:, 0, 0].sum()
    lost = (
        -last_day(ran, Column.COLLECTED) + last_day(ran, Column.DUCT_LOSS) + last_day(ran, Column.LEAK_LOSS)
    )
    assert lost > 0.0
    assert more == pytest.approx(lost, rel=0.001)  # the last of the start-up still fades in the mass


def test_what_is_replaced_is_what_the_replaced_air_would_have_lost() -> None:
    # definition: without recovery min(m c_p, H_ve); with it the share of all incoming air times H_ve
    assert replaced_ventilation(76.0, 0.0, 55.0) == pytest.approx(55.0)
    assert replaced_ventilation(40.0, 0.0, 55.0) == pytest.approx(40.0)
    assert replaced_ventilation(12.0, 38.0, 25.0) == pytest.approx(6.0)  # half the air, half the loss
    assert replaced_ventilation(12.0, 38.0, 80.0) == pytest.approx(12.0)
    assert replaced_ventilation(0.0, 0.0, 55.0) == 0.0


def test_a_house_with_heat_recovery_pays_for_fresh_air_at_night() -> None:
    whole = fresh(low_energy(140.0))
    ran, (alone, _) = run(whole, always=True), go_house(whole, steps(40, HOURS))
    own, recovered = whole.zone[0, 0], whole.zone[8, 0]
    share = own * min(FLOW / (own + recovered), 1.0)
    assert recovered > 3.0 * own
    more = last_day(ran, Column.HEATING) - alone[-24:, 0, 0].sum()
    assert more == pytest.approx((FLOW - share) * 25.0 * 86400.0, rel=0.03)  # 20 degC against -5 degC
    assert last_day(ran, Column.VENTILATION_REPLACED) == pytest.approx(share * 25.0 * 86400.0, rel=0.01)


def test_wind_driven_air_counts_as_own_ventilation() -> None:
    whole = fresh(replace(standard(140.0), ventilation_conductance=20.0))
    whole.demand[:, 5] = 50.0
    ran, (alone, _) = run(whole, always=True), go_house(whole, steps(40, HOURS))
    assert last_day(ran, Column.HEATING) == pytest.approx(alone[-24:, 0, 0].sum(), rel=1e-7)
    steady = go_house(fresh(replace(standard(140.0), ventilation_conductance=70.0)), steps(40, HOURS))[0]
    assert alone[:, 0, 0] == pytest.approx(steady[:, 0, 0], rel=1e-12)
