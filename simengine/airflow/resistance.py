"""The loop's resistance as three numbers for the march: dp = a m^2 + b m^1.75 + c m."""

import itertools
import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simengine.compiled import kernel

_EXPONENTS = np.array([2.0, 1.75, 1.0])
_TINY = 1e-30


@dataclass(frozen=True, slots=True)
class Resistance:
    """A fitted loop."""

    coefficients: NDArray[np.float64]  # (3,) of m^2, m^1.75 and m, with m in kg/s and dp in Pa
    largest_error: float  # [-] relative, over the range of flows fitted
    smallest_flow: float  # [kg/s]
    largest_flow: float  # [kg/s]


def fit_resistance(
    pressure: Callable[[float], float], largest_flow: float, smallest_flow: float | None = None
) -> Resistance:
    """Fit a loop whose pressure is known at any flow.

    Parameters
    ----------
    pressure : callable
        Mass flow [kg/s] -> pressure loss [Pa].
    largest_flow : float
        Upper end of the range [kg/s].
    smallest_flow : float, optional
        Lower end of the range [kg/s]; 0.3 of the upper one if left out.

    Returns
    -------
    Resistance
        Coefficients that are not negative, so that the loss always rises with the flow, and the largest
        relative error over the range: usual loops stay below 1 %; a wider range, or a loop that is little
        else but a channel in the change from laminar to turbulent, leaves more, and says so.

    Notes
    -----
    Least squares of the relative error at 60 flows, over every subset of the three terms; the best subset
    without a negative coefficient is taken. The terms are those of fittings, of turbulent friction in
    smooth ducts (Blasius), and of laminar channels.

    Examples
    --------
    >>> fit_resistance(lambda m: 900.0 * m * m + 20.0 * m, 0.1).coefficients.round(6).tolist()
    [900.0, 0.0, 20.0]
    """
    low = 0.3 * largest_flow if smallest_flow is None else smallest_flow
    flows = np.geomspace(low, largest_flow, 60)
    losses = np.array([pressure(float(flow)) for flow in flows])
    terms = flows[:, None] ** _EXPONENTS / losses[:, None]
    best, best_error = np.zeros(3), math.inf
    for size in (1, 2, 3):
        for subset in itertools.combinations(range(3), size):
            columns = list(subset)
            solution = np.linalg.lstsq(terms[:, columns], np.ones_like(flows), rcond=None)[0]
            error = float(np.abs(terms[:, columns] @ solution - 1.0).max())
            if solution.min() >= 0.0 and error < best_error - 1e-9:
                best = np.zeros(3)
                best[columns] = solution
                best_error = error
    return Resistance(best, best_error, low, largest_flow)


@kernel
def pressure_at_flow(row: NDArray[np.float64], flow: float) -> float:
    """Return the pressure that a fitted loop costs.

    Parameters
    ----------
    row : array, shape (3,)
        Coefficients of a `Resistance`.
    flow : float
        Mass flow [kg/s], not negative.

    Returns
    -------
    float
        Pressure loss [Pa].

    Examples
    --------
    >>> pressure_at_flow(np.array([1000.0, 0.0, 10.0]), 0.1)
    11.0
    """
    root = math.sqrt(flow)
    loss: float = flow * (row[0] * flow + row[1] * root * math.sqrt(root) + row[2])
    return loss


@kernel
def flow_at_pressure(row: NDArray[np.float64], pressure: float) -> float:
    """Return the flow that a pressure drives through a fitted loop.

    Parameters
    ----------
    row : array, shape (3,)
        Coefficients of a `Resistance`, at least one above 0.
    pressure : float
        Pressure [Pa]; below 0 it is held at 0.

    Returns
    -------
    float
        Mass flow [kg/s]; exactly 0 at no pressure. Relative error below 1e-9.

    Notes
    -----
    Newton's method from above, a fixed count of eight steps: the loss is convex, so they fall onto the
    answer without a branch.

    Examples
    --------
    >>> round(flow_at_pressure(np.array([1000.0, 0.0, 10.0]), 11.0), 9)
    0.1
    """
    drive = max(pressure, 0.0)
    flow: float = min(math.sqrt(drive / max(row[0], _TINY)), drive / max(row[2], _TINY))
    turbulent = drive / max(row[1], _TINY)
    # q ** (4/7) lies below the larger of q ** (1/2) and q: an upper bound without a power.
    flow = min(flow, max(math.sqrt(turbulent), turbulent))
    for _ in range(8):
        root = math.sqrt(flow)
        quarter = root * math.sqrt(root)
        loss = flow * (row[0] * flow + row[1] * quarter + row[2])
        slope = 2.0 * row[0] * flow + 1.75 * row[1] * quarter + row[2]
        flow = max(flow - (loss - drive) / max(slope, _TINY), 0.0)
    return flow
