"""The gap table against the relation that it stands for."""

import numpy as np
import pytest

from simengine.heat_transfer.gap_curve import LARGEST_ROOT, gap_table, interpolate_nusselt
from simengine.heat_transfer.natural_convection import gap_nusselt

ASPECT = 60.0


def _errors(tilt):
    table = gap_table(gap_nusselt, tilt, ASPECT)
    x = np.linspace(-LARGEST_ROOT, LARGEST_ROOT, 20011)
    exact = [gap_nusselt(v**4, tilt if v >= 0.0 else 180.0 - tilt, ASPECT) for v in x]
    read = [interpolate_nusselt(table, v) for v in x]
    onset = (1708.0 / max(np.cos(np.radians(tilt)), 1e-9)) ** 0.25
    near = np.abs(np.abs(x) - onset) < 2.0 * LARGEST_ROOT / 2048
    return np.abs(np.array(read) / np.array(exact) - 1.0), near


@pytest.mark.parametrize("tilt", [0.0, 20.0, 30.0, 45.0, 55.0, 60.0, 75.0, 90.0])
def test_interpolation_error_is_the_stated_one(tilt):
    error, near = _errors(tilt)
    assert error[~near].max() < 2e-3
    assert error.max() < 1.5e-2


def test_lower_face_hotter_is_on_the_positive_side():
    table = gap_table(gap_nusselt, 30.0, ASPECT)
    x = 12.0
    assert interpolate_nusselt(table, x) == pytest.approx(gap_nusselt(x**4, 30.0, ASPECT), rel=2e-3)
    assert interpolate_nusselt(table, -x) == pytest.approx(gap_nusselt(x**4, 150.0, ASPECT), rel=2e-3)


def test_vertical_gap_does_not_ask_which_face_is_hotter():
    table = gap_table(gap_nusselt, 90.0, ASPECT)
    assert table == pytest.approx(table[::-1], rel=1e-12)


def test_equal_temperatures_give_exactly_conduction():
    assert interpolate_nusselt(gap_table(gap_nusselt, 60.0, ASPECT), 0.0) == 1.0


def test_held_beyond_its_ends():
    table = gap_table(gap_nusselt, 60.0, ASPECT, size=101)
    assert interpolate_nusselt(table, 1e6) == table[-1]
    assert interpolate_nusselt(table, -1e6) == table[0]
