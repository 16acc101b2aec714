"""Reader of plain comma-separated tables: by a column map, or by the table's own first lines.

A table that describes itself begins with lines such as `# latitude: 36.1` and a title line with units,
`time,ghi [W/m2],temp_air [degC]`; `plain_text` in writer.py writes such a table.
"""

import re
from dataclasses import replace
from pathlib import Path
from typing import Final

import numpy as np
import pandas as pd

from simengine.errors import WeatherError
from simengine.weather import stamps, table
from simengine.weather.calendar import centred_clock
from simengine.weather.content import Content, printable, quoted, read_content
from simengine.weather.finish import finish
from simengine.weather.layout import LABELS, Layout, to_canonical
from simengine.weather.record import Floats, Record, Times
from simengine.weather.series import Finding, WeatherSeries

KEYS: Final = (
    "station",
    "latitude",
    "longitude",
    "elevation",
    "utc_offset",
    "wind_height",
    "label",
    "year",
    "synthetic",
)
NEEDED: Final = ("latitude", "longitude", "utc_offset")
LONGEST_FINDING: Final = 400
"""Letters of a finding that are kept [-]."""
HEADER: Final = re.compile(r"#\s*([a-z_]+)\s*:\s*(.*)")
TITLE: Final = re.compile(r"([a-z_]+)\s*\[([^\]]*)\]")


def recognises_plain(content: Content) -> bool:
    """Return whether the content begins with comment lines that name a latitude."""
    start = content.raw[:4000].removeprefix(b"\xef\xbb\xbf").lstrip()
    return start.startswith(b"#") and b"latitude" in start


def read_plain(content: Content) -> Record:
    """Read a table that describes itself.

    Raises
    ------
    WeatherError
        When a line can't be read; it is named.
    """
    lines = content.text().split("\n")
    count = next((number for number, line in enumerate(lines) if not line.startswith("#")), len(lines))
    keys, findings = _header(content.name, lines[:count])
    missing = [key for key in NEEDED if key not in keys]
    if missing:
        raise WeatherError(f"{content.name}: no line '# {missing[0]}: ...'; {', '.join(NEEDED)} are needed")
    titles = _titles(content.name, lines[count] if count < len(lines) else "", count + 1)
    line, label = keys.get("label", (0, "start"))
    if label not in LABELS:
        raise WeatherError(f"{content.name}:{line}: label {quoted(label)}; {', '.join(LABELS)} are accepted")
    layout = Layout(
        columns=titles,
        latitude=_number(content.name, keys, "latitude"),
        longitude=_number(content.name, keys, "longitude"),
        utc_offset=_number(content.name, keys, "utc_offset"),
        elevation=_number(content.name, keys, "elevation", float("nan")),
        wind_height=_number(content.name, keys, "wind_height", 10.0),
        label=label,
        typical="year" in keys and keys["year"][1] == "typical",
        station=keys["station"][1] if "station" in keys else "unnamed",
    )
    record = _rows(content, layout, lines, count)
    synthetic = "synthetic" in keys and keys["synthetic"][1] == "yes"
    return replace(record, findings=tuple(findings), synthetic=synthetic)


def read_table(path: Path, layout: Layout) -> WeatherSeries:
    """Return the canonical series of somebody's table, by a map of its columns.

    Parameters
    ----------
    path : Path
        A comma-separated file with one title line, plain or packed.
    layout : Layout
        Its place, clock, columns and units.

    Raises
    ------
    WeatherError
        When the file doesn't fit the layout.
    """
    content = read_content(path)
    lines = content.text().split("\n")
    count = next(
        (number for number, line in enumerate(lines) if line.strip() and not line.startswith("#")), 0
    )
    return finish(_rows(content, layout, lines, count), content.sha256)


