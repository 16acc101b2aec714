"""One page about a weather file: what it holds, drawn, and every finding with its severity and dates."""

from dataclasses import dataclass
from typing import Any

import numpy as np
import pandas as pd
from numpy.typing import NDArray

from simengine.report.axis import Axis, axis
from simengine.report.both import SI, US, Both, both
from simengine.report.day_map import day_map
from simengine.report.figures import MONTH_NAMES
from simengine.report.page import templates
from simengine.report.shown import Shown, share
from simengine.report.weather import counted, facts, facts_rows, graded, shift_text
from simengine.report.words import printable, sentence
from simengine.units import System
from simengine.weather import WeatherSeries

Array = NDArray[np.float64]

WIDTH = 730.0
"""Of the drawings [units of the drawing]."""

COOL = 15.0
"""Outdoor temperature [degC] below which houses commonly want heat (common practice)."""

HEATING_BASE = 18.0
"""Base of the degree days [degC], drawn as a line."""

MOST_TICKS = 24


@dataclass(frozen=True, slots=True)
class Tick:
    """A month's place below the drawings."""

    x: float
    text: str


@dataclass(frozen=True, slots=True)
class Drawn:
    """The drawings of a year as plain geometry and one small picture."""

    map: str  # address of a PNG
    strongest: Both
    ticks: tuple[Tick, ...]
    warmth: Axis  # degC
    band: str  # points of the days' lowest and highest
    mean: str
    base: float  # [-] place of the heating base on the axis
    windy: Axis  # m/s
    wind: str
    sun: tuple[tuple[float, float], ...]  # month's bar: height [-], kWh/m2


def weather_page(series: WeatherSeries, system: System = "us") -> str:
    """Return the page of a weather file.

    Parameters
    ----------
    series : whole years of weather
    system : the unit system that is shown first

    Returns
    -------
    HTML text, complete in itself; everything that came from the file is escaped.
    """
    known = facts(series)
    us, si = (facts_rows(series, known, shown) for shown in (US, SI))
    view = {
        "system": system,
        "title": printable(series.station),
        "verdict": both(lambda units: _finding(series, known, units)),
        "rows": [(a[0], Both(a[1], b[1])) for a, b in zip(us, si, strict=True)],
        "drawn": _drawn(series, known),
        "months": [_month(number, month) for number, month in enumerate(known["months"])],
        "counted": counted(series.findings),
        "findings": [
            (finding.severity, sentence(printable(finding.message)), printable(finding.when))
            for finding in graded(series.findings)
        ],
        "sha256": series.sha256,
    }
    return templates().get_template("weather.html").render(**view)


def _finding(series: WeatherSeries, known: dict[str, Any], units: Shown) -> str:
    """Return what the year is like for a collector, in one sentence."""
    sun = series.data["ghi"].to_numpy(dtype=np.float64)
    cool = series.data["temp_air"].to_numpy(dtype=np.float64) < COOL
    part = float(sun[cool].sum() / sun.sum()) if sun.sum() > 0.0 else 0.0
    return (
        f"{known['ghi_kwh_m2']:.0f} kWh/m² of sun a year on the level ground, {share(part)} of it while it "
        f"is colder than {units.temperature(COOL)} outdoors; {units.degree_days(known['hdd18_kd'])}."
    )


def _month(number: int, month: dict[str, Any]) -> tuple[str, ...]:
    return (
        MONTH_NAMES[number],
        f"{month['ghi_kwh_m2']:.0f}",
        US.temperature(month["mean_temperature_c"]),
        SI.temperature(month["mean_temperature_c"]),
        f"{month['closure_rmse_w_m2']:.1f}",
        shift_text(month["closure_shift_h"]),
    )


def _drawn(series: WeatherSeries, known: dict[str, Any]) -> Drawn:
    a_day = 86400 // series.step
    sun = series.data["ghi"].to_numpy(dtype=np.float64)
    warmth, wind = (
        series.data[name].to_numpy(dtype=np.float64).reshape(-1, a_day) for name in ("temp_air", "wind_speed")
    )
    strongest = max(float(sun.max()), 1.0)
    low, high, mean = warmth.min(axis=1), warmth.max(axis=1), warmth.mean(axis=1)
    scale = axis(float(low.min()) - 1.0, float(high.max()) + 1.0, "temperature", ("degF", "degC"))
    breeze = wind.mean(axis=1)
    windy = axis(0.0, max(float(breeze.max()), 1.0) * 1.05, "speed", ("mph", "m/s"))
    bars = [float(month["ghi_kwh_m2"]) for month in known["months"]]
    return Drawn(
        day_map(sun, a_day, strongest),
        both(lambda units: units.quantity(strongest, "irradiance")),
        _ticks(pd.DatetimeIndex(series.data.index)),
        scale,
        f"{_points(low, scale)} {_points(high[::-1], scale, backwards=True)}",
        _points(mean, scale),
        scale.place(HEATING_BASE),
        windy,
        _points(breeze, windy),
        tuple((bar / max(*bars, 1e-9), bar) for bar in bars),
    )


def _points(values: Array, scale: Axis, backwards: bool = False) -> str:
    """Return a line through the days, across the width and 100 high."""
    across = WIDTH * (np.arange(values.size) + 0.5) / values.size
    places = zip(across[::-1] if backwards else across, values, strict=True)
    return " ".join(f"{x:.1f},{100.0 * (1.0 - scale.place(float(value))):.1f}" for x, value in places)


def _ticks(index: pd.DatetimeIndex) -> tuple[Tick, ...]:
    """Return a mark for each month; for several years one for each year."""
    months = index.to_period("M")
    first = np.flatnonzero(np.r_[True, months[1:] != months[:-1]])
    by_year = first.size > MOST_TICKS
    if by_year:
        first = first[index[first].month == 1]
    edges = np.r_[first, index.size]
    return tuple(
        Tick(
            WIDTH * 0.5 * (edges[i] + edges[i + 1]) / index.size,
            str(index[first[i]].year) if by_year else MONTH_NAMES[index[first[i]].month - 1],
        )
        for i in range(first.size)
    )
