"""Delimited lines into numbers: every row of one width, every number a number, errors named by line."""

import csv
import io
from collections.abc import Sequence
from typing import Final

import numpy as np
import pandas as pd

from simengine.errors import WeatherError
from simengine.weather.content import quoted
from simengine.weather.record import Floats

MAX_ROWS: Final = 4_000_000
"""More than any file has (a hundred years of 15-minute rows)."""

HUGE: Final = 1e15
"""Beyond it a number is taken for damage."""

EMPTY: Final = frozenset({"", "nan", "na", "null", "none"})
"""Texts that mean a missing number, in small letters."""


def checked_rows(name: str, lines: Sequence[str], first_line: int, width: int = 0) -> int:
    """Return the common number of commas of some lines.

    Parameters
    ----------
    name : str
        File name, for the message.
    lines : Sequence[str]
        The data rows, nothing else.
    first_line : int
        Line number of the first [-].
    width : int
        Fields that a row must have at least [-].

    Raises
    ------
    WeatherError
        When there are none, or a row has another number of fields than the first.
    """
    if not lines:
        raise WeatherError(f"{name}: no data rows; at least one whole year is accepted")
    if len(lines) > MAX_ROWS:
        raise WeatherError(f"{name}: {len(lines)} rows; at most {MAX_ROWS} are accepted")
    commas = lines[0].count(",")
    if commas + 1 < width:
        raise WeatherError(
            f"{name}:{first_line}: {commas + 1} fields separated by commas, {width} or more are accepted:"
            f" {quoted(lines[0])}"
        )
    for number, line in enumerate(lines):
        if line.count(",") != commas:
            raise WeatherError(
                f"{name}:{first_line + number}: {line.count(',') + 1} fields where the rows before have"
                f" {commas + 1} (cut off or damaged): {quoted(line)}"
            )
    return commas


def fields(name: str, lines: Sequence[str], first_line: int, wanted: Sequence[int]) -> list[pd.Series]:
    """Return some fields of rows of equal width: numbers where all of a field are numbers, else texts.

    Parameters
    ----------
    name : of the file, for messages
    lines : the rows
    first_line : of the rows in the file
    wanted : places of the fields
    """
    if any('"' in line for line in lines[:1]):
        lines = [line.replace('"', "") for line in lines]
    try:
        table = pd.read_csv(
            io.StringIO("\n".join(lines)),
            header=None,
            usecols=sorted(set(wanted)),
            quoting=3,
            skip_blank_lines=False,
            skipinitialspace=True,
            na_values=["NULL", "null", "None", "none"],
            low_memory=False,
        )
    except (ValueError, OverflowError):
        raise WeatherError(
            f"{name}:{first_line}: rows that can't be taken apart; comma-separated rows are accepted"
        ) from None
    return [table[column] for column in wanted]


def numbers(name: str, column: str, texts: pd.Series, first_line: int) -> Floats:
    """Return one field of every row as numbers, NaN where it is empty.

    Parameters
    ----------
    name : of the file, for messages
    column : of the field, for messages
    texts : one a row
    first_line : of the rows in the file

    Raises
    ------
    WeatherError
        At the first field that is no number, or no finite one.
    """
    values = texts
    if values.dtype.kind not in "fiu":
        clean = texts.astype("string").str.strip()
        empty = clean.isna() | clean.str.lower().isin(list(EMPTY))
        values = pd.to_numeric(clean.where(~empty, None), errors="coerce")
        wrong = np.flatnonzero(np.asarray(values.isna() & ~empty, dtype=bool))
        if wrong.size:
            raise _no_number(name, column, first_line + int(wrong[0]), str(texts.iloc[int(wrong[0])]))
        values = values.astype("Float64")
    found = values.to_numpy(dtype=np.float64, na_value=np.nan)
    endless = np.flatnonzero(np.abs(found) > HUGE)
    if endless.size:
        raise _no_number(name, column, first_line + int(endless[0]), f"{found[endless[0]]:g}")
    return np.array(found)


def _no_number(name: str, column: str, line: int, text: str) -> WeatherError:
    return WeatherError(
        f"{name}:{line}: {column}: {quoted(text, 30)} is not a number; a plain number is accepted"
    )


def whole_numbers(name: str, column: str, texts: pd.Series, first_line: int) -> np.ndarray:
    """Return one field of every row as whole numbers (written 1 or 1.0).

    Parameters
    ----------
    name : of the file, for messages
    column : of the field, for messages
    texts : one a row
    first_line : of the rows in the file

    Raises
    ------
    WeatherError
        At the first field that is empty or no whole number of moderate size.
    """
    values = numbers(name, column, texts, first_line)
    wrong = np.flatnonzero(~(np.isfinite(values) & (np.abs(values) < 1e9) & (values == np.floor(values))))
    if wrong.size:
        row = int(wrong[0])
        raise WeatherError(
            f"{name}:{first_line + row}: {column}: {quoted(str(texts.iloc[row]), 30)};"
            " a whole number is accepted"
        )
    return values.astype(np.int64)


def without(values: Floats, *codes: float) -> Floats:
    """Return the values with each missing code as NaN, however it was written (9999, 9999.0) [any unit]."""
    return np.where(np.isin(values, codes), np.nan, values)


def header_number(name: str, line: int, key: str, text: str) -> float:
    """Return a number of a header.

    Parameters
    ----------
    name : of the file, for messages
    line : of the header in the file
    key : what the number is
    text : as it is written

    Raises
    ------
    WeatherError
        When it isn't a finite number.
    """
    try:
        value = float(text)
    except ValueError:
        value = float("nan")
    if not np.isfinite(value):
        raise WeatherError(
            f"{name}:{line}: {key}: {quoted(text, 30)} is not a number; a plain number is accepted"
        )
    return value


def header_parts(name: str, line: int, text: str) -> list[str]:
    """Return the fields of a header line, which may hold quoted commas.

    Parameters
    ----------
    name : of the file, for messages
    line : of the header in the file
    text : the line

    Raises
    ------
    WeatherError
        When it can't be taken apart.
    """
    try:
        return [part.strip() for part in next(csv.reader([text]), [])]
    except csv.Error:
        raise WeatherError(f"{name}:{line}: a header line that can't be taken apart") from None
