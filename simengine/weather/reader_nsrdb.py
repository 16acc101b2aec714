"""Reader of NSRDB CSV files: three header lines, labels in the middle of the interval, wind at 2 m."""

from typing import Final

import numpy as np

from simengine.errors import WeatherError
from simengine.weather import stamps, table
from simengine.weather.calendar import centred_clock, interval_starts, turn_to_site
from simengine.weather.content import Content
from simengine.weather.record import Floats, Record, Times

COLUMNS: Final = {
    "GHI": ("ghi", 1.0),
    "DNI": ("dni", 1.0),
    "DHI": ("dhi", 1.0),
    "Temperature": ("temp_air", 1.0),
    "Dew Point": ("temp_dew", 1.0),
    "Relative Humidity": ("relative_humidity", 1.0),
    "Pressure": ("pressure", 100.0),
    "Wind Speed": ("wind_speed", 1.0),
    "Surface Albedo": ("albedo", 1.0),
}
"""File's column -> canonical name and factor (pressure in mbar)."""

DATE: Final = ("Year", "Month", "Day", "Hour", "Minute")
MISSING: Final = (-999.0, -9999.0)
FIRST_LINE: Final = 4
WIND_HEIGHT: Final = 2.0
"""[m]"""


def recognises_nsrdb(content: Content) -> bool:
    """Return whether the first line names the header fields and the third the date columns."""
    lines = (
        content.raw[:8000]
        .removeprefix(b"\xef\xbb\xbf")
        .replace(b"\r\n", b"\n")
        .replace(b"\r", b"\n")
        .split(b"\n")
    )
    return len(lines) > 2 and b"Latitude" in lines[0] and lines[2].lstrip(b' "').startswith(b"Year")


def read_nsrdb(content: Content) -> Record:
    """Read an NSRDB file of 60, 30, 15, 10 or 5-minute steps.

    The labels are instants (the satellite's scans), so each interval is centred on its label; hourly
    labels at minute 30 give whole hours. Older files label hours at their start. Where a label on the whole
    step leaves it open, the sun decides.

    Raises
    ------
    WeatherError
        When a line can't be read; it is named.
    """
    name, text = content.name, content.text()
    if not text.endswith("\n"):
        raise WeatherError(f"{name}: the last line isn't ended (the file may be cut off)")
    lines = text.rstrip("\n").split("\n")
    keys, values, titles = (table.header_parts(name, row + 1, lines[row]) for row in range(3))
    header = dict(zip(keys, values, strict=False))
    while titles and not titles[-1]:
        titles.pop()
    absent = [title for title in DATE if title not in titles]
    if absent:
        raise WeatherError(f"{name}:3: no column {absent[0]}; {', '.join(DATE)} are needed")
    rows = lines[3:]
    table.checked_rows(name, rows, FIRST_LINE, len(titles))
    known = [title for title in titles if title in COLUMNS]
    fields = table.fields(name, rows, FIRST_LINE, [titles.index(title) for title in (*DATE, *known)])
    labels = _labels(name, fields[: len(DATE)])
    columns: dict[str, Floats] = {}
    for title, texts in zip(known, fields[len(DATE) :], strict=True):
        column, factor = COLUMNS[title]
        columns[column] = table.without(table.numbers(name, title, texts, FIRST_LINE), *MISSING) * factor
    return nsrdb_record(name, header, columns, labels)


def nsrdb_record(name: str, header: dict[str, str], columns: dict[str, Floats], labels: Times) -> Record:
    """Return the record of an NSRDB file.

    Parameters
    ----------
    name : str
        File name.
    header : dict[str, str]
        The header's fields as texts.
    columns : dict[str, Floats]
        Canonical columns.
    labels : Times
        The instants on the clock of the header's time zone.

    Raises
    ------
    WeatherError
        When the header lacks the place, or the labels have no known step.
    """
    site = [_number(name, header, key) for key in ("Latitude", "Longitude", "Elevation", "Time Zone")]
    step = _step(name, labels)
    on_the_hour = int(labels[0].astype(np.int64)) % step == 0
    hourly_start = on_the_hour and step == 3600
    starts, clock = centred_clock(labels, step, 0.5 if hourly_start else 0.0, site[3])
    other = (-0.5 if hourly_start else step / 7200.0) if on_the_hour else 0.0
    return Record(
        name=name,
        station=", ".join(header.get(key, "") for key in ("City", "State", "Country", "Location ID")).strip(
            ", -"
        ),
        format="NSRDB",
        latitude=site[0],
        longitude=site[1],
        elevation=site[2],
        utc_offset=clock,
        wind_height=WIND_HEIGHT,
        columns=columns,
        starts=starts,
        step=step,
        first_line=FIRST_LINE,
        typical=False,
        turn=_turn(name, header, site[1], site[3]),
        other_label=other,
    )


def _number(name: str, header: dict[str, str], key: str) -> float:
    if key not in header:
        raise WeatherError(f"{name}:1: no field {key!r}; it is needed")
    return table.header_number(name, 2, key, header[key])


def _turn(name: str, header: dict[str, str], longitude: float, zone: float) -> int:
    """Return the hours from a file in UTC to the site's own clock; a file in its own clock stays [h]."""
    if zone != 0.0:
        return 0
    if "Local Time Zone" not in header:
        return turn_to_site(longitude, 0.0)
    return int(np.floor(_number(name, header, "Local Time Zone")))


def _labels(name: str, fields: list) -> Times:  # type: ignore[type-arg]
    year, month, day, hour, minute = (
        table.whole_numbers(name, key, texts, FIRST_LINE) for key, texts in zip(DATE, fields, strict=True)
    )
    labels, sound = interval_starts(year, month, day, hour * 3600 + minute * 60)
    stamps.sound_dates(name, sound & (hour >= 0) & (hour < 24) & (minute >= 0) & (minute < 60), FIRST_LINE)
    return labels


def _step(name: str, labels: Times) -> int:
    step = int((labels[1] - labels[0]).astype(np.int64)) if labels.size > 1 else 0
    if step not in (300, 600, 900, 1800, 3600):
        raise WeatherError(
            f"{name}:{FIRST_LINE + 1}: a step of {step / 60:g} min; 5, 10, 15, 30 or 60 min are accepted"
        )
    return step
