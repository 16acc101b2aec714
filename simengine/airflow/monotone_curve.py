"""A smooth curve through given points that never overshoots them."""

import numpy as np
from numpy.typing import NDArray


def monotone_slopes(x: NDArray[np.float64], y: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return slopes at the points for a piecewise cubic that keeps rises and falls as they are.

    Parameters
    ----------
    x : array, shape (n,)
        Places, rising, n at least 2.
    y : array, shape (n,)
        Values.

    Returns
    -------
    array, shape (n,)
        Slopes.

    Notes
    -----
    Weighted harmonic mean inside (Fritsch and Butland 1984), a three-point end formula held to the sign
    and to three times the slope of its neighbour.

    Examples
    --------
    >>> monotone_slopes(np.array([0.0, 1.0, 2.0]), np.array([0.0, 1.0, 2.0])).tolist()
    [1.0, 1.0, 1.0]
    """
    h, d = np.diff(x), np.diff(y) / np.diff(x)
    if len(x) == 2:
        return np.array([d[0], d[0]])
    w1, w2 = 2.0 * h[1:] + h[:-1], h[1:] + 2.0 * h[:-1]
    same = d[1:] * d[:-1] > 0.0
    first, second = np.where(same, d[:-1], 1.0), np.where(same, d[1:], 1.0)
    inner = np.where(same, (w1 + w2) / (w1 / first + w2 / second), 0.0)
    return np.concatenate([[_end(h[0], h[1], d[0], d[1])], inner, [_end(h[-1], h[-2], d[-1], d[-2])]])


def _end(h0: float, h1: float, d0: float, d1: float) -> float:
    slope = ((2.0 * h0 + h1) * d0 - h0 * d1) / (h0 + h1)
    if slope * d0 <= 0.0:
        return 0.0
    return 3.0 * d0 if d0 * d1 <= 0.0 and abs(slope) > 3.0 * abs(d0) else slope


def curve_value(
    at: float, x: NDArray[np.float64], y: NDArray[np.float64], slopes: NDArray[np.float64]
) -> float:
    """Return the curve at one place.

    Parameters
    ----------
    at : float
        Place [unit of x], inside the points; outside, the end cubics go on.
    x : array, shape (n,)
        Places.
    y : array, shape (n,)
        Values.
    slopes : array, shape (n,)
        From `monotone_slopes`.

    Returns
    -------
    float
        Value [unit of y].

    Examples
    --------
    >>> x, y = np.array([0.0, 1.0, 2.0]), np.array([4.0, 3.0, 0.0])
    >>> curve_value(1.0, x, y, monotone_slopes(x, y))
    3.0
    """
    i = int(np.clip(np.searchsorted(x, at, side="right") - 1, 0, len(x) - 2))
    h = x[i + 1] - x[i]
    t = (at - x[i]) / h
    left = (1.0 + 2.0 * t) * (1.0 - t) ** 2 * y[i] + t * (1.0 - t) ** 2 * h * slopes[i]
    right = t * t * (3.0 - 2.0 * t) * y[i + 1] + t * t * (t - 1.0) * h * slopes[i + 1]
    return float(left + right)
