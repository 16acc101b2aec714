"""A log cut at its holes into stretches that the model can be driven through."""

from dataclasses import dataclass

import numpy as np

from simengine.collector.network import Forcing
from simengine.fieldtest.log import Array, TestLog
from simengine.fieldtest.sunlight import Sunlight
from simengine.simulate.course import RESTS, Course
from simengine.simulate.measured import Bench

BRIDGED = 600.0
"""Longest hole that is bridged by a straight line [s]."""
SHORTEST = 3600.0
"""Shortest stretch that is worth a start from a guess [s]."""
STARTS = 1200.0
"""Time after the start of a stretch, and after each start of the fan, that is not compared [s]."""
SIGNALS = ("outlet", "absorber", "supply")
"""What the model has an answer to."""


@dataclass(frozen=True)
class Section:
    """One stretch: what drives the model, and what was read where the model has an answer."""

    course: Course
    forcing: Forcing
    wind_slope: Array  # [row] W/m2K of the wind coefficient for a doubled wind
    read: dict[str, Array]  # [row] K; NaN where not to be compared
    rows: slice  # of the log


def weather_of(log: TestLog, wind_speed: float, sky_below: float) -> tuple[Array, Array]:
    """Return wind [m/s] and sky temperature [K] of a log, by what is given where they were not logged.

    Parameters
    ----------
    log : what was measured
    wind_speed : where it was not logged [m/s]
    sky_below : how far the sky is below outdoor air, where it was not logged [K]
    """
    wind = log["wind"] if log.has("wind") else np.full(len(log), wind_speed)
    return np.where(np.isfinite(wind), np.maximum(wind, 0.0), wind_speed), log["ambient"] - sky_below


def sections(log: TestLog, sun: Sunlight, bench: Bench, wind_speed: float, sky_below: float) -> list[Section]:
    """Return the stretches of a log.

    Parameters
    ----------
    log : with ambient, inlet, outlet and flow
    sun : on the plane, of the same rows
    bench : the collector
    wind_speed, sky_below : where they were not logged [m/s], [K]
    """
    ambient, inlet, flow = (_bridged(log[name], log.step) for name in ("ambient", "inlet", "flow"))
    parts = [_bridged(part, log.step) for part in (sun.beam, sun.sky, sun.ground)]
    wind, _ = weather_of(log, wind_speed, sky_below)
    whole = np.isfinite(ambient + inlet + flow + sum(parts))
    found = []
    for first, end in runs(whole):
        if (end - first) * log.step < SHORTEST:
            continue
        rows = slice(first, end)
        course = Course(
            log.step,
            ambient[rows],
            ambient[rows] - sky_below,
            wind[rows],
            inlet[rows],
            np.maximum(flow[rows], 0.0),
            sun.incidence[rows],
            *(np.maximum(part[rows], 0.0) for part in parts),
        )
        read = {name: _comparable(log[name][rows], course) for name in SIGNALS if log.has(name)}
        forcing = bench.forcing(course)
        more = bench.wind_films(1.1 * course.wind) - forcing.weather[:, 2]
        found.append(Section(course, forcing, 10.0 * more, read, rows))
    return found


def runs(flags: np.ndarray) -> list[tuple[int, int]]:
    """Return first and end of every stretch of true flags.

    >>> runs(np.array([True, True, False, True]))
    [(0, 2), (3, 4)]
    """
    padded = np.concatenate([[False], flags, [False]]).astype(np.int8)
    edges = np.flatnonzero(np.diff(padded))
    return list(zip(edges[::2].tolist(), edges[1::2].tolist(), strict=True))


def _bridged(values: Array, step: float) -> Array:
    """Return values with short holes filled by straight lines."""
    filled = values.copy()
    hole = ~np.isfinite(values)
    for first, end in runs(hole):
        inside = first > 0 and end < values.size
        if inside and (end - first) * step <= BRIDGED:
            filled[first:end] = np.interp(
                np.arange(first, end), [first - 1, end], [values[first - 1], values[end]]
            )
    return filled


def _comparable(read: Array, course: Course) -> Array:
    """Return readings where the fan has run for a while, NaN elsewhere."""
    most = float(course.flow.max(initial=0.0))
    wait = round(STARTS / course.step)
    kept = np.full(read.size, np.nan)
    for first, end in runs(course.flow > max(RESTS * most, 1.0e-9)):
        kept[first + wait : end] = read[first + wait : end]
    return kept


def block_means(values: Array, size: int) -> Array:
    """Return means over so many rows [block], the rest at the end dropped."""
    whole = values.size // size
    return np.asarray(values[: whole * size].reshape(whole, size).mean(axis=1))
