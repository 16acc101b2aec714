"""What a log tells without steady periods: a regression with storage, and the answer to a step of the sun."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from uncertainties import correlated_values

from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.fieldtest.log import Array, TestLog
from simengine.fieldtest.sensors import Sensors

BLOCK = 300.0
"""Readings are averaged over this long [s]."""
LEAST_BLOCKS = 24
LEAST_TURN = 15.0
"""Least range of the angle of incidence for its modifier [deg]."""
JUMP = 250.0
"""A sun that changes by as much within two rows is a step [W/m2]."""
AFTER = 1200.0
"""How long the sun must then stay put [s]."""


@dataclass(frozen=True)
class QuasiDynamic:
    """q/A = intercept K(theta) G - loss (T_i - T_a) - capacity dT_m/dt."""

    intercept: Any  # [-]
    loss: Any  # [W/m2K]
    capacity: Any  # [J/m2K] that follows the mean air temperature
    b0: Any | None  # [-]
    blocks: int
    rms: float  # [W/m2] of what is left


def blocks(values: Array, size: int) -> Array:
    """Return means of so many rows each, NaN where one is missing.

    >>> blocks(np.array([1.0, 3.0, 5.0, 7.0, 9.0]), 2).tolist()
    [2.0, 6.0]
    """
    whole = values.size // size
    return np.asarray(values[: whole * size].reshape(whole, size).mean(axis=1))


def quasi_dynamic(log: TestLog, sensors: Sensors, aperture: float, incidence: Array) -> QuasiDynamic | None:
    """Return the regression, or None where there is too little of a log.

    Parameters
    ----------
    log : with ambient, inlet, outlet, flow and irradiance
    sensors : their uncertainties
    aperture : [m2]
    incidence : [row], [deg]

    Source: the quasi-dynamic method of ISO 9806 in its terms for air (from memory); multiple linear least
    squares, neighbouring residuals counted as correlated (Newey and West 1987, from memory), and what the
    sensors are off by propagated through the regression.
    """
    size = max(1, round(BLOCK / log.step))
    columns = {name: blocks(log[name], size) for name in ("ambient", "inlet", "outlet", "flow", "irradiance")}
    angle = blocks(incidence, size)
    middle = 0.5 * (columns["inlet"] + columns["outlet"])
    change = np.gradient(middle, size * log.step) if middle.size > 2 else np.zeros_like(middle)
    running = columns["flow"] > 0.5 * np.nanmax(columns["flow"], initial=0.0)
    sound = np.isfinite(sum(columns.values()) + change) & running & (columns["irradiance"] > 50.0)
    sound &= angle < 75.0
    sound[1:] &= running[:-1]
    if int(sound.sum()) < LEAST_BLOCKS:
        return None
    turned = float(np.ptp(angle[sound])) >= LEAST_TURN

    def regress(moved: dict[str, Array]) -> tuple[Array, Array, Array]:
        sun, lift = moved["irradiance"][sound], 1.0 / np.cos(np.radians(angle[sound])) - 1.0
        terms = [sun, -(moved["inlet"] - moved["ambient"])[sound], -change[sound]]
        terms += [-sun * lift] if turned else []
        design = np.stack(terms, axis=1)
        gain = moved["flow"] * SPECIFIC_HEAT_AIR * (moved["outlet"] - moved["inlet"]) / aperture
        found, *_ = np.linalg.lstsq(design, gain[sound], rcond=None)
        return np.asarray(found), design, np.asarray(gain[sound] - design @ found)

    found, design, left = regress(columns)
    covariance = _long_run(design, left)
    for role, quantity in (*sensors.offset.items(), *sensors.scale.items()):
        if role not in columns or quantity.std_dev <= 0.0:
            continue
        scaled = role in sensors.scale
        column = columns[role]
        step = column * quantity.std_dev if scaled else quantity.std_dev
        moved, *_ = regress({**columns, role: column + step})
        covariance = covariance + np.outer(moved - found, moved - found)
    values = correlated_values(found, covariance)
    b0 = values[3] / values[0] if turned else None
    rms = float(np.sqrt(np.mean(left**2)))
    return QuasiDynamic(values[0], values[1], values[2], b0, int(sound.sum()), rms)


def _long_run(design: Array, left: Array) -> Array:
    """Return the covariance of a regression whose neighbouring residuals go together."""
    count, terms = design.shape
    lags = max(1, int(4.0 * (count / 100.0) ** (2.0 / 9.0)))
    scores = design * left[:, None]
    meat = scores.T @ scores
    for lag in range(1, lags + 1):
        cross = scores[lag:].T @ scores[:-lag]
        meat += (1.0 - lag / (lags + 1.0)) * (cross + cross.T)
    bread = np.linalg.pinv(design.T @ design)
    return np.asarray(bread @ meat @ bread * (count / max(count - terms, 1)))


def time_constant(log: TestLog) -> tuple[float, int] | None:
    """Return the time constant [s] and from how many steps of the sun it is read, None without one.

    Parameters
    ----------
    log : a step is a sun that jumps within two rows and stays, with inlet and flow held

    Source: definition of ASHRAE 93 and ISO 9806 (from memory): the time until the rise has gone 63.2 % of its
    way; the median over the steps.
    """
    sun, rise = log["irradiance"], log["outlet"] - log["inlet"]
    after = round(AFTER / log.step)
    found: list[float] = []
    row = 3
    while row + after <= len(log):
        before, later = slice(row - 3, row - 1), slice(row, row + after)
        jump = float(sun[later].mean() - sun[before].mean())
        held = _held(log, slice(row - 3, row + after)) and float(np.ptp(sun[later])) < 0.2 * abs(jump)
        if abs(jump) >= JUMP and held:
            answer = _response(rise[row - 1 : row + after], log.step)
            found += [answer] if answer is not None else []
            row += after
        else:
            row += 1
    return (float(np.median(found)), len(found)) if found else None


def _held(log: TestLog, rows: slice) -> bool:
    flow, inlet = log["flow"][rows], log["inlet"][rows]
    finite = np.isfinite(flow).all() and np.isfinite(inlet).all() and np.isfinite(log["outlet"][rows]).all()
    return bool(finite and flow.min() > 0.0 and np.ptp(flow) < 0.1 * flow.mean() and np.ptp(inlet) < 2.0)


def _response(rise: Array, step: float) -> float | None:
    start, end = float(rise[0]), float(rise[-max(3, rise.size // 6) :].mean())
    if abs(end - start) < 2.0:
        return None
    way = (rise - start) / (end - start)
    beyond = np.flatnonzero(way >= 1.0 - np.exp(-1.0))
    if not beyond.size or beyond[0] == 0:
        return None
    last = int(beyond[0])
    share = (1.0 - np.exp(-1.0) - way[last - 1]) / (way[last] - way[last - 1])
    # the sun came some time between the last row before it and the first one in it
    return float(max(last - 1.5 + share, 0.0) * step)
