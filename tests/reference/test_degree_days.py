"""A year's need against a degree-day count: the whole network beside the one-line estimate."""

from dataclasses import replace

import numpy as np
import pytest

from simengine.engine.march import march_house
from simengine.house.envelope import degree_day_loss
from simengine.house.network import network, steady_need
from simengine.house.presets import low_energy, standard
from simengine.house.spec import House
from simengine.simulate.forcing import demand_rows, zone_rows
from tests.engine.drive import greensboro


def need(house: House) -> float:
    """Return the heating of the second of two passes of the year [kWh]."""
    here, houses = greensboro(), (house,)
    state = np.full((4, 1), 293.15)
    for _ in range(2):
        hours = np.zeros((here.ambient.size, 4, 1))
        plan = np.full(here.ambient.size, 4, dtype=np.int64)
        march_house(zone_rows(houses), demand_rows(here, houses), here.ambient, plan, 3600.0, state, hours)
    return float(hours[:, 0].sum()) / 3.6e6


def degree_days(base: float) -> float:
    """Return the degree days of the year [K d] below a base [K], from daily means."""
    daily = greensboro().ambient.reshape(-1, 24).mean(axis=1)
    return float(np.maximum(base - daily, 0.0).sum())


def counted(house: House, base: float) -> float:
    return degree_day_loss(steady_need(network(house), 1.0), degree_days(base))


@pytest.mark.parametrize("make", [standard, low_energy])
def test_without_gains_it_is_the_count_below_the_room_within_2_percent(make) -> None:
    # definition: nothing but loss; days differ from hours only where a day crosses 20 degC
    bare = replace(make(140.0), windows=(), internal_gain=(0.0,) * 24)
    assert need(bare) == pytest.approx(counted(bare, 293.15), rel=0.02)


@pytest.mark.parametrize("make", [standard, low_energy])
def test_with_gains_it_lies_up_to_a_third_above_the_count_below_the_balance_point(make) -> None:
    # common practice: the balance point lies below the room by gains over loss; the count takes every gain
    # of the year as used, so the true need is above it, the more so the better the house
    house = make(140.0)
    gains = demand_rows(greensboro(), (house,))[:, :3, 0].sum(axis=1).mean()
    balance = 293.15 - gains / steady_need(network(house), 1.0)
    assert 1.0 < need(house) / counted(house, balance) < 1.33
