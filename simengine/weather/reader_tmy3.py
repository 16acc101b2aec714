"""Reader of TMY3 files: hour-ending labels, local standard time, pressure in mbar, -9900 for missing."""

from typing import Final

import pandas as pd

from simengine.errors import WeatherError
from simengine.weather import stamps, table
from simengine.weather.calendar import interval_starts
from simengine.weather.content import Content, quoted
from simengine.weather.record import Record, Times

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

MISSING: Final = -9900.0
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
    name = content.name
    lines = content.text().rstrip("\n").split("\n")
    station, (zone, latitude, longitude, elevation) = _station(name, lines[0])
    header = table.header_parts(name, 2, lines[1] if len(lines) > 1 else "")
    if header[:2] != ["Date (MM/DD/YYYY)", "Time (HH:MM)"]:
        raise WeatherError(f"{name}:2: the date and time columns must come first")
    wanted = {title: header.index(title) for title in COLUMNS if title in header}
    rows = lines[2:]
    table.checked_rows(name, rows, FIRST_LINE, len(header))
    date, time, *values = table.fields(name, rows, FIRST_LINE, [0, 1, *wanted.values()])
    columns = {}
    for title, texts in zip(wanted, values, strict=True):
        column, factor = COLUMNS[title]
        columns[column] = table.without(table.numbers(name, column, texts, FIRST_LINE), MISSING) * factor
    return Record(
        name=name,
        station=station,
        format="TMY3",
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        utc_offset=zone,
        wind_height=10.0,
        columns=columns,
        starts=_starts(name, date, time),
        step=3600,
        first_line=FIRST_LINE,
        typical=True,
    )


def _station(name: str, line: str) -> tuple[str, list[float]]:
    """Return the station and time zone, latitude, longitude, elevation."""
    parts = table.header_parts(name, 1, line)
    if len(parts) < 7:
        raise WeatherError(
            f"{name}:1: {quoted(line)};"
            " id, station, state, time zone, latitude, longitude, elevation are accepted"
        )
    keys = ("time zone", "latitude", "longitude", "elevation")
    numbers = [table.header_number(name, 1, key, text) for key, text in zip(keys, parts[-4:], strict=True)]
    return ", ".join(parts[1:-4]), numbers


def _starts(name: str, date: pd.Series, time: pd.Series) -> Times:
    month, day, year = stamps.parts(name, "date", date, "/", FIRST_LINE)
    hour, minute = stamps.parts(name, "time", time, ":", FIRST_LINE)
    starts, sound = interval_starts(year, month, day, (hour - 1) * 3600 + minute * 60)
    stamps.sound_dates(name, sound, FIRST_LINE)
    return starts
