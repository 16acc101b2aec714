"""One collector beside several houses: the arrays of the march repeated for every lane."""

from dataclasses import fields
from functools import partial
from operator import attrgetter
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from simengine.airflow.loop import AirLoop, given_flow_loop
from simengine.airflow.passive import passive_numbers
from simengine.collector.build import build_network
from simengine.collector.network import FlowTable, Network
from simengine.collector.spec import Collector
from simengine.control.rule import Rule
from simengine.control.spec import ControlRule
from simengine.simulate.kept import Kept

if TYPE_CHECKING:
    from simengine.simulate.resolve import Resolved

Array = NDArray[np.float64]

TWO_SPEEDS = 2
"""Rows of the flow table of a fan that is on or off."""
PART_SPEEDS = 33
"""The same where the air also moves at speeds between."""
NETWORK_PARTS = attrgetter(*(part.name for part in fields(Collector) if part.name not in ("leak", "tags")))
"""All that a network hangs on of its collector: what leaks stands in the flow table, a tag is a word."""


def collector_lanes(resolved: "Resolved", lanes: int, kept: Kept) -> tuple[Network, FlowTable]:
    """Return network and flow table of the scenario's collector, the same in every lane.

    Parameters
    ----------
    resolved : the scenario
    lanes : how many [-]
    kept : networks of collectors before
    """
    hangs_on = ("lanes", lanes, _of_network(resolved))
    network = kept.once(hangs_on, lambda: _network_lanes(network_of(resolved, kept), lanes))
    table = resolved.flow_table
    return network, FlowTable(_repeat(table.flow, 2, lanes), _repeat(table.film, 3, lanes))


def network_of(resolved: "Resolved", kept: Kept) -> Network:
    """Return the network of the scenario's collector, built once for all members that share it.

    Parameters
    ----------
    resolved : the scenario
    kept : networks of collectors before
    """
    parts = resolved.parts
    make = partial(build_network, parts.collector, resolved.pressure, parts.control.sensor_place)
    return kept.once(("network", _of_network(resolved)), make)  # type: ignore[no-any-return]


def _of_network(resolved: "Resolved") -> tuple[object, ...]:
    parts = resolved.parts
    return (NETWORK_PARTS(parts.collector), resolved.pressure, parts.control.sensor_place)


def _network_lanes(network: Network, lanes: int) -> Network:
    return network._replace(
        box=_repeat(network.box, 1, lanes),
        path=_repeat(network.path, 2, lanes),
        capacity=_repeat(network.capacity, 1, lanes),
        pane_link=_repeat(network.pane_link, 1, lanes),
        exchange=_repeat(network.exchange, 1, lanes),
        gap=_repeat(network.gap, 3, lanes),
        gas=_repeat(network.gas, 3, lanes),
        nusselt=_repeat(network.nusselt, 1, lanes),
    )


def air_loop(resolved: "Resolved") -> AirLoop:
    """Return the air loop of the scenario, at as many speeds as its air can have."""
    parts, shut = resolved.parts, resolved.parts.passive is None
    if parts.fan_curve is not None and parts.control.part_speeds and shut:
        from simengine.airflow.solved_loop import solve_loop  # loads a library of friction factors

        ducts = (parts.supply_ducts, parts.return_ducts)
        at = (parts.fan_inlet_temperature, parts.fan.heat_to_air)
        return solve_loop(parts.fan_curve, parts.air_path.parts, resolved.pressure, ducts, PART_SPEEDS, *at)
    # air that moves by itself is counted in shares of full flow, so the speeds are those of the fan laws
    speeds = TWO_SPEEDS if shut and not parts.control.part_speeds else PART_SPEEDS
    return given_flow_loop(parts.fan, parts.supply_ducts, parts.return_ducts, speeds)


def at_rest_and_full(loop: AirLoop) -> AirLoop:
    """Return a loop without the speeds between."""
    ends = [0, -1]
    return loop._replace(
        mass_flow=loop.mass_flow[ends],
        fan_power=loop.fan_power[ends],
        fan_heat=loop.fan_heat[ends],
        supply_kept=loop.supply_kept[ends],
        return_kept=loop.return_kept[ends],
    )


def passive_rows(resolved: "Resolved", lanes: int) -> Array:
    """Return the resting loop as rows [Passive, lane]."""
    numbers = passive_numbers(resolved.parts.passive, resolved.parts.fan.mass_flow, resolved.pressure)
    return _repeat(np.array(numbers)[:, None], 1, lanes)


def rule_rows(rule: ControlRule, lanes: int) -> Array:
    """Return the rule as rows [Rule, lane], all but its drive."""
    numbers = Rule(
        start=rule.start,
        stop=rule.stop,
        reference_weight=rule.reference_weight,
        time_constant=rule.sensor_time_constant,
        room_limit=rule.room_limit,
        room_band=rule.room_limit_band,
        minimum_on=rule.minimum_on,
        minimum_off=rule.minimum_off,
        low_speed=rule.low_speed,
        second_start=rule.second_start,
        second_stop=rule.second_stop,
        slope=rule.slope,
        drive=1.0,
    )
    return _repeat(np.array(numbers[:-1])[:, None], 1, lanes)


def _repeat(array: Array, axis: int, lanes: int) -> Array:
    return np.ascontiguousarray(np.repeat(array, lanes, axis=axis))