def _header(name: str, lines: list[str]) -> tuple[dict[str, tuple[int, str]], list[Finding]]:
    keys: dict[str, tuple[int, str]] = {}
    findings = []
    for number, line in enumerate(lines, 1):
        found = HEADER.match(line)
        if found is None:
            continue
        key, text = found[1], found[2].strip()
        if key in ("info", "warning"):
            message, _, when = text.partition(" | ")
            message, when = printable(message, LONGEST_FINDING), printable(when)
            findings.append(Finding("warning" if key == "warning" else "info", message, when))
        elif key in KEYS:
            keys[key] = (number, text)
        else:
            raise WeatherError(f"{name}:{number}: {quoted(key)}; accepted: {', '.join(KEYS)}, info, warning")
    return keys, findings


def _number(name: str, keys: dict[str, tuple[int, str]], key: str, default: float = 0.0) -> float:
    if key not in keys:
        return default
    line, text = keys[key]
    return table.header_number(name, line, key, text)


def _titles(name: str, line: str, number: int) -> dict[str, tuple[str, str]]:
    titles = {}
    for title in (part.strip() for part in line.split(",")):
        found = TITLE.fullmatch(title)
        if found:
            titles[found[1]] = (title, found[2].strip())
        elif title != "time":
            raise WeatherError(f"{name}:{number}: {quoted(title)}; 'time' or 'column [unit]' is accepted")
    return titles


def _rows(content: Content, layout: Layout, lines: list[str], title_line: int) -> Record:
    name, first_line = content.name, title_line + 2
    titles = table.header_parts(name, title_line + 1, lines[title_line])
    wanted = [layout.time, *(title for title, _ in layout.columns.values())]
    absent = [title for title in wanted if title not in titles]
    if absent:
        raise WeatherError(
            f"{name}:{title_line + 1}: no column {quoted(absent[0])}; there are {quoted(lines[title_line])}"
        )
    rows = lines[title_line + 1 :]
    if rows and rows[-1]:
        raise WeatherError(f"{name}:{len(lines)}: the last line isn't ended (the file may be cut off)")
    rows = rows[:-1]
    table.checked_rows(name, rows, first_line, len(titles))
    time, *values = table.fields(name, rows, first_line, [titles.index(title) for title in wanted])
    labels = stamps.times(name, time, first_line)
    step = _step(name, labels, first_line)
    columns = {
        column: _in_canonical_unit(name, (column, unit, layout.missing), texts, (first_line, step))
        for (column, (_, unit)), texts in zip(layout.columns.items(), values, strict=True)
    }
    starts, clock = _starts(labels, layout, step)
    return Record(
        name=name,
        station=layout.station,
        format="plain table",
        latitude=layout.latitude,
        longitude=layout.longitude,
        elevation=layout.elevation,
        utc_offset=clock,
        wind_height=layout.wind_height,
        columns=columns,
        starts=starts,
        step=step,
        first_line=first_line,
        typical=layout.typical,
    )


def _in_canonical_unit(
    name: str, column: tuple[str, str, tuple[float, ...]], texts: pd.Series, rows: tuple[int, int]
) -> Floats:
    title, unit, missing = column
    first_line, step = rows
    factor, addend = to_canonical(title, unit, step)
    numbers = table.without(table.numbers(name, title, texts, first_line), *missing)
    return numbers if (factor, addend) == (1.0, 0.0) else numbers * factor + addend


def _starts(labels: Times, layout: Layout, step: int) -> tuple[Times, float]:
    """Return interval starts and their clock [h]."""
    if layout.label == "middle":
        return centred_clock(labels, step, 0.0, layout.utc_offset)
    starts: Times = np.subtract(labels, np.timedelta64(step if layout.label == "end" else 0, "s"))
    return starts, layout.utc_offset


def _step(name: str, labels: Times, first_line: int) -> int:
    if labels.size < 2:
        raise WeatherError(f"{name}:{first_line}: one row; at least one whole year is accepted")
    step = int((labels[1] - labels[0]).astype(np.int64))
    if not 60 <= step <= 3600 or 3600 % step:
        raise WeatherError(
            f"{name}:{first_line + 1}: a step of {step} s; 60 s to 3600 s that divide an hour are accepted"
        )
    return step
