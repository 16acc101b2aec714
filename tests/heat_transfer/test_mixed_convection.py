"""The bridge between still gap and forced flow: its two ends and its smoothness."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.heat_transfer.forced_convection import channel_nusselt
from simengine.heat_transfer.mixed_convection import fade, faded_forced, mixed

CONDUCTIVITY, DEPTH = 0.027, 0.025


def _film(reynolds, gap_nusselt):
    forced = channel_nusselt(abs(reynolds), 0.71, 0.02) * CONDUCTIVITY / (2.0 * DEPTH)
    still = CONDUCTIVITY / DEPTH
    return mixed(faded_forced(forced, still, reynolds), gap_nusselt * still), forced


@pytest.mark.parametrize("gap_nusselt", [1.0, 1.7, 3.2, 8.0])
def test_no_flow_is_exactly_the_still_gap(gap_nusselt):
    wall, _ = _film(0.0, gap_nusselt)
    assert 0.5 * wall == pytest.approx(gap_nusselt * CONDUCTIVITY / DEPTH, rel=1e-12)


@pytest.mark.parametrize("reynolds", [1000.0, 2000.0, 5000.0, 20000.0])
def test_flow_without_buoyancy_is_the_forced_value(reynolds):
    wall, forced = _film(reynolds, 1.0)
    assert wall == pytest.approx(forced, rel=1e-2)


def test_fade_at_its_ends():
    assert fade(0.0) == 0.0
    assert fade(1000.0) > 0.99


@settings(derandomize=True, deadline=None, max_examples=50)
@given(st.floats(0.0, 2e4), st.floats(1.0, 10.0))
def test_film_does_not_ask_for_the_direction_and_grows_with_buoyancy(reynolds, gap_nusselt):
    wall, _ = _film(reynolds, gap_nusselt)
    assert _film(-reynolds, gap_nusselt)[0] == wall
    assert _film(reynolds, gap_nusselt + 0.5)[0] > wall


def test_film_rises_smoothly_with_the_flow():
    values = np.array([_film(reynolds, 1.3)[0] for reynolds in np.linspace(0.0, 3000.0, 3001)])
    assert (np.diff(values) > -1e-12).all()
    assert np.diff(values).max() < 0.02


def test_either_alone_remains():
    # cube law (Churchill 1977, from memory)
    assert mixed(5.0, 0.0) == pytest.approx(5.0, rel=1e-12)
    assert mixed(3.0, 2.0) == pytest.approx((3.0**3 + 4.0**3) ** (1 / 3), rel=4e-10)  # its root's error
