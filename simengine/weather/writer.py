"""A canonical series as a plain table that describes itself; the reader reads the same series back."""

import gzip
import io
import re
from typing import Final

import numpy as np
import pandas as pd

from simengine.units import KINDS
from simengine.weather.layout import CANONICAL_UNIT, KIND_OF
from simengine.weather.series import COLUMNS, TYPICAL_YEAR, WeatherSeries

FORMULA: Final = re.compile(r"([,;]\s*\"?)([=+\-@])")


def plain_text(series: WeatherSeries) -> str:
    """Return a series as a comma-separated table, its place, clock and findings in the first lines.

    Columns that are NaN throughout are left out.
    """
    data = series.data
    names = [name for name in COLUMNS if name in data and bool(data[name].notna().all())]
    year = "typical" if data.index[0].year == TYPICAL_YEAR == data.index[-1].year else "real"
    lines = [
        f"# station: {_harmless(series.station)}",
        f"# latitude: {series.latitude!r}",
        f"# longitude: {series.longitude!r}",
        f"# elevation: {series.elevation!r}",
        f"# utc_offset: {series.utc_offset!r}",
        f"# wind_height: {series.wind_height!r}",
        "# label: start",
        f"# year: {year}",
        f"# synthetic: {'yes' if series.synthetic else 'no'}",
    ]
    lines += [
        _harmless(f"# {finding.severity}: {finding.message}" + (f" | {finding.when}" if finding.when else ""))
        for finding in series.findings
    ]
    lines.append(",".join(["time", *(f"{name} [{unit_of(name)}]" for name in names)]))
    times = pd.DatetimeIndex(data.index).strftime(
        "%Y-%m-%d %H:%M" if series.step % 60 == 0 else "%Y-%m-%d %H:%M:%S"
    )
    texts = [[_number(value) for value in data[name].to_numpy(dtype=np.float64).tolist()] for name in names]
    lines += [",".join(row) for row in zip(times, *texts, strict=True)]
    return "\n".join(lines) + "\n"


def packed(text: str) -> bytes:
    """Return a text gzipped such that the same text always gives the same bytes."""
    buffer = io.BytesIO()
    with gzip.GzipFile(filename="", mode="wb", fileobj=buffer, compresslevel=9, mtime=0) as stream:
        stream.write(text.encode("utf-8"))
    return buffer.getvalue()


def unit_of(column: str) -> str:
    """Return the unit of a canonical column as the tables write it.

    Examples
    --------
    >>> unit_of("pressure"), unit_of("albedo")
    ('Pa', '-')
    """
    return CANONICAL_UNIT.get(column, KINDS[KIND_OF[column]].inside.name) or "-"


def _harmless(text: str) -> str:
    """Return a text on one line in which no cell after a comma begins as a formula of a spreadsheet.

    >>> _harmless("Hill, =1+1")
    "Hill, '=1+1"
    """
    return FORMULA.sub(r"\1'\2", " ".join(text.split()))


def _number(value: float) -> str:
    text = repr(round(value, 6))
    return text[:-2] if text.endswith(".0") else text
