"""What attacks with a clock running: everything is compiled before."""

import pytest

from simengine.simulate.known_answers import cooling_node, stagnation_point


@pytest.fixture(scope="session", autouse=True)
def compiled() -> None:
    """Compile before any clock runs: an alarm that breaks compiling off leaves a function half made."""
    cooling_node(1)
    stagnation_point()
