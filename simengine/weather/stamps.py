"""Dates and times as files write them, into numbers and times; the first bad one is named by its line."""

import numpy as np
import pandas as pd

from simengine.errors import WeatherError
from simengine.weather.content import quoted
from simengine.weather.record import Bools, Integers, Times


def parts(name: str, column: str, texts: pd.Series, separator: str, first_line: int) -> list[Integers]:
    """Return the whole numbers that a date or time of each row is made of ("07/31/1999", "24:00").

    Parameters
    ----------
    name : of the file, for messages
    column : of the texts, for messages
    texts : one a row
    separator : between the numbers
    first_line : of the rows in the file

    Raises
    ------
    WeatherError
        At the first row that isn't two or three numbers.
    """
    codes, unique = pd.factorize(texts.astype(str))
    count = 3 if column == "date" else 2
    taken = np.empty((len(unique), count), dtype=np.int64)
    for number, text in enumerate(unique):
        pieces = str(text).strip().split(separator)
        if len(pieces) != count or not all(
            piece.isascii() and piece.isdigit() and len(piece) < 5 for piece in pieces
        ):
            line = first_line + int(np.flatnonzero(codes == number)[0])
            raise WeatherError(
                f"{name}:{line}: {column}: {quoted(str(text), 30)} can't be read as a {column}"
            )
        taken[number] = [int(piece) for piece in pieces]
    return list(taken[codes].T)


def sound_dates(name: str, sound: Bools, first_line: int) -> None:
    """Raise WeatherError at the first row whose date doesn't exist.

    Parameters
    ----------
    name : of the file, for messages
    sound : whether the date of each row exists
    first_line : of the rows in the file
    """
    wrong = np.flatnonzero(~sound)
    if wrong.size:
        raise WeatherError(
            f"{name}:{first_line + int(wrong[0])}: not a date of the calendar; a real date is accepted"
        )


def times(name: str, texts: pd.Series, first_line: int) -> Times:
    """Return times written as 2001-01-31 13:00 (or with a T, or with seconds).

    Parameters
    ----------
    name : of the file, for messages
    texts : one a row
    first_line : of the rows in the file

    Raises
    ------
    WeatherError
        At the first that can't be read.
    """
    try:
        return np.array([_plain_time(text) for text in texts.tolist()], dtype="datetime64[s]")
    except (ValueError, TypeError, AttributeError):
        row = next(number for number, text in enumerate(texts) if not _is_time(text))
        raise WeatherError(
            f"{name}:{first_line + row}: time: {quoted(str(texts.iloc[row]), 30)};"
            " a time as 2001-01-31 13:00 is accepted"
        ) from None


def _plain_time(text: str) -> str:
    if not (16 <= len(text) <= 19 and text[0].isdigit() and text[10] in " T" and text[13] == ":"):
        raise ValueError(text)
    return text


def _is_time(text: str) -> bool:
    try:
        np.datetime64(_plain_time(text), "s")
    except (ValueError, TypeError, AttributeError):
        return False
    return True
