"""One node that warms and cools: the march of the year against the exact exponential."""

import math

import numpy as np
import pytest

from simengine.collector.network import FlowTable, Network, Weather
from simengine.constants import SPECIFIC_HEAT_AIR
from tests.collector.by_hand import collector, numbers, with_box, with_films
from tests.reference.reference_collectors import march_on, member, started

AREA = 2.88


def single_node(capacity: float, loss: float, flow: float) -> tuple[Network, FlowTable]:
    """Return a box in which only the absorber counts: J/m2K, W/m2K to ambient, W/m2K with its air."""
    network, table = numbers(collector("behind", 1), flow * AREA / SPECIFIC_HEAT_AIR)
    network, table = with_films(
        network, table, 0.0, 1.0e8 if flow > 0.0 else 0.0
    )  # the air leaves at the node
    network.nusselt[:] = 1.0e-9
    network.exchange[:] = 0.0
    network.capacity[:, 0] = (0.0, capacity, 0.0, 0.0, 0.0, 0.0)
    nothing = {"face_link": 1e-12, "box_link": 1e-12, "outer_link": 1e-12}
    return with_box(network, edge=loss, **nothing), table


def after(network: Network, table: FlowTable, start: float, sun: float, seconds: float, steps: int) -> float:
    """March a single node in surroundings of 20 C; return its temperature [K]."""
    level = 293.15
    fixed = member(network, table, Weather(level, level, 10.0, 0.0), np.array([0.0, sun]), level)
    state = started(fixed, start)
    march_on(fixed, state, steps, seconds / steps)
    return float(state.nodes[0, 1, 0, 0])


# mathematics: C / (U + m c_p), C / (U + 2 m c_p); tolerance of the printed figures. The second is that of a
# node at the mean of inlet and outlet; the streams here have an exact profile instead, so that its
# conductance stands in as a loss: this proves the march, not such a stream.
@pytest.mark.parametrize(
    ("loss", "flow", "time_constant"), [(3.51, 83.6, 121.9), (3.51 + 2.0 * 83.6, 0.0, 62.2)]
)
def test_time_constant_of_a_single_node(loss, flow, time_constant):
    network, table = single_node(10620.0, loss, flow)
    excess = after(network, table, 303.15, 0.0, time_constant, 200) - 293.15
    assert -time_constant / math.log(excess / 10.0) == pytest.approx(time_constant, abs=0.1)


def test_the_march_passes_63_percent_at_one_time_constant():
    """Mathematics: 1 - 1/e, to 1e-6."""
    network, table = single_node(10620.0, 3.51, 83.6)
    excess = after(network, table, 303.15, 0.0, 10620.0 / 87.11, 1000) - 293.15
    assert 1.0 - excess / 10.0 == pytest.approx(0.632121, abs=1e-6)


def test_a_node_without_flow_after_an_hour_of_sun():
    """Mathematics: 94.7 C +- 0.1 from 20 C with C 15 kJ/m2K, U 8 W/m2K, S 700 W/m2."""
    network, table = single_node(15000.0, 8.0, 0.0)
    found = after(network, table, 293.15, 700.0, 3600.0, 60) - 273.15
    assert found == pytest.approx(94.7, abs=0.1)
    assert found == pytest.approx(20.0 + 87.5 * -math.expm1(-8.0 * 3600.0 / 15000.0), abs=0.01)


@pytest.mark.parametrize(("start", "sun"), [(293.15, 700.0), (350.0, 0.0)])
def test_heating_and_cooling_of_a_node_are_of_second_order(start, sun):
    network, table = single_node(15000.0, 8.0, 0.0)
    rest = 293.15 + sun / 8.0
    exact = rest + (start - rest) * math.exp(-8.0 * 3600.0 / 15000.0)
    errors = [abs(after(network, table, start, sun, 3600.0, steps) - exact) for steps in (20, 40, 80)]
    assert np.log2(np.array(errors[:-1]) / errors[1:]) == pytest.approx([2.0, 2.0], abs=0.1)


@pytest.mark.parametrize("seconds", [60.0, 600.0, 3600.0, 86400.0])
def test_one_long_step_is_damped_by_the_stability_function(seconds):
    """Alexander (1977, from memory): R(z) = (1 + (1 - 2 g) z) / (1 - g z)^2 with g = 1 - 1/sqrt(2)."""
    network, table = single_node(600.0, 8.0, 0.0)
    z, g = -8.0 * seconds / 600.0, 1.0 - math.sqrt(0.5)
    kept = (1.0 + (1.0 - 2.0 * g) * z) / (1.0 - g * z) ** 2
    assert after(network, table, 393.15, 0.0, seconds, 1) == pytest.approx(293.15 + 100.0 * kept, abs=1e-7)
