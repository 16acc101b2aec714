"""The time constant of a collector of one node is its capacity over all that it is tied to."""

import numpy as np
import pytest

from simengine.collector.network import FlowTable, Network, Weather
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.simulate.time_constant import SHARE, response, time_constant
from tests.collector.by_hand import collector, numbers, with_box, with_films

LOSS, CAPACITY, FLOW = 3.51, 10_620.0, 83.6  # [W/m2K], [J/m2K], [W/m2K]
WEATHER = Weather(280.0, 280.0, 10.0, 800.0)
ABSORBED = np.array([0.0, 600.0])


def one_node(capacity: float) -> tuple[Network, FlowTable]:
    """Return an absorber that alone stores, loses at its edges alone, and gives the air its temperature."""
    made = collector(segments=1)
    mass_flow = FLOW * made.aperture / SPECIFIC_HEAT_AIR
    network, table = with_films(*numbers(made, mass_flow), 1.0e-6, 1.0e5)
    network = with_box(network, edge=LOSS, face_link=1.0e-9)
    network.exchange[:] = 0.0
    network.capacity[:] = 0.0
    network.capacity[network.panes] = capacity
    return network, table


def test_one_node_against_its_closed_form() -> None:
    # mathematics: C/(U + m c) = 10.62 kJ/m2K over 3.51 + 83.6 W/m2K = 121.9 s; means over 10 s, 5 steps each
    found = time_constant(*one_node(CAPACITY), WEATHER, ABSORBED, 280.0)
    assert found == pytest.approx(121.9, abs=0.5)


def test_the_response_of_one_node_is_an_exponential() -> None:
    course = response(*one_node(CAPACITY), WEATHER, ABSORBED, 280.0)
    constant = CAPACITY / (LOSS + FLOW)
    edges = 10.0 * np.arange(course.size + 1)
    mean = 1.0 + constant * np.diff(np.exp(-edges / constant)) / 10.0  # of 1 - exp(-t/tau) over each interval
    assert course == pytest.approx(mean, abs=0.002)
    assert pytest.approx(0.632121, abs=1e-6) == SHARE


def test_twice_the_capacity_takes_twice_as_long() -> None:
    once, twice = (time_constant(*one_node(n * CAPACITY), WEATHER, ABSORBED, 280.0) for n in (1.0, 2.0))
    assert once is not None
    assert twice == pytest.approx(2.0 * once, rel=0.005)


def test_what_takes_too_long_has_no_time_constant() -> None:
    assert time_constant(*one_node(400.0 * CAPACITY), WEATHER, ABSORBED, 280.0) is None
