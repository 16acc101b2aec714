"""Whether the sun stands where the labels of a file say: beam plus diffuse against global, month by month."""

from dataclasses import dataclass
from typing import Any, Final

import numpy as np
import pandas as pd

from simengine.weather.geometry import SunPath
from simengine.weather.record import Floats
from simengine.weather.series import Finding

SHIFTS: Final = np.arange(-15, 16) / 10.0
"""Shifts of the sun's clock that are tried [h]."""

SHIFT_LIMIT: Final = 0.25
"""A month's best shift beyond it is named [h]."""

RMSE_LIMIT: Final = 15.0
"""A closure worse than it is named [W/m2]."""

GAIN_LIMIT: Final = 2.0
"""A shift means something only if it betters the month's closure by so much [W/m2]."""


OFF_LABEL: Final = "the sun is off the file's time label"


@dataclass(frozen=True)
class Closure:
    """How well beam and diffuse add up to the global.

    Attributes
    ----------
    rmse : float
        At the declared label, over the hours with sun [W/m2].
    best_rmse : float
        At the best shift [W/m2].
    shift : float
        The best shift of the whole series [h].
    months : Floats
        Best shift of each calendar month [h]; NaN where it can't be told.
    month_rmse : Floats
        At the declared label, each calendar month [W/m2].
    """

    rmse: float
    best_rmse: float
    shift: float
    months: Floats
    month_rmse: Floats


def scan(columns: dict[str, Floats], index: pd.DatetimeIndex, sun: SunPath) -> Closure:
    """Return the closure over shifts of +-1.5 h, for the whole and for each calendar month.

    Parameters
    ----------
    columns : ghi, dni and dhi [W/m2], arrays [interval]
    index : starts of the intervals
    sun : its path over them
    """
    ghi, dni, dhi = (columns[name] for name in ("ghi", "dni", "dhi"))
    rows = np.flatnonzero((ghi > 0.0) | (dni > 0.0))
    if rows.size == 0:
        return Closure(0.0, 0.0, 0.0, np.full(12, np.nan), np.zeros(12))
    lit = sun.part(rows)
    sky = (ghi - dhi)[rows]
    beam = dni[rows]
    month = index.month.to_numpy()[rows] - 1
    squares = np.empty((SHIFTS.size, 12))
    for number, shift in enumerate(SHIFTS):
        residual = beam * lit.sunlit(float(shift))[0] - sky
        squares[number] = np.bincount(month, residual**2, minlength=12)
    hours = np.bincount(month, minlength=12)
    middle = SHIFTS.size // 2
    with np.errstate(invalid="ignore", divide="ignore"):
        monthly = np.sqrt(squares / hours)
    whole = np.sqrt(squares.sum(axis=1) / rows.size)
    best, best_rmse = _lowest(whole)
    months = np.array([_month_shift(monthly[:, number]) for number in range(12)])
    return Closure(float(whole[middle]), best_rmse, best, months, np.nan_to_num(monthly[middle]))


def _month_shift(rmse: Floats) -> float:
    if not np.all(np.isfinite(rmse)) or rmse.max() - rmse.min() < GAIN_LIMIT:
        return float("nan")
    return _lowest(rmse)[0]


def _lowest(rmse: Floats) -> tuple[float, float]:
    """Return the shift of the least error, by a parabola through the lowest three, and the error there."""
    low = int(np.argmin(rmse))
    if low in (0, rmse.size - 1):
        return float(SHIFTS[low]), float(rmse[low])
    left, centre, right = rmse[low - 1 : low + 2] ** 2
    bend = left - 2.0 * centre + right
    part = 0.5 * (left - right) / bend if bend > 0.0 else 0.0
    least = max(centre - 0.25 * (left - right) * part, 0.0)
    return float(SHIFTS[low] + part * (SHIFTS[1] - SHIFTS[0])), float(np.sqrt(least))


def judge(closure: Closure) -> list[Finding]:
    """Return warnings for months that are off their label, and for a closure that is poor."""
    findings = []
    with np.errstate(invalid="ignore"):
        off = np.flatnonzero(np.abs(closure.months) > SHIFT_LIMIT)
        poor = np.flatnonzero(closure.month_rmse > RMSE_LIMIT)
    if off.size:
        shifts = ", ".join(f"{_name(month)} {closure.months[month]:+.2f} h" for month in off)
        findings.append(Finding("warning", f"{OFF_LABEL}; east and west walls go wrong most", shifts))
    if closure.rmse > RMSE_LIMIT or poor.size:
        worst = ", ".join(f"{_name(month)} {closure.month_rmse[month]:.0f}" for month in poor)
        where = f"in {poor.size} of 12 months" if poor.size else "over the year"
        told = f"beam and diffuse miss the global by more than {RMSE_LIMIT:g} W/m2 {where}"
        told += f"; {closure.rmse:.1f} W/m2 over the whole file"
        findings.append(Finding("warning", told, worst + (" W/m2" if worst else "")))
    return findings


def _name(month: np.integer[Any]) -> str:
    return pd.Timestamp(2001, int(month) + 1, 1).strftime("%b")
