"""The branch-free cube root and exponential against the mathematics they stand for."""

import itertools
import math

import numpy as np
import pytest

from simengine.heat_transfer.roots import cube_root, exp_negative


@pytest.mark.parametrize(
    ("decades", "tolerance"), [(12, 4e-10), (6, 1e-14)], ids=["stated range", "range of films"]
)
def test_cube_root_within_its_stated_error(decades, tolerance):
    for x in np.logspace(-decades, decades, 1001):
        assert cube_root(x) == pytest.approx(np.cbrt(x), rel=tolerance)


def test_cube_root_of_zero_is_exactly_zero():
    assert cube_root(0.0) == 0.0


def test_cube_root_of_a_cube():
    # two halves of a still gap in series must be the gap to 1e-12
    for h in (0.3, 1.0, 2.7, 12.0, 80.0):
        assert cube_root(h * h * h) == pytest.approx(h, rel=1e-14)


def test_exponential_within_its_stated_error():
    for x in np.concatenate([np.linspace(0.0, 60.0, 1501), np.logspace(-12, 0, 200)]):
        assert exp_negative(x) == pytest.approx(math.exp(-x), rel=2e-12)


def test_exponential_of_zero_is_exactly_one():
    assert exp_negative(0.0) == 1.0


def test_exponential_is_held_at_both_ends():
    assert exp_negative(-5.0) == 1.0
    assert exp_negative(1e9) == exp_negative(60.0) < 1e-26


def test_exponential_falls_without_a_rise():
    values = [exp_negative(x) for x in np.linspace(0.0, 60.0, 3001)]
    assert all(b < a for a, b in itertools.pairwise(values))
