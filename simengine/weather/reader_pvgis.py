"""Readers of PVGIS typical years as CSV and JSON: instants in UTC with an irradiance time offset."""

import json
import re
from typing import Any, Final

import numpy as np
import pandas as pd

from simengine.errors import WeatherError
from simengine.weather import stamps, table
from simengine.weather.calendar import centred_clock, interval_starts, turn_to_site
from simengine.weather.content import Content, quoted
from simengine.weather.reader_epw import centred
from simengine.weather.record import Floats, Integers, Record
from simengine.weather.series import Finding

COLUMNS: Final = {
    "T2m": "temp_air",
    "RH": "relative_humidity",
    "G(h)": "ghi",
    "Gb(n)": "dni",
    "Gd(h)": "dhi",
    "IR(h)": "longwave_down",
    "WS10m": "wind_speed",
    "SP": "pressure",
}
TIME: Final = "time(UTC)"
HEADER: Final = {
    "latitude": "Latitude (decimal degrees):",
    "longitude": "Longitude (decimal degrees):",
    "elevation": "Elevation (m):",
    "offset": "Irradiance Time Offset (h):",
}
STAMP: Final = re.compile(r"(\d{4})(\d{2})(\d{2}):(\d{2})(\d{2})")


def recognises_pvgis_csv(content: Content) -> bool:
    """Return whether the content begins with a latitude line and has a UTC time column."""
    start = content.raw[:3000]
    return b"Latitude (decimal degrees)" in start and b"time(UTC)," in start


def recognises_pvgis_json(content: Content) -> bool:
    """Return whether the content is a JSON object with a typical year in it."""
    return (
        content.raw[:50].removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"{")
        and b"tmy_hourly" in content.raw
    )


def read_pvgis_csv(content: Content) -> Record:
    """Read a typical year in PVGIS's CSV form.

    Raises
    ------
    WeatherError
        When a line can't be read; it is named.
    """
    name, lines = content.name, content.text().split("\n")
    title = next((number for number, line in enumerate(lines) if line.startswith(TIME + ",")), None)
    if title is None:
        raise WeatherError(f"{name}: no line that begins with '{TIME},'; it is needed above the data")
    header = _header(name, lines[:title])
    titles = [text.strip() for text in lines[title].split(",")]
    rows, first_line = lines[title + 1 :], title + 2
    end = next((number for number, line in enumerate(rows) if not line.strip()), len(rows))
    if end == len(rows):
        raise WeatherError(
            f"{name}:{first_line + end - 1}: the last line isn't ended (the file may be cut off)"
        )
    rows = rows[:end]
    table.checked_rows(name, rows, first_line, len(titles))
    known = [text for text in titles if text in COLUMNS]
    time, *values = table.fields(name, rows, first_line, [0, *(titles.index(text) for text in known)])
    columns = {
        COLUMNS[text]: table.numbers(name, text, texts, first_line)
        for text, texts in zip(known, values, strict=True)
    }
    return pvgis_record(name, header, columns, _stamps(name, time, first_line), first_line)


def read_pvgis_json(content: Content) -> Record:
    """Read a typical year in PVGIS's JSON form.

    Raises
    ------
    WeatherError
        When the JSON is damaged or holds something else.
    """
    name = content.name
    try:
        tree: Any = json.loads(content.text())
        place = tree["inputs"]["location"]
        rows = tree["outputs"]["tmy_hourly"]
        header = {
            key: table.header_number(name, 1, key, str(place[key]))
            for key in ("latitude", "longitude", "elevation")
        }
        offset = place.get("irradiance_time_offset")
        if offset is not None:
            header["offset"] = table.header_number(name, 1, "irradiance time offset", str(offset))
        frame = pd.DataFrame(
            {key: [row[key] for row in rows] for key in (TIME, *(c for c in COLUMNS if c in rows[0]))}
        )
    except (ValueError, KeyError, TypeError, AttributeError, IndexError, RecursionError) as failure:
        if isinstance(failure, WeatherError):
            raise
        raise WeatherError(
            f"{name}: damaged or cut-off JSON, or no typical year in it; PVGIS's inputs.location and"
            " outputs.tmy_hourly are accepted"
        ) from None
    if len(frame) > table.MAX_ROWS:
        raise WeatherError(f"{name}: {len(frame)} rows; at most {table.MAX_ROWS} are accepted")
    columns = {
        column: table.numbers(name, key, frame[key], 0) for key, column in COLUMNS.items() if key in frame
    }
    return pvgis_record(name, header, columns, _stamps(name, frame[TIME], 0), 0)


def _header(name: str, lines: list[str]) -> dict[str, float]:
    found = {}
    for number, line in enumerate(lines):
        for key, start in HEADER.items():
            if line.startswith(start):
                found[key] = table.header_number(name, number + 1, key, line.removeprefix(start).strip())
    for key in ("latitude", "longitude", "elevation"):
        if key not in found:
            raise WeatherError(f"{name}: no line '{HEADER[key]} ...'; it is needed")
    return found


def _stamps(name: str, texts: pd.Series, first_line: int) -> np.ndarray:
    parts = [STAMP.fullmatch(str(text).strip()) for text in texts]
    bad = next((number for number, part in enumerate(parts) if part is None), None)
    place = f"{name}:{first_line + (bad or 0)}" if first_line else name
    if bad is not None:
        raise WeatherError(
            f"{place}: {quoted(str(texts.iloc[bad]), 30)}; a time as 20180131:1300 is accepted"
        )
    numbers: Integers = np.array([part.groups() for part in parts if part is not None], dtype=np.int64)
    year, month, day, hour, minute = numbers.T
    instants, sound = interval_starts(year, month, day, hour * 3600 + minute * 60)
    stamps.sound_dates(name, sound & (hour < 24) & (minute < 60), first_line)
    return instants


def pvgis_record(
    name: str, header: dict[str, float], columns: dict[str, Floats], instants: np.ndarray, first_line: int
) -> Record:
    """Return the record of a PVGIS typical year.

    Parameters
    ----------
    name : str
        File name.
    header : dict[str, float]
        latitude, longitude [deg], elevation [m], offset [h] where the file has one.
    columns : dict[str, Floats]
        Canonical columns.
    instants : np.ndarray
        The instants, UTC.
    first_line : int
        Line of the first row, 0 where there are no lines.
    """
    offset = header.get("offset")
    findings = (
        (centred(offset),)
        if offset is not None
        else (
            Finding(
                "warning", "no irradiance time offset in the file: radiation taken as of the label itself"
            ),
        )
    )
    starts, clock = centred_clock(instants, 3600, offset or 0.0, 0.0)
    return Record(
        name=name,
        station=f"{header['latitude']:.3f}, {header['longitude']:.3f}",
        format="PVGIS",
        latitude=header["latitude"],
        longitude=header["longitude"],
        elevation=header["elevation"],
        utc_offset=clock,
        wind_height=10.0,
        columns={key: values + 0.0 for key, values in columns.items()},
        starts=starts,
        step=3600,
        first_line=first_line,
        typical=True,
        turn=turn_to_site(header["longitude"], clock),
        findings=findings,
    )
