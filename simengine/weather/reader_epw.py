"""Reader of the open EPW hourly weather format: hours counted from 1, local time, codes for missing."""

import re
from typing import Final

import numpy as np

from simengine.errors import WeatherError
from simengine.weather import stamps, table
from simengine.weather.calendar import centred_clock, interval_starts, turn_to_site
from simengine.weather.content import Content, quoted
from simengine.weather.record import Floats, Record, Times
from simengine.weather.series import Finding

COLUMNS: Final = {
    "temp_air": (6, 1.0, (99.9,)),
    "temp_dew": (7, 1.0, (99.9,)),
    "relative_humidity": (8, 1.0, (999.0,)),
    "pressure": (9, 1.0, (999999.0,)),
    "longwave_down": (12, 1.0, (9999.0, 0.0)),
    "ghi": (13, 1.0, (9999.0,)),
    "dni": (14, 1.0, (9999.0,)),
    "dhi": (15, 1.0, (9999.0,)),
    "wind_speed": (21, 1.0, (999.0,)),
    "snow_depth": (30, 0.01, (999.0,)),
    "albedo": (32, 1.0, (999.0,)),
}
"""Canonical name -> field counted from 0, factor, missing codes (from memory of the format)."""

DATE: Final = ("year", "month", "day", "hour")
FEWEST_FIELDS: Final = 22
DATA_ROW: Final = re.compile(r"\s*\d{4}\s*,\s*\d{1,2}\s*,\s*\d{1,2}\s*,\s*\d{1,2}\s*,")
OFFSET: Final = re.compile(r"Irradiance Time Offset \(h\):\s*([-+0-9.]+)")


def recognises_epw(content: Content) -> bool:
    """Return whether the first line is a LOCATION line."""
    return content.raw[:200].removeprefix(b"\xef\xbb\xbf").lstrip(b' \t\r\n"').upper().startswith(b"LOCATION")


def read_epw(content: Content) -> Record:
    """Read a file of the open EPW hourly weather format.

    The minute field means nothing, unless the header declares several records an hour. A file that declares
    its own irradiance time offset holds instants in UTC, whatever time zone its header names.

    Raises
    ------
    WeatherError
        When a line can't be read; it is named.
    """
    name = content.name
    lines = content.text().rstrip("\n").split("\n")
    first = next((number for number, line in enumerate(lines[:1000]) if DATA_ROW.match(line)), None)
    if first is None:
        raise WeatherError(f"{name}: no data rows; rows that begin with year, month, day, hour are accepted")
    header, rows = lines[:first], lines[first:]
    station, (latitude, longitude, zone, elevation) = _location(name, header)
    step = 3600 // _records_per_hour(name, header)
    columns, starts = _rows(name, rows, first + 1, step)
    offset = _own_offset(name, header)
    findings: tuple[Finding, ...] = ()
    if offset is not None:
        starts, zone = centred_clock(starts, step, offset + 1.0, 0.0)
        # Its dew point is of another relation than its sister formats give, so all take it from humidity.
        columns["temp_dew"] = np.full(len(rows), np.nan)
        findings = (centred(offset),)
    return Record(
        name=name,
        station=station,
        format="EPW",
        latitude=latitude,
        longitude=longitude,
        elevation=elevation,
        utc_offset=zone,
        wind_height=10.0,
        columns=columns,
        starts=starts,
        step=step,
        first_line=first + 1,
        typical=offset is not None,
        turn=turn_to_site(longitude, zone) if offset is not None else 0,
        findings=findings,
    )


def _rows(name: str, rows: list[str], first_line: int, step: int) -> tuple[dict[str, Floats], Times]:
    width = table.checked_rows(name, rows, first_line, FEWEST_FIELDS) + 1
    wanted = {column: entry for column, entry in COLUMNS.items() if entry[0] < width}
    texts = table.fields(name, rows, first_line, [0, 1, 2, 3, *(entry[0] for entry in wanted.values())])
    year, month, day, hour = (
        table.whole_numbers(name, key, field, first_line) for key, field in zip(DATE, texts[:4], strict=True)
    )
    columns: dict[str, Floats] = {}
    for (column, (_, factor, codes)), field in zip(wanted.items(), texts[4:], strict=True):
        columns[column] = table.without(table.numbers(name, column, field, first_line), *codes) * factor
    part = np.arange(len(rows)) % (3600 // step)
    starts, sound = interval_starts(year, month, day, (hour - 1) * 3600 + part * step)
    stamps.sound_dates(name, sound & (hour >= 1) & (hour <= 24), first_line)
    return columns, starts


def centred(offset: float) -> Finding:
    """Return what is told of a file of instants whose radiation is of `offset` [h] after its labels."""
    return Finding(
        "info", f"instants in UTC, radiation {offset:+.4f} h from the label: each interval is centred on it"
    )


def _location(name: str, header: list[str]) -> tuple[str, tuple[float, float, float, float]]:
    """Return the station and latitude, longitude, time zone, elevation."""
    line = header[0] if header else ""
    parts = table.header_parts(name, 1, line)
    while parts and not parts[-1]:
        parts.pop()
    if len(parts) < 6 or parts[0].upper() != "LOCATION":
        raise WeatherError(
            f"{name}:1: {quoted(line)}; LOCATION, city, state, country, source, number, latitude, longitude,"
            " time zone, elevation are accepted"
        )
    keys = ("latitude", "longitude", "time zone", "elevation")
    numbers = [table.header_number(name, 1, key, text) for key, text in zip(keys, parts[-4:], strict=True)]
    place = [part for part in parts[1:4] if part and part not in ("-", "unknown")]
    return ", ".join(place) or "unnamed", (numbers[0], numbers[1], numbers[2], numbers[3])


def _records_per_hour(name: str, header: list[str]) -> int:
    for number, line in enumerate(header):
        parts = [part.strip() for part in line.split(",")]
        if parts[0].upper() == "DATA PERIODS" and len(parts) > 2 and parts[2]:
            count = table.header_number(name, number + 1, "records an hour", parts[2])
            if count not in (1.0, 2.0, 3.0, 4.0, 6.0, 12.0, 60.0):
                raise WeatherError(
                    f"{name}:{number + 1}: {count:g} records an hour; 1, 2, 3, 4, 6, 12 or 60 are accepted"
                )
            return int(count)
    return 1


def _own_offset(name: str, header: list[str]) -> float | None:
    for number, line in enumerate(header):
        found = OFFSET.search(line)
        if found:
            return table.header_number(name, number + 1, "irradiance time offset", found[1])
    return None
