"""Reader of TMY3 files: hour-ending labels, local standard time, pressure in mbar, -9900 for missing."""

import csv
from typing import Final

import numpy as np

from simengine.errors import WeatherError
from simengine.weather import table
from simengine.weather.calendar import interval_starts
from simengine.weather.content import Content, quoted
from simengine.weather.record import Integers, Record

COLUMNS: Final = {
    "GHI (W/m^2)": ("ghi", 1.0),
    "DNI (W/m^2)": ("dni", 1.0),
    "DHI (W/m^2)": ("dhi", 1.0),
    "Dry-bulb (C)": ("temp_air", 1.0),
    "Dew-point (C)": ("temp_dew", 1.0),
    "RHum (%)": ("relative_humidity", 1.0),
    "Pressure (mbar)": ("pressure", 100.0),
    "Wspd (m/s)": ("wind_speed", 1.0),
    "Alb (unitless)": ("albedo", 1.0),
}
"""File's column -> canonical name and factor (Wilcox and Marion 2008, Users Manual for TMY3 Data Sets)."""

MISSING: Final = (-9900.0, -9900.0 * 100.0)
FIRST_LINE: Final = 3


def recognises_tmy3(content: Content) -> bool:
    """Return whether the second line is the TMY3 column line."""
    return b"Date (MM/DD/YYYY)" in content.raw[:2000] and b"Time (HH:MM)" in content.raw[:2000]


def read_tmy3(content: Content) -> Record:
    """Read a TMY3 file.

    Raises
    ------
    WeatherError
        When a line can't be read; it is named.
    """
    lines = content.text().rstrip("\n").split("\n")
    site = next(csv.reader([lines[0]]))
    if len(site) < 7:
        raise WeatherError(
            f"{content.name}:1: {quoted(lines[0])};"
            " id, station, state, time zone, latitude, longitude, elevation are accepted"
        )
    zone, latitude, longitude, elevation = (
        table.header_number(content.name, 1, key, text)
        for key, text in zip(("time zone", "latitude", "longitude", "elevation"), site[-4:], strict=True)
    )
    header = [title.strip() for title in next(csv.reader([lines[1]]))] if len(lines) > 1 else []
    wanted = {title: header.index(title) for title in COLUMNS if title in header}
    if header[:2] != ["Date (MM/DD/YYYY)", "Time (HH:MM)"]:
        raise WeatherError(f"{content.name}:2: the date and time columns must come first")
    rows = lines[2:]
    table.checked_rows(content.name, rows, FIRST_LINE, len(header))
    date, time, *values = table.fields(content.name, rows, FIRST_LINE, [0, 1, *wanted.values()])
    columns = {}
    for title, texts in zip(wanted, values, strict=True):
        name, factor = COLUMNS[title]
        numbers = table.numbers(content.name, name, texts, FIRST_LINE)
        columns[name] = table.without(numbers * factor, *MISSING)
    month, day, year = table.parts(content.name, "date", date, "/", FIRST_LINE)
    hour, minute = table.parts(content.name, "time", time, ":", FIRST_LINE)
    return Record(
        name=content.name,
        station=", ".join(part.strip() for part in site[1:-4]),
        format="TMY3",
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        utc_offset=zone,
        wind_height=10.0,
        columns=columns,
        starts=_starts(content.name, (year, month, day), hour * 3600 + minute * 60),
        step=3600,
        first_line=FIRST_LINE,
        typical=True,
    )


def _starts(name: str, date: tuple[Integers, Integers, Integers], end: Integers) -> np.ndarray:
    starts, sound = interval_starts(*date, end - 3600)
    table.sound_dates(name, sound, FIRST_LINE)
    return starts
