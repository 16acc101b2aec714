"""Cash flows by kind: lives, escalation, and real against nominal."""

from dataclasses import replace

import numpy as np
import pytest

from simengine.economics.cash_flow import cash_flows, fuel_series, heat_series
from simengine.economics.payback import net_present_value
from simengine.economics.spec import Money

MONEY = Money(first_cost=600.0, upkeep=10.0, fan_cost=70.0, fan_life=8, grant=100.0, residual_value=50.0)


def test_flows_by_hand():
    flows = cash_flows(replace(MONEY, study_period=17, life=17), 600.0, 120.0, 5.0)
    assert flows.net[0] == -500.0
    assert flows.net[1] == 105.0
    assert flows.net[8] == flows.net[16] == 35.0
    assert flows.net[17] == 155.0
    assert len(flows.net) == 18


def test_fan_is_not_replaced_in_the_last_year():
    flows = cash_flows(replace(MONEY, study_period=16, life=16), 600.0, 120.0, 5.0)
    assert np.flatnonzero(flows.replacement).tolist() == [7]


def test_other_parts_are_replaced_too():
    flows = cash_flows(replace(MONEY, replacements=((8, 30.0), (12, 20.0), (20, 99.0))), 600.0, 120.0, 5.0)
    assert flows.replacement[[7, 11, 15, 19]].tolist() == [100.0, 20.0, 70.0, 0.0]


def test_savings_end_with_the_shorter_of_life_and_study():
    assert len(cash_flows(replace(MONEY, life=12), 600.0, 120.0, 5.0).net) == 13
    assert len(cash_flows(replace(MONEY, life=30), 600.0, 120.0, 5.0).net) == 21


def test_escalation_counts_from_the_base_date():
    # NIST Handbook 135 (from memory): the sum of year t is that of the base date times (1 + e)^t.
    flows = cash_flows(replace(MONEY, fuel_escalation=0.02, electricity_escalation=0.01), 600.0, 120.0, 5.0)
    assert flows.fuel[2] == pytest.approx(120.0 * 1.02**3)
    assert flows.fan[2] == pytest.approx(5.0 * 1.01**3)
    assert flows.upkeep[2] == 10.0


def test_present_values_add_up():
    money = replace(MONEY, fuel_escalation=0.02)
    flows = cash_flows(money, 600.0, 120.0, 5.0)
    total = net_present_value(flows.net, flows.rate)
    assert total == pytest.approx(flows.present_running - flows.present_investment)
    assert total == pytest.approx(flows.present(flows.fuel) - flows.present_cost)
    assert flows.present(flows.fuel) == pytest.approx(120.0 * fuel_series(money))
    assert flows.present(flows.upkeep) == pytest.approx(10.0 * heat_series(money))


def test_real_and_nominal_give_the_same_present_value():
    # ASTM E917: with (1 + D) = (1 + d)(1 + i) and the same for escalations the two agree.
    inflation, real = 0.025, replace(MONEY, fuel_escalation=0.02)
    nominal = replace(
        real,
        basis="nominal",
        inflation=inflation,
        discount_rate=1.03 * (1.0 + inflation) - 1.0,
        fuel_escalation=1.02 * (1.0 + inflation) - 1.0,
        electricity_escalation=inflation,
    )
    values = [
        net_present_value(cash_flows(money, 600.0, 120.0, 5.0).net, money.discount_rate)
        for money in (real, nominal)
    ]
    assert values[0] == pytest.approx(values[1], rel=1e-9)
