"""Reader of TMY2 files: fixed columns, hour-ending labels, tenths of degrees and of metres a second."""

import re
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simengine.errors import WeatherError
from simengine.weather import stamps, table
from simengine.weather.calendar import interval_starts
from simengine.weather.content import Content, quoted
from simengine.weather.record import Floats, Record

COLUMNS: Final = {
    "ghi": (18, 21, 1.0, 9999.0),
    "dni": (24, 27, 1.0, 9999.0),
    "dhi": (30, 33, 1.0, 9999.0),
    "temp_air": (68, 71, 0.1, 9999.0),
    "temp_dew": (74, 77, 0.1, 9999.0),
    "relative_humidity": (80, 82, 1.0, 999.0),
    "pressure": (85, 88, 100.0, 9999.0),
    "wind_speed": (96, 98, 0.1, 999.0),
    "snow_depth": (134, 136, 0.01, 999.0),
}
"""Canonical name -> first and last column counted from 1, factor, missing code.

Marion and Urban (1995), User's Manual for TMY2s, table 3-2 (from memory; checked against pvlib's reader).
"""

HEADER: Final = re.compile(
    r"\s?(\d{5})\s+(.{1,30}?)\s+(\S{2,3})\s+(-?\d{1,2})\s+([NS])\s*(\d{1,2})\s+(\d{1,2})\s+([EW])\s*(\d{1,3})\s+(\d{1,2})\s+(-?\d+)\s*"
)
ROW: Final = re.compile(r"\s\d{8}\d{4}\d{4}\d{4}[A-Z?]\S")
FIRST_LINE: Final = 2
CENTURY: Final = 50
"""Two-digit years from here on are of the 1900s."""


def recognises_tmy2(content: Content) -> bool:
    """Return whether the first line is a TMY2 station line and the second a fixed-column row."""
    lines = content.raw[:400].decode("latin-1").splitlines()
    return len(lines) > 1 and bool(HEADER.fullmatch(lines[0])) and bool(ROW.match(lines[1]))


def read_tmy2(content: Content) -> Record:
    """Read a TMY2 file.

    Raises
    ------
    WeatherError
        When a line can't be read; it is named.
    """
    name = content.name
    lines = content.text().rstrip("\n").split("\n")
    header = HEADER.fullmatch(lines[0])
    if header is None:
        raise WeatherError(
            f"{name}:1: {quoted(lines[0])}; number, city, state, zone, latitude, longitude are accepted"
        )
    letters = _letters(name, lines[1:])
    columns = {}
    for column, (first, last, factor, code) in COLUMNS.items():
        values = _numbers(name, column, letters[:, first - 1 : last])
        columns[column] = table.without(values, code) * factor
    date = [_numbers(name, "date", letters[:, at : at + 2]).astype(np.int64) for at in (1, 3, 5, 7)]
    year = date[0] + np.where(date[0] >= CENTURY, 1900, 2000)
    starts, sound = interval_starts(year, date[1], date[2], (date[3] - 1) * 3600)
    stamps.sound_dates(name, sound & (date[3] >= 1) & (date[3] <= 24), FIRST_LINE)
    return Record(
        name=name,
        station=f"{header[2].strip()}, {header[3]}",
        format="TMY2",
        latitude=(int(header[6]) + int(header[7]) / 60.0) * (1 if header[5] == "N" else -1),
        longitude=(int(header[9]) + int(header[10]) / 60.0) * (1 if header[8] == "E" else -1),
        elevation=float(header[11]),
        utc_offset=float(header[4]),
        wind_height=10.0,
        columns=columns,
        starts=starts,
        step=3600,
        first_line=FIRST_LINE,
        typical=True,
    )


def _letters(name: str, rows: list[str]) -> NDArray[np.bytes_]:
    """Return the rows as a table of single letters; all must be as long as the first."""
    if not rows or len(rows) > table.MAX_ROWS:
        raise WeatherError(f"{name}: {len(rows)} rows; 8760 are accepted")
    width = len(rows[0])
    odd = next((number for number, row in enumerate(rows) if len(row) != width), None)
    if odd is not None or width < COLUMNS["snow_depth"][1]:
        line = FIRST_LINE + (odd or 0)
        raise WeatherError(
            f"{name}:{line}: {len(rows[odd or 0])} letters where the first row has {width}"
            " (cut off or damaged); rows of equal length, 136 or more, are accepted"
        )
    raw = "".join(rows).encode("latin-1", "replace")
    return np.frombuffer(raw, dtype="S1").reshape(len(rows), width)


def _numbers(name: str, column: str, letters: NDArray[np.bytes_]) -> Floats:
    texts = np.ascontiguousarray(letters).view(f"S{letters.shape[1]}").ravel()
    try:
        return texts.astype(np.float64)
    except ValueError:
        row = next(number for number, text in enumerate(texts) if not re.fullmatch(rb"\s*-?\d+", text))
        text = texts[row].decode("latin-1")
        raise WeatherError(
            f"{name}:{FIRST_LINE + row}: {column}: {quoted(text)} is not a number; digits are accepted"
        ) from None
