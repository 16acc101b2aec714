"""A file's labels onto whole calendar years: every interval once, in order, none missing."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import pandas as pd

from simengine.errors import WeatherError
from simengine.weather.record import Bools, Integers, Record, Times
from simengine.weather.series import TYPICAL_YEAR, Finding

DAY: Final = 86400


@dataclass(frozen=True)
class Placed:
    """Where each row goes: the final index, the file row of each interval, the clock, what was noticed."""

    index: pd.DatetimeIndex
    rows: Integers
    utc_offset: float
    findings: tuple[Finding, ...]


def interval_starts(year: Integers, month: Integers, day: Integers, second: Integers) -> tuple[Times, Bools]:
    """Return the times, and which of them are dates that exist.

    Parameters
    ----------
    year, month, day : Integers
        Calendar numbers [row].
    second : Integers
        Since midnight [s]; 86400 is the midnight that ends the day, negative is the day before.

    Examples
    --------
    >>> times, sound = interval_starts(*(np.array([n]) for n in (2001, 2, 29, 0)))
    >>> bool(sound[0])
    False
    """
    sound = (year >= 1600) & (year <= 2400) & (month >= 1) & (month <= 12) & (day >= 1) & (day <= 31)
    sound &= (second >= -DAY) & (second <= 2 * DAY)
    months = ((np.where(sound, year, 2000) - 1970) * 12 + np.where(sound, month, 1) - 1).astype(
        "datetime64[M]"
    )
    days = months.astype("datetime64[D]") + (np.where(sound, day, 1) - 1).astype("timedelta64[D]")
    sound &= days.astype("datetime64[M]") == months
    return days.astype("datetime64[s]") + np.where(sound, second, 0).astype("timedelta64[s]"), sound


def centred_clock(labels: Times, step: int, offset: float, utc_offset: float) -> tuple[Times, float]:
    """Return interval starts on whole steps for labels that are instants, and the clock on which they are so.

    The interval is centred on the instant. Where that puts its edges off the whole step, the clock is moved
    by less than a step instead: the sun stands where the file's radiation saw it, and the year still starts
    at midnight.

    Parameters
    ----------
    labels : Times
        The file's instants [row].
    step : int
        [s].
    offset : float
        How much later than its label the radiation was seen [h].
    utc_offset : float
        The labels' clock ahead of UTC [h].
    """
    since_midnight = int((labels[0] - labels[0].astype("datetime64[D]")).astype(np.int64))
    start = since_midnight + 3600.0 * offset - step / 2.0
    nominal = step * (since_midnight // step)
    move = np.timedelta64(nominal - since_midnight, "s")
    return labels + move, round(utc_offset + (nominal - start) / 3600.0, 6)


def turn_to_site(longitude: float, utc_offset: float) -> int:
    """Return the whole hours [h] that bring a clock nearest to the sun's mean time at a longitude [deg].

    Examples
    --------
    >>> turn_to_site(139.7, 0.0)
    9
    """
    return round((longitude / 15.0 - utc_offset + 12.0) % 24.0 - 12.0)


def place(record: Record) -> Placed:
    """Put a record's rows on whole years; turn a UTC year to the site's own day.

    Raises
    ------
    WeatherError
        On a repeated, missing or misplaced interval, named by its date, and on a year that isn't whole.
    """
    starts, kept, findings = record.starts, np.arange(record.starts.size), list(record.findings)
    typical, reason = _is_typical(record)
    if typical:
        starts, kept, found = _on_one_year(starts, record.typical, reason)
        findings += found
    first = starts[0].astype("datetime64[Y]")
    expected = _whole_years(record, starts, first)
    _same_times(record, starts, kept, expected)
    rows, utc_offset = kept, record.utc_offset
    if record.turn:
        rows = np.roll(kept, record.turn * 3600 // record.step)
        utc_offset += record.turn
        findings.append(_turned(record.turn))
    index = pd.date_range(
        pd.Timestamp(str(expected[0])), periods=expected.size, freq=pd.Timedelta(seconds=record.step)
    )
    return Placed(index, rows, utc_offset, tuple(findings))


def _turned(turn: int) -> Finding:
    side = "last" if turn > 0 else "first"
    return Finding(
        "info",
        f"the file's year runs in UTC; it was turned by {turn:+d} h to the site's own day,"
        f" so its {side} {abs(turn)} h stand at the other end of the year",
    )


def _is_typical(record: Record) -> tuple[bool, str]:
    if record.typical:
        return True, ""
    years = record.starts.astype("datetime64[Y]").astype(np.int64)
    jumps = np.diff(years)
    if np.any((jumps != 0) & (jumps != 1)):
        return True, "months of different years"
    months = record.starts.astype("datetime64[M]").astype(np.int64)
    if np.any(np.diff(months) > 1):
        return True, "months of different years"
    days = record.starts.astype("datetime64[D]")
    year = int(years[0]) + 1970
    leap_day = np.datetime64(f"{year}-02-29") if _is_leap(year) else None
    if leap_day is not None and years[0] == years[-1] and not np.any(days == leap_day):
        return True, f"{year} without its leap day"
    return False, ""


def _is_leap(year: int) -> bool:
    return year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)


def _on_one_year(starts: Times, declared: bool, reason: str) -> tuple[Times, Integers, list[Finding]]:
    months = starts.astype("datetime64[M]")
    number = months.astype(np.int64) % 12
    within = starts - months.astype("datetime64[s]")
    leap = (number == 1) & (within >= np.timedelta64(28 * DAY, "s"))
    kept = np.flatnonzero(~leap)
    target = (number[kept] + (TYPICAL_YEAR - 1970) * 12).astype("datetime64[M]").astype("datetime64[s]")
    findings = []
    if not declared:
        findings.append(Finding("info", f"{reason}: read as a typical year, put on {TYPICAL_YEAR}"))
    if kept.size < starts.size:
        findings.append(Finding("warning", "29 February left out: a typical year has 365 days"))
    return target + within[kept], kept, findings


def _whole_years(record: Record, starts: Times, first: np.datetime64) -> Times:
    step = np.timedelta64(record.step, "s")
    begin = first.astype("datetime64[s]")
    if starts[-1] < starts[0]:
        raise WeatherError(f"{record.name}: the rows run backwards; rows in order of time are accepted")
    end = (starts.max().astype("datetime64[Y]") + 1).astype("datetime64[s]")
    count = int((end - begin) / step)
    if count > 4 * starts.size + 10:
        raise WeatherError(
            f"{record.name}: {starts.size} rows between {starts.min()} and {starts.max()}, {count} would be"
            f" whole years of {record.step} s steps; whole years are accepted (the file may be cut off)"
        )
    expected: Times = begin + np.arange(count) * step
    return expected


def _same_times(record: Record, starts: Times, kept: Integers, expected: Times) -> None:
    size = min(starts.size, expected.size)
    wrong = np.flatnonzero(starts[:size] != expected[:size])
    if wrong.size == 0 and starts.size == expected.size:
        return
    row = int(wrong[0]) if wrong.size else size
    where = record.place(int(kept[min(row, kept.size - 1)]))
    count = f"{starts.size} rows where {expected.size} make whole years of {record.step} s steps"
    if row >= starts.size:
        what = f"the rows end before {_date(expected[row])}; {count} (the file may be cut off)"
    elif row >= expected.size or (row > 0 and starts[row] == starts[row - 1]):
        what = f"the interval from {_date(starts[row])} is there twice; {count}"
    elif starts[row] > expected[row]:
        what = f"rows are missing from {_date(expected[row])} to {_date(starts[row])}; {count}"
    else:
        what = (
            f"the interval from {_date(starts[row])} stands out of order; rows in order of time are accepted"
        )
    raise WeatherError(f"{where}: {what}")


def _date(time: np.datetime64) -> str:
    stamp = pd.Timestamp(time)
    return stamp.strftime("%d %b %H:%M") if stamp.year == TYPICAL_YEAR else stamp.strftime("%Y-%m-%d %H:%M")
