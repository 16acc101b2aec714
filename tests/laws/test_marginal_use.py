"""Law: the larger the collector, the smaller the share of its next heat that a house can use."""

from dataclasses import replace

import numpy as np
import pytest

from simengine.airflow.spec import Fan
from simengine.control.spec import ControlRule
from simengine.engine.ledger import Column
from simengine.house.presets import low_energy, standard
from tests.engine.drive import BOX, FAN, go, go_house, plan_of, real_member, start, window

SIZES = (0.5, 1.0, 2.0, 4.0, 8.0)
SPRING = (59 * 24, 120 * 24)  # March and April
NO_LIMIT = ControlRule(start=8.0, stop=2.5, reference_weight=1.0, room_limit=1000.0)
"""What nobody needs is delivered too, and vented."""


@pytest.mark.parametrize("make", [standard, low_energy])
def test_each_step_in_size_adds_a_smaller_useful_share(make) -> None:
    house = make(140.0)
    found = []
    for size in SIZES:
        fan = Fan(FAN.mass_flow * size, FAN.electric_power * size, FAN.heat_to_air)
        whole = window(real_member(replace(BOX, width=BOX.width * size), NO_LIMIT, house, fan), *SPRING)
        plan = plan_of(whole, step=90.0)
        ran = go(whole, plan, start(whole))
        bare = float(go_house(whole, plan)[0][:, 0, 0].sum())
        found.append((ran.total(Column.DELIVERED), bare - ran.total(Column.HEATING)))
    delivered, offset = np.array([(0.0, 0.0), *found]).T
    shares = np.diff(offset) / np.diff(delivered)
    assert np.all(np.diff(shares) < 0.0)
    assert 0.0 < shares[-1] < shares[0] < 1.0
