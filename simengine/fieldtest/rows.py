"""The text of a log into titles, times and numbers; the first bad field is named by line and column."""

import math
import re
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from simengine.errors import InputError
from simengine.units import quote

LARGEST = 40_000_000
"""Largest log that is read [bytes]."""
MOST_ROWS = 500_000
MOST_COLUMNS = 300
LONGEST_LINE = 10_000
EMPTY = frozenset({"", "nan", "na", "n/a", "null", "none", "-"})
HUGE = 1.0e9
TIME = "2026-02-14 13:05"
_TIME = re.compile(r"\d{4}-\d\d-\d\d[ T]\d\d:\d\d(:\d\d)?", re.ASCII)


@dataclass(frozen=True)
class Rows:
    """A log as it is written."""

    name: str
    lines: NDArray[np.int64]  # [row] line of the file
    times: NDArray[np.datetime64]
    numbers: dict[str, NDArray[np.float64]]  # by title; NaN where a field is empty


def read_text(path: Path) -> tuple[str, str]:
    """Return name and text of a log.

    Raises
    ------
    InputError
        If it is no file, too large, or no text.
    """
    name = quote(path.name, 120)[1:-1]
    if not path.is_file():
        what = "is a folder" if path.is_dir() else "does not exist"
        raise InputError(f"{name}: {what}; accepted: a comma-separated log with one line of titles")
    with path.open("rb") as stream:
        raw = stream.read(LARGEST + 1)
    if len(raw) > LARGEST:
        raise InputError(f"{name}: is larger than {LARGEST // 1_000_000} MB; accepted: a shorter log")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = error.start - raw.rfind(b"\n", 0, error.start)
        raise InputError(
            f"{name}:{line}:{column}: this byte is not UTF-8 text; accepted: a log saved as UTF-8"
        ) from None
    return name, text.replace("\r\n", "\n").replace("\r", "\n")


def read_rows(name: str, text: str, time: str, wanted: tuple[str, ...]) -> Rows:
    """Return times and wanted columns of a log.

    Parameters
    ----------
    name, text : of the file
    time : title of the column of times
    wanted : titles of the columns of numbers

    Raises
    ------
    InputError
        At the first field that cannot be read: file, line, column, title, what is wrong, what is accepted.
    """
    lines = text.split("\n")
    head = next((n for n, line in enumerate(lines) if line.strip() and not line.startswith("#")), None)
    if head is None:
        raise InputError(f"{name}: is empty; accepted: a comma-separated log with one line of titles")
    sign = next((s for s in ("\t", ";") if s in lines[head]), ",")
    titles = [title.strip().strip('"').strip() for title in lines[head].split(sign)]
    if len(titles) > MOST_COLUMNS:
        raise InputError(f"{name}:{head + 1}:1: {len(titles)} columns; accepted: at most {MOST_COLUMNS}")
    missing = [title for title in (time, *wanted) if title not in titles]
    if missing:
        there = ", ".join(quote(title, 30) for title in titles[:20])
        raise InputError(
            *(f"{name}:{head + 1}:1: there is no column {quote(m, 40)}; accepted: {there}" for m in missing)
        )
    at, wanted_at = titles.index(time), [titles.index(title) for title in wanted]
    rows = [
        (n, line) for n, line in enumerate(lines[head + 1 :], head + 2) if line.strip() and line[0] != "#"
    ]
    if len(rows) > MOST_ROWS:
        raise InputError(f"{name}: {len(rows)} rows; accepted: at most {MOST_ROWS}")
    if len(rows) < 2:
        raise InputError(f"{name}:{head + 1}:1: {len(rows)} rows of readings; accepted: two or more")
    stamps, numbers = [], np.empty((len(rows), len(wanted)))
    for row, (line, content) in enumerate(rows):
        fields = _fields(name, line, content, sign, len(titles))
        stamps.append(_time(name, line, fields, at, sign))
        for place, column in enumerate(wanted_at):
            numbers[row, place] = _number(name, line, fields, column, (sign, titles[column]))
    return Rows(
        name,
        np.array([line for line, _ in rows], dtype=np.int64),
        np.array(stamps, dtype="datetime64[s]"),
        {title: numbers[:, place] for place, title in enumerate(wanted)},
    )


def _fields(name: str, line: int, content: str, sign: str, count: int) -> list[str]:
    if len(content) > LONGEST_LINE:
        raise InputError(f"{name}:{line}:1: a line of {len(content)} characters; accepted: {LONGEST_LINE}")
    fields = content.split(sign)
    if len(fields) != count:
        raise InputError(
            f"{name}:{line}:{len(content) + 1}: {len(fields)} fields where the titles have {count}; "
            "accepted: one for each title"
        )
    return fields


def _place(fields: list[str], index: int, sign: str) -> int:
    """Return where a field begins on its line, counted from 1."""
    return sum(len(text) + len(sign) for text in fields[:index]) + 1


def _time(name: str, line: int, fields: list[str], index: int, sign: str) -> np.datetime64:
    text = fields[index].strip().strip('"')
    try:
        if not _TIME.fullmatch(text):
            raise ValueError
        return np.datetime64(text.replace(" ", "T"), "s")
    except ValueError:
        raise InputError(
            f"{name}:{line}:{_place(fields, index, sign)}: time: {quote(text, 30)} is no time; accepted: "
            f"year-month-day hour:minute, e.g. {TIME}"
        ) from None


def _number(name: str, line: int, fields: list[str], index: int, how: tuple[str, str]) -> float:
    sign, title = how
    text = fields[index].strip().strip('"').strip()
    if text.casefold() in EMPTY:
        return math.nan
    try:
        if "_" in text:
            raise ValueError
        value = float(text.replace(",", ".") if sign != "," else text)
    except ValueError:
        value = math.inf
    if not abs(value) < HUGE:
        raise InputError(
            f"{name}:{line}:{_place(fields, index, sign)}: {quote(title, 40)[1:-1]}: {quote(text, 30)} is no "
            "number; accepted: a plain number, or nothing where there is no reading"
        )
    return value
