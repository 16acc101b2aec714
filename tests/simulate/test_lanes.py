"""One collector beside several houses: the same numbers in every lane, in the order of their fields."""

import numpy as np
import pytest

from simengine.airflow.loop import given_flow_loop
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table
from simengine.control.rule import read_rule
from simengine.control.spec import ControlRule
from simengine.scenario import Scenario
from simengine.simulate import Resolved, resolve
from simengine.simulate.kept import Kept
from simengine.simulate.lanes import PART_SPEEDS, air_loop, collector_lanes, rule_rows


def test_every_lane_is_the_collector_alone(resolved: Resolved) -> None:
    parts = resolved.parts
    network, table = collector_lanes(resolved, 3, Kept(2))
    loop = given_flow_loop(parts.fan, parts.supply_ducts, parts.return_ducts)
    alone = build_network(parts.collector, resolved.pressure, parts.control.sensor_place)
    own_table = build_flow_table(parts.collector, loop, resolved.pressure)
    assert (network.panes, network.counterflow) == (alone.panes, alone.counterflow)
    for name in alone._fields[2:]:
        many, one = getattr(network, name), getattr(alone, name)
        if name == "nusselt":  # the one array whose last axis is not the lane
            many, one = many.swapaxes(1, 2), one.swapaxes(1, 2)
        assert many.shape == (*one.shape[:-1], 3)
        assert getattr(network, name).flags.c_contiguous
        for lane in range(3):
            assert np.array_equal(many[..., lane], one[..., 0])
    for many, one in zip(table, own_table, strict=True):
        for lane in range(3):
            assert np.array_equal(many[..., lane], one[..., 0])


def test_rule_rows_are_read_by_name() -> None:
    rule = ControlRule(
        start=316.0,
        stop=303.0,
        reference_weight=0.5,
        sensor_time_constant=61.0,
        room_limit=298.0,
        room_limit_band=0.7,
        minimum_on=120.0,
        minimum_off=300.0,
        months=(1, 12),
    )
    rows, free = rule_rows(rule, 2), np.ones((12, 2))
    for lane in range(2):
        read = read_rule(rows, free, 11, lane)
        assert (read.start, read.stop, read.reference_weight) == (316.0, 303.0, 0.5)
        assert (read.time_constant, read.room_limit, read.room_band) == (61.0, 298.0, 0.7)
        assert (read.minimum_on, read.minimum_off) == (120.0, 300.0)


def test_a_fan_with_a_curve_meets_the_loop_at_every_speed(demo: Scenario) -> None:
    control = {"kind": "differential", "low_speed": 0.4, "full_speed_at": "20 K"}
    fan = {"shut_off_pressure": "60 Pa", "free_flow": "150 cfm", "efficiency": 0.1}
    curved = resolve(demo.changed({"control": control, "fan": fan}))
    loop, full = air_loop(curved), curved.parts.fan
    assert loop.mass_flow.size == PART_SPEEDS
    assert loop.mass_flow[-1] == pytest.approx(full.mass_flow, rel=1e-9)
    assert loop.fan_power[-1] == pytest.approx(full.electric_power, rel=1e-9)
    # the collector's channel is laminar at little flow: slow air stays below the fan laws
    assert 0.5 < loop.mass_flow[8] / (0.25 * full.mass_flow) < 0.99


def test_drifting_air_is_counted_in_shares_of_full_flow(demo: Scenario) -> None:
    fan = {"shut_off_pressure": "60 Pa", "free_flow": "150 cfm", "efficiency": 0.1}
    open_loop = resolve(demo.changed({"damper": {"kind": "none"}, "fan": fan}))
    flow = air_loop(open_loop).mass_flow
    np.testing.assert_allclose(flow, flow[-1] * np.linspace(0.0, 1.0, PART_SPEEDS), rtol=1e-12)
