"""How fast a collector follows the sun: the time to 63.2 % of the way to its new outlet temperature."""

import numpy as np
from numpy.typing import NDArray

from simengine.airflow.passive import Passive
from simengine.collector.network import FlowTable, Forcing, Network, Weather
from simengine.collector.steady import steady_point
from simengine.control.spec import ControlRule
from simengine.engine.ledger import COLUMNS, Column
from simengine.engine.march import march
from simengine.engine.state import RUNNING, WARM, Member, new_scratch, new_state
from simengine.house.zone import Demand, Zone
from simengine.simulate.lanes import rule_rows

Array = NDArray[np.float64]

SHARE = 1.0 - float(np.exp(-1.0))
"""Share of the response at which the time constant is read [-]: 63.2 %."""

INTERVAL = 10.0
"""Length of the means that the march saves [s]."""
STEPS = 5
"""Steps in each of them [-]."""
LONGEST = 4.0 * 3600.0
"""Time after which nothing more is waited for [s]."""

ALWAYS_ON = ControlRule(start=1.0, stop=0.5, room_limit=1.0e4)
"""The fan runs from the first step on."""

NO_DRIFT = np.zeros((len(Passive._fields), 1))
"""A loop through which no air moves by itself."""

HELD = Zone(50.0, 2000.0, 30.0, 3000.0, 100.0, 1.0e6, 5.0e7, 1.0e12)
"""A room whose heating holds any temperature exactly, so that the air enters the collector at it."""


def response(network: Network, table: FlowTable, weather: Weather, absorbed: Array, inlet: float) -> Array:
    """Return how the outlet follows a sun that comes out at once [interval], 0 at the start and 1 in the end.

    Parameters
    ----------
    network, table : the collector on a loop without ducts and leaks, one lane
    weather : of the end; before it the same without sun
    absorbed : [pane + 1] sun absorbed by each pane, then by the absorber [W/m2]
    inlet : air temperature at the collector inlet, held [K]

    Returns
    -------
    means over `INTERVAL` [-]

    Source: the march of the year, from one steady state to the other.
    """
    dark = steady_point(network, table, weather._replace(incident=0.0), 0.0 * absorbed, inlet)
    sunny = steady_point(network, table, weather, absorbed, inlet)
    panes, segments = network.panes, network.path.shape[1]
    state = new_state(panes, segments, 1, inlet)
    state.nodes[:, :, :, 0] = dark.nodes
    state.control[WARM] = state.control[RUNNING] = 1.0
    count = round(LONGEST / INTERVAL)
    rule, runs = rule_rows(ALWAYS_ON, 1), np.ones((count, 1))
    demand = np.array(Demand(0.0, 0.0, 0.0, inlet, inlet))
    forcing = Forcing(np.tile(np.array(weather), (count, 1)), np.tile(absorbed, (count, 1)))
    zone = np.array(HELD)[:, None]
    wanted = np.tile(demand[None, :, None], (count, 1, 1))
    member = Member(network, table, forcing, rule, runs, NO_DRIFT, zone, wanted)
    hours = np.zeros((count, COLUMNS, 1))
    plan, work = np.full(count, STEPS, dtype=np.int64), new_scratch(panes, segments, 1)
    march(member, plan, INTERVAL, state, work, hours)
    outlet = hours[:, Column.OUTLET, 0] / INTERVAL
    return np.asarray((outlet - dark.outlet) / (sunny.outlet - dark.outlet))


def time_constant(
    network: Network, table: FlowTable, weather: Weather, absorbed: Array, inlet: float
) -> float | None:
    """Return the time constant [s], None where the outlet does not come that far within four hours.

    Parameters
    ----------
    network, table, weather, absorbed, inlet : as for `response` [-], [-], -, [W/m2], [K]

    Source: definition of ASHRAE 93 and ISO 9806 (from memory): the time from a step of the sun until the
    outlet has gone 63.2 % of its way, at constant inlet and flow.
    """
    course = response(network, table, weather, absorbed, inlet)
    beyond = np.flatnonzero(course >= SHARE)
    if not beyond.size:
        return None
    first = int(beyond[0])
    before = float(course[first - 1]) if first else 0.0
    at = (first - 0.5) * INTERVAL if first else 0.0  # middle of the interval before, or the very start
    span = INTERVAL if first else 0.5 * INTERVAL
    return at + span * (SHARE - before) / (float(course[first]) - before)
