"""A straight line through points that are uncertain in both directions."""

from typing import NamedTuple

import numpy as np

from simengine.errors import InputError
from simengine.fieldtest.log import Array

MOST_TURNS = 200
TOLERANCE = 1.0e-13


class Line(NamedTuple):
    """y = intercept + slope x."""

    intercept: float
    slope: float
    covariance: Array  # [2, 2] of (intercept, slope)
    chi_squared: float  # sum of the weighted squares of what is left
    points: int

    @property
    def reduced(self) -> float:
        """Sum of squares over degrees of freedom; near 1 where the stated uncertainties hold."""
        return self.chi_squared / max(self.points - 2, 1)


def york(x: Array, y: Array, deviation_x: Array, deviation_y: Array, correlation: Array) -> Line:
    """Return the line of greatest likelihood.

    Parameters
    ----------
    x, y : points [any units], arrays [point]
    deviation_x, deviation_y : their standard uncertainties, of the same units, above 0 [units of x and y]
    correlation : of the two in each point [-], -1 to 1

    Returns
    -------
    Line; its covariance is that of the stated uncertainties

    Raises
    ------
    InputError for fewer than two points, or points all at one x.

    Source: York, Evensen, Lopez Martinez and De Basabe Delgado, Am. J. Phys. 72 (2004) 367, eqs. 13 (from
    memory); the worked example of Pearson's data with York's weights is in the tests.
    """
    if x.size < 2 or float(np.ptp(x)) <= 0.0:
        raise InputError("a line needs two points at different places")
    wx, wy = 1.0 / deviation_x**2, 1.0 / deviation_y**2
    root = np.sqrt(wx * wy)
    slope = float(np.polyfit(x, y, 1)[0])
    for _ in range(MOST_TURNS):
        w = wx * wy / (wx + slope**2 * wy - 2.0 * slope * correlation * root)
        x_mean, y_mean = float(np.average(x, weights=w)), float(np.average(y, weights=w))
        u, v = x - x_mean, y - y_mean
        beta = w * (u / wy + slope * v / wx - (slope * u + v) * correlation / root)
        new = float(np.sum(w * beta * v) / np.sum(w * beta * u))
        done = abs(new - slope) <= TOLERANCE * max(abs(new), TOLERANCE)
        slope = new
        if done:
            break
    intercept = y_mean - slope * x_mean
    adjusted = x_mean + beta
    centre = float(np.average(adjusted, weights=w))
    variance_slope = 1.0 / float(np.sum(w * (adjusted - centre) ** 2))
    variance_intercept = 1.0 / float(w.sum()) + centre**2 * variance_slope
    both = -centre * variance_slope
    covariance = np.array([[variance_intercept, both], [both, variance_slope]])
    left = float(np.sum(w * (y - slope * x - intercept) ** 2))
    return Line(intercept, slope, covariance, left, int(x.size))
