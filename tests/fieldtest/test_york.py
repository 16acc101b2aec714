"""The line with errors in both directions against a published example and an independent minimum."""

import numpy as np
import pytest
from scipy.optimize import minimize

from simengine.errors import InputError
from simengine.fieldtest.york import york

# Pearson's data (1901) with York's weights (1966), the worked example of the field; from memory of
# York et al.,
# Am. J. Phys. 72 (2004) 367, and of Reed, Am. J. Phys. 60 (1992) 59.
X = np.array([0.0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4])
Y = np.array([5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5])
WEIGHT_X = np.array([1000.0, 1000.0, 500.0, 800.0, 200.0, 80.0, 60.0, 20.0, 1.8, 1.0])
WEIGHT_Y = np.array([1.0, 1.8, 4.0, 8.0, 20.0, 20.0, 70.0, 70.0, 100.0, 500.0])


def test_pearsons_data_with_yorks_weights() -> None:
    line = york(X, Y, WEIGHT_X**-0.5, WEIGHT_Y**-0.5, np.zeros(10))
    assert line.intercept == pytest.approx(5.47991, abs=1e-5)  # from memory of York et al. 2004
    assert line.slope == pytest.approx(-0.480533, abs=1e-6)
    assert line.reduced == pytest.approx(1.4833, abs=1e-4)
    assert np.sqrt(line.covariance[1, 1]) == pytest.approx(0.0580, rel=0.03)  # printed forms differ by 3 %


@pytest.mark.parametrize("correlation", [-0.8, 0.0, 0.6])
def test_line_is_the_minimum_of_the_weighted_squares(correlation: float) -> None:
    # independent solution: the points moved onto the line are minimised away by a general minimiser
    random = np.random.default_rng(3)
    x, y = np.linspace(0.0, 1.0, 12), 2.0 - 3.0 * np.linspace(0.0, 1.0, 12)
    sx, sy = np.full(12, 0.05), np.full(12, 0.1)
    x, y = x + 0.05 * random.standard_normal(12), y + 0.1 * random.standard_normal(12)

    def squares(line: np.ndarray) -> float:
        away = y - line[0] - line[1] * x
        return float(np.sum(away**2 / (sy**2 + line[1] ** 2 * sx**2 - 2.0 * line[1] * correlation * sx * sy)))

    best = minimize(squares, [2.0, -3.0], method="Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-12})
    line = york(x, y, sx, sy, np.full(12, correlation))
    assert [line.intercept, line.slope] == pytest.approx(best.x.tolist(), abs=2e-4)
    assert line.chi_squared == pytest.approx(best.fun, rel=1e-6)


def test_exact_points_are_met_exactly() -> None:
    x = np.array([0.0, 0.02, 0.05])
    line = york(x, 0.7 - 5.0 * x, np.full(3, 1e-4), np.full(3, 0.01), np.zeros(3))
    assert (line.intercept, line.slope) == pytest.approx((0.7, -5.0), abs=1e-9)


def test_one_place_is_no_line() -> None:
    with pytest.raises(InputError, match="two points"):
        york(np.ones(3), np.arange(3.0), np.ones(3), np.ones(3), np.zeros(3))
