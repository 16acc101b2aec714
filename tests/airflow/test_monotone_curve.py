"""The smooth curve through points against the same method in a general-purpose library."""

import numpy as np
import pytest
from scipy.interpolate import PchipInterpolator

from simengine.airflow.monotone_curve import curve_value, monotone_slopes

CURVES = {
    "fan": ([0.0, 0.03, 0.06, 0.09, 0.11], [120.0, 118.0, 100.0, 60.0, 0.0]),
    "hump": ([0.0, 0.02, 0.05, 0.1], [80.0, 100.0, 90.0, 0.0]),
    "flat": ([0.0, 1.0, 2.0, 4.0], [5.0, 5.0, 3.0, 3.0]),
    "two": ([0.0, 1.0], [4.0, 1.0]),
}


@pytest.mark.parametrize("name", CURVES)
def test_same_as_the_library(name):
    x, y = (np.array(values) for values in CURVES[name])
    slopes, library = monotone_slopes(x, y), PchipInterpolator(x, y)
    for at in np.linspace(x[0], x[-1], 57):
        assert curve_value(at, x, y, slopes) == pytest.approx(float(library(at)), rel=1e-12, abs=1e-12)


@pytest.mark.parametrize("name", CURVES)
def test_curve_stays_between_its_points(name):
    x, y = (np.array(values) for values in CURVES[name])
    slopes = monotone_slopes(x, y)
    for i in range(len(x) - 1):
        low, high = sorted((y[i], y[i + 1]))
        for at in np.linspace(x[i], x[i + 1], 21):
            assert low - 1e-9 <= curve_value(at, x, y, slopes) <= high + 1e-9
