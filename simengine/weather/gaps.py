"""Missing values: short gaps are filled and counted, long ones end the reading and are named by date."""

from typing import Final

import numpy as np
import pandas as pd

from simengine.errors import WeatherError
from simengine.weather.geometry import SunPath
from simengine.weather.record import Floats, Integers
from simengine.weather.series import OPTIONAL_COLUMNS, TYPICAL_YEAR, Finding

LONGEST_GAP: Final = 6.0
"""Longest gap that is filled [h]."""

DEFAULT_ALBEDO: Final = 0.2
"""Ground reflectance where the file has none [-] (common practice)."""


def runs(missing: Floats | np.ndarray) -> tuple[Integers, Integers]:
    """Return first and one-past-last row of each run of True.

    Examples
    --------
    >>> [ends.tolist() for ends in runs(np.array([False, True, True, False, True]))]
    [[1, 4], [3, 5]]
    """
    edges = np.diff(np.concatenate(([0], missing.astype(np.int8), [0])))
    return np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)


def fill(
    name: str, columns: dict[str, Floats], index: pd.DatetimeIndex, step: int, sun: SunPath
) -> list[Finding]:
    """Fill the gaps of every column in place, up to six hours long.

    Radiation is carried over by its share of the extraterrestrial, everything else by a straight line.

    Parameters
    ----------
    name : of the file, for messages
    columns : by canonical name and unit, NaN in the gaps; changed in place
    index : starts of the intervals
    step : length of an interval [s]
    sun : its path over them

    Raises
    ------
    WeatherError
        One line for each column with a longer gap, with its dates.
    """
    findings: list[Finding] = []
    problems: list[str] = []
    cosine, share = sun.sunlit()
    scale = {
        "ghi": sun.normal * cosine * share,
        "dni": sun.normal * share,
        "dhi": sun.normal * cosine * share,
    }
    for column, values in columns.items():
        missing = np.isnan(values)
        count = int(np.count_nonzero(missing))
        if not count:
            continue
        first, last = runs(missing)
        length = (last - first) * step / 3600.0
        if column in OPTIONAL_COLUMNS and (count == values.size or length.max() > LONGEST_GAP):
            columns[column] = np.full(values.size, np.nan)
            if count < values.size:
                findings.append(
                    Finding("warning", f"{column}: {count} missing values; the column is left out")
                )
            continue
        if length.max() > LONGEST_GAP:
            problems.append(_too_long(name, column, (first, last, length), index))
            continue
        columns[column] = _filled(values, missing, scale.get(column))
        findings.append(_counted(column, count, first.size, _date(index[first[0]])))
    if problems:
        raise WeatherError(*problems)
    return findings


def _counted(column: str, count: int, gaps: int, when: str) -> Finding:
    values = "value" if count == 1 else "values"
    return Finding("warning", f"{column}: {count} missing {values} in {gaps} gap(s) filled", f"from {when}")


def _filled(values: Floats, missing: np.ndarray, scale: Floats | None) -> Floats:
    rows = np.arange(values.size)
    if scale is None:
        known = ~missing
        return np.asarray(np.interp(rows, rows[known], values[known], period=values.size))
    lit = scale > 20.0
    known = ~missing & lit
    if not np.any(known):
        return np.where(missing, 0.0, values)
    clearness = values[known] / scale[known]
    return np.where(missing, np.interp(rows, rows[known], clearness, period=values.size) * scale, values)


def _too_long(
    name: str, column: str, gaps: tuple[Integers, Integers, Floats], index: pd.DatetimeIndex
) -> str:
    first, last, length = gaps
    long = np.flatnonzero(length > LONGEST_GAP)
    spans = [
        f"{_date(index[first[gap]])} to {_date(index[last[gap] - 1])} ({length[gap]:g} h)" for gap in long[:3]
    ]
    more = f" and {long.size - 3} more" if long.size > 3 else ""
    return (
        f"{name}: {column}: missing from {', '.join(spans)}{more}; gaps up to {LONGEST_GAP:g} h are accepted"
    )


def _date(stamp: pd.Timestamp) -> str:
    return stamp.strftime("%d %b %H:%M") if stamp.year == TYPICAL_YEAR else stamp.strftime("%Y-%m-%d %H:%M")
