"""How readings scatter about the model: between signals of one moment, and from one moment to the next."""

from collections.abc import Mapping

import numpy as np

from simengine.fieldtest.log import Array

LEAST = 0.02
"""Scatter that no block goes below: what the model's own grid and steps leave [K]."""
MOST_TOGETHER = 0.9


def stacked(parts: Mapping[str, list[Array]]) -> Array:
    """Return block means of all signals side by side [block, signal], only those that are whole."""
    columns = np.stack([np.concatenate(arrays) for arrays in parts.values()], axis=1)
    return np.asarray(columns[np.isfinite(columns).all(axis=1)])


def stated_covariance(noise: Mapping[str, float], shared: float, size: int) -> Array:
    """Return the covariance of block means that the readings' noise accounts for [K2].

    Parameters
    ----------
    noise : of a single reading of each signal [K]
    shared : of the inlet, which drives the model and so is in all signals [K]
    size : readings in a block
    """
    own = np.array([max(value**2 / size, LEAST**2) for value in noise.values()])
    return np.diag(own) + shared**2 / size


def found_covariance(parts: Mapping[str, list[Array]], unknowns: int) -> Array:
    """Return the covariance of block means about a fit [K2], widened where neighbours go together.

    Parameters
    ----------
    parts : what a fit leaves, by signal and section [K]
    unknowns : of the fit

    Signals of one moment share the noise of what drives the model (inlet, sun), so that they scatter
    together; a signal whose neighbouring blocks go together by r counts as having 1 + r over 1 - r
    times the variance.
    """
    left = stacked(parts)
    free = max(left.size - unknowns, 1) / max(left.size, 1)
    covariance = left.T @ left / max(left.shape[0], 1) / free
    wider = np.array([_together(arrays) for arrays in parts.values()])
    scale = np.sqrt((1.0 + wider) / (1.0 - wider))
    return np.asarray(covariance * np.outer(scale, scale) + LEAST**2 * np.eye(scale.size))


def _together(arrays: list[Array]) -> float:
    """Return the correlation of neighbouring blocks, 0 to `MOST_TOGETHER`."""
    pairs = np.concatenate([array[1:] * array[:-1] for array in arrays]) if arrays else np.zeros(0)
    squares = np.concatenate([array**2 for array in arrays])
    pairs, squares = pairs[np.isfinite(pairs)], squares[np.isfinite(squares)]
    if pairs.size < 4 or float(squares.sum()) <= 0.0:
        return 0.0
    return float(min(max(pairs.mean() / squares.mean(), 0.0), MOST_TOGETHER))


def whitening(covariance: Array) -> Array:
    """Return the matrix that turns residuals of this covariance into independent ones of unit variance.

    Parameters
    ----------
    covariance : [row, row], in the square of the residuals' unit [unit2]
    """
    return np.asarray(np.linalg.inv(np.linalg.cholesky(covariance)))
