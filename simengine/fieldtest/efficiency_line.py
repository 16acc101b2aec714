"""The efficiency line through the steady periods, with bands that hold scatter and sensors together."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from uncertainties import correlated_values

from simengine.errors import InputError
from simengine.fieldtest.log import Array
from simengine.fieldtest.reduction import Reduced
from simengine.fieldtest.york import Line, york

LEAST_SPAN = 0.004
"""Least range of (T_i - T_a)/G for a line [K m2/W]; the standards ask for about 0.06 over four inlets."""
LEAST_TURN = 15.0
"""Least range of the angle of incidence for its modifier [deg]."""
TINY = 1.0e-9


@dataclass(frozen=True)
class EfficiencyLine:
    """eta = intercept - loss (T_i - T_a)/G, quantities with their covariance."""

    intercept: Any  # [-] F_R (tau alpha), at the periods' incidence
    loss: Any  # [W/m2K] F_R U_L
    scatter: float  # reduced chi-squared of the scatter [-]
    periods: int


def efficiency_line(reduced: list[Reduced]) -> EfficiencyLine | None:
    """Return the line, or None where the periods do not span one.

    Parameters
    ----------
    reduced : the periods

    Source: `york` for the scatter, with its correlation from the common G; what the sensors are off by is
    propagated through the fitted line (JCGM 100:2008, 5.2). Scatter beyond what was stated widens the band.
    """
    if len(reduced) < 3:
        return None
    x, y = [r.reduced_temperature for r in reduced], [r.efficiency for r in reduced]
    values_x, values_y = _nominal(x), _nominal(y)
    if float(np.ptp(values_x)) < LEAST_SPAN:
        return None
    shared = _shared(reduced)
    random = [_random_part(a, b, shared) for a, b in zip(x, y, strict=True)]
    deviations = np.sqrt(np.array([[c[0][0], c[1][1]] for c in random]))
    deviations = np.maximum(deviations, [TINY * 1e3, TINY * 1e3])
    correlation = np.clip(
        np.array([c[0][1] for c in random]) / (deviations[:, 0] * deviations[:, 1]), -0.999, 0.999
    )

    def line(moved_x: Array, moved_y: Array) -> Line:
        return york(moved_x, moved_y, deviations[:, 0], deviations[:, 1], correlation)

    try:
        best = line(values_x, values_y)
    except InputError:
        return None
    covariance = best.covariance * max(best.reduced, 1.0)
    for sensor in shared:
        dx = np.array([quantity.derivatives.get(sensor, 0.0) for quantity in x]) * sensor.std_dev
        dy = np.array([quantity.derivatives.get(sensor, 0.0) for quantity in y]) * sensor.std_dev
        moved = line(values_x + dx, values_y + dy)
        change = np.array([moved.intercept - best.intercept, moved.slope - best.slope])
        covariance = covariance + np.outer(change, change)
    intercept, slope = correlated_values([best.intercept, best.slope], covariance)
    return EfficiencyLine(intercept, -slope, best.reduced, len(reduced))


@dataclass(frozen=True)
class AngleModifier:
    """K = 1 - b0 (1/cos theta - 1)."""

    b0: Any  # [-]
    least: float  # [deg] range of the angles it is read from
    most: float


def angle_modifier(reduced: list[Reduced], line: EfficiencyLine | None) -> AngleModifier | None:
    """Return the incidence-angle modifier, or None where the periods do not hold it.

    Parameters
    ----------
    reduced : the periods; their efficiency without loss is read against the angle
    line : gives the loss

    Source: definition of ASHRAE 93 (from memory), least squares; scatter of the points gives the band, since
    what the sensors are off by drops out of the ratio.
    """
    angles = np.array([r.incidence for r in reduced])
    if line is None or angles.size < 5 or float(np.ptp(angles)) < LEAST_TURN or float(angles.max()) > 85.0:
        return None
    lift = 1.0 / np.cos(np.radians(angles)) - 1.0
    loss = float(line.loss.nominal_value)
    optical = _nominal([r.efficiency for r in reduced]) + loss * _nominal(
        [r.reduced_temperature for r in reduced]
    )
    design = np.stack([np.ones_like(lift), -lift], axis=1)
    found, *_ = np.linalg.lstsq(design, optical, rcond=None)
    left = optical - design @ found
    variance = float(left @ left) / (angles.size - 2) * np.linalg.inv(design.T @ design)
    normal, drop = correlated_values(found, variance)
    return AngleModifier(drop / normal, float(angles.min()), float(angles.max()))


def _nominal(values: list[Any]) -> Array:
    return np.array([value.nominal_value for value in values], dtype=np.float64)


def _shared(reduced: list[Reduced]) -> list[Any]:
    """Return the quantities that more than one period hangs on: what the sensors are off by."""
    counted: dict[Any, int] = {}
    for period in reduced:
        for variable in period.efficiency.derivatives.keys() | period.reduced_temperature.derivatives.keys():
            counted[variable] = counted.get(variable, 0) + 1
    return [variable for variable, times in counted.items() if times > 1 and variable.std_dev > 0.0]


def _random_part(x: Any, y: Any, shared: list[Any]) -> list[list[float]]:
    """Return the covariance of a point's x and y that it shares with no other point."""
    known = set(shared)
    total = np.zeros((2, 2))
    for variable in x.derivatives.keys() | y.derivatives.keys():
        if variable not in known:
            both = np.array([x.derivatives.get(variable, 0.0), y.derivatives.get(variable, 0.0)])
            total += np.outer(both, both) * variable.std_dev**2
    whole: list[list[float]] = total.tolist()
    return whole
