"""One collector beside several houses: the same numbers in every lane, in the order of their fields."""

import numpy as np

from simengine.airflow.loop import given_flow_loop
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table
from simengine.control.rule import read_rule
from simengine.control.spec import ControlRule
from simengine.simulate import Resolved
from simengine.simulate.lanes import collector_lanes, rule_rows


def test_every_lane_is_the_collector_alone(resolved: Resolved) -> None:
    parts = resolved.parts
    network, table = collector_lanes(resolved, 3)
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
