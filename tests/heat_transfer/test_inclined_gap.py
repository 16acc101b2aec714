"""Gaps heated from below against worked examples and against each other."""

import ht
import numpy as np
import pytest

from simengine.heat_transfer.inclined_gap import buchberg, hollands


def test_horizontal_enclosure_of_a_textbook_collector():
    # 80/40 degC, 25 mm, Ra 36887.7: Nu 3.223 +-0.002; 4.5 m2, k 0.02808: 652 +-1 W (published, read)
    nusselt = hollands(36887.7, 0.0, 80.0)
    assert nusselt == pytest.approx(3.223, abs=0.002)
    assert nusselt * 0.02808 / 0.025 * 4.5 * 40.0 == pytest.approx(652.0, abs=1.0)


def test_inclined_gap_of_a_solar_text():
    # 25 mm, 45 deg, 70/50 degC, Ra 18203.9: Nu 2.40 +-0.03, h 2.78 +-0.03 with k 0.0290 (from memory of
    # Duffie and Beckman, reproduced from its own inputs)
    nusselt = hollands(18203.9, 45.0, 80.0)
    assert nusselt == pytest.approx(2.4, abs=0.03)
    assert nusselt * 0.0290 / 0.025 == pytest.approx(2.78, abs=0.03)


def _largest_difference(low, high):
    rayleighs = np.linspace(low, high, 200) / np.cos(np.radians(45.0))
    pairs = [(hollands(ra, 45.0, 80.0), buchberg(ra, 45.0, 80.0)) for ra in rayleighs]
    return max(abs(first / second - 1.0) for first, second in pairs)


def test_two_authors_agree_at_high_rayleigh():
    # Hollands against the three-region relation at 45 deg: largest difference 0 to 0.13 for Ra 1.5e4 to
    # 8e5 (from memory of both, reproduced)
    assert 0.0 < _largest_difference(1.5e4, 8e5) < 0.13


def test_two_authors_differ_near_onset():
    # same at Ra 2.5e3 to 1e4: 0.1 to 0.3, because of the sin(1.8 b) term (from memory, reproduced)
    assert 0.1 < _largest_difference(2.5e3, 1e4) < 0.3


@pytest.mark.parametrize("rayleigh", [2e4, 1e5, 1e6])
def test_horizontal_layer_against_a_library(rayleigh):
    # ht's relation is Hollands 1984, which adds a term for Pr between the two of 1976: up to 12 % apart
    other = ht.Nu_Nusselt_Rayleigh_Hollands(Pr=0.71, Gr=rayleigh / 0.71)
    assert hollands(rayleigh, 0.0, 80.0) == pytest.approx(other, rel=0.12)


@pytest.mark.parametrize("tilt", [0.0, 30.0, 60.0])
@pytest.mark.parametrize("relation", [hollands, buchberg])
def test_no_convection_below_onset(relation, tilt):
    # linear stability: rolls start at Ra cos b = 1708
    assert relation(1707.0 / np.cos(np.radians(tilt)), tilt, 80.0) == 1.0
    assert relation(1800.0 / np.cos(np.radians(tilt)), tilt, 80.0) > 1.0


def test_no_rayleigh_gives_conduction():
    assert hollands(0.0, 30.0, 80.0) == buchberg(0.0, 30.0, 80.0) == 1.0
