"""Two answers that are known beforehand, worked out by the very march and steady point that runs use."""

import math

import numpy as np

from simengine.airflow.loop import given_flow_loop
from simengine.airflow.spec import Fan
from simengine.collector.build import build_network
from simengine.collector.flow_table import build_flow_table
from simengine.collector.network import FlowTable, Forcing, Network, Weather, read_box
from simengine.collector.spec import Absorber, AirSpace, Back, Collector, Layer, Pane
from simengine.collector.steady import steady_point
from simengine.constants import STANDARD_PRESSURE, ZERO_CELSIUS
from simengine.control.spec import ControlRule
from simengine.engine.ledger import COLUMNS
from simengine.engine.march import march
from simengine.engine.state import Member, new_scratch, new_state
from simengine.house.presets import standard
from simengine.house.zone import Demand
from simengine.simulate.forcing import zone_rows
from simengine.simulate.lanes import rule_rows
from simengine.simulate.time_constant import NO_DRIFT

AROUND = ZERO_CELSIUS + 20.0
"""Air and sky [K]."""
SUN, LOSS, CAPACITY = 700.0, 8.0, 15000.0
"""W/m2 absorbed, W/m2K to the surroundings, J/m2K of the one node that is left."""

STAGNATION = 20.0 + SUN / LOSS
"""Mathematics: S / U over the surroundings [degC]."""
COOLED = math.exp(-1.0)
"""Mathematics: share of the excess that is left after one time constant C / U [-]."""

ABSORBER = 1


def stagnation_point() -> float:
    """Return the absorber's temperature [degC] in the sun without flow; it should be `STAGNATION`."""
    network, table = _one_node()
    weather = Weather(AROUND, AROUND, 10.0, SUN)
    point = steady_point(network, table, weather, np.array([0.0, SUN]), AROUND, speed=0.0)
    return float(point.nodes[ABSORBER, 0]) - ZERO_CELSIUS


def cooling_node(steps: int = 1000) -> float:
    """Return the share of its excess that the absorber keeps for C / U in the dark; `COOLED` is due."""
    network, table = _one_node()
    member = Member(
        network,
        table,
        Forcing(np.array([Weather(AROUND, AROUND, 10.0, 0.0)]), np.zeros((1, 2))),
        rule_rows(ControlRule(start=1000.0, stop=900.0), 1),
        np.ones((1, 1)),
        NO_DRIFT,
        zone_rows((standard(140.0),)),
        np.array(Demand(0.0, 0.0, 0.0, AROUND, AROUND + 10.0, 0.0))[None, :, None],
    )
    state = new_state(network.panes, 1, 1, AROUND + 10.0)
    once, work = np.array([steps], dtype=np.int64), new_scratch(network.panes, 1, 1)
    march(member, once, CAPACITY / LOSS, state, work, np.zeros((0, COLUMNS, 1)))
    return (float(state.nodes[0, ABSORBER, 0, 0]) - AROUND) / 10.0


def _one_node() -> tuple[Network, FlowTable]:
    """Return a box in which nothing counts but the absorber and its loss round the edges."""
    space = AirSpace(0.03, 0.03)
    box = Collector(
        width=1.2,
        length=2.4,
        tilt=60.0,
        azimuth=180.0,
        arrangement="behind",
        panes=(Pane("clear", 0.004),),
        pane_gaps=(),
        front=space,
        absorber=Absorber("sheet"),
        rear=space,
        back=Back((Layer("board", 0.05, 0.024, 30.0, 1400.0, "polyiso"),)),
        segments=1,
    )
    network = build_network(box, STANDARD_PRESSURE)
    table = build_flow_table(box, given_flow_loop(Fan(0.05, 0.0)), STANDARD_PRESSURE)
    network.nusselt[:] = 1.0e-9
    network.exchange[:] = 0.0
    network.capacity[:, 0] = 0.0
    network.capacity[ABSORBER, 0] = CAPACITY
    table.film[:] = 0.0
    alone = read_box(network.box, 0)._replace(
        edge=LOSS, face_link=1e-12, box_link=1e-12, outer_link=1e-12, sky_view=1.0
    )
    return network._replace(box=np.array(alone)[:, None]), table
