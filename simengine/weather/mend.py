"""Mends a file's clock on request: the sun is put where the radiation saw it, and that is written down."""

import dataclasses

import numpy as np
import pandas as pd

from simengine.weather import closure
from simengine.weather.closure import SHIFT_LIMIT, Closure
from simengine.weather.gaps import runs
from simengine.weather.geometry import sun_path
from simengine.weather.record import Floats
from simengine.weather.series import Finding, WeatherSeries

RADIATION = ("ghi", "dni", "dhi")


def clock_mended(series: WeatherSeries) -> WeatherSeries:
    """Return the series with its time labels put right, as far as the closure scan can tell.

    When all months that can be told are off by about the same, the clock itself is moved. When only some are,
    the radiation of those months is moved by whole intervals; temperatures stay.

    Parameters
    ----------
    series : WeatherSeries
        As read.

    Returns
    -------
    WeatherSeries
        The same series if nothing is off by more than a quarter of an hour, else the mended one with a
        warning.
    """
    agreement = agreement_of(series)
    told = agreement.months[np.isfinite(agreement.months)]
    if told.size == 0 or np.all(np.abs(told) <= SHIFT_LIMIT):
        return series
    if np.ptp(told) <= SHIFT_LIMIT:
        return _clock_moved(series, agreement.shift)
    return _months_moved(series, agreement.months)


def agreement_of(series: WeatherSeries) -> Closure:
    """Return how well beam, diffuse and global of a series agree, for the whole and month by month."""
    columns = {name: series.data[name].to_numpy() for name in RADIATION}
    index = pd.DatetimeIndex(series.data.index)
    sun = sun_path(index, series.utc_offset, series.step, (series.latitude, series.longitude))
    return closure.scan(columns, index, sun)


def _clock_moved(series: WeatherSeries, shift: float) -> WeatherSeries:
    told = f"clock mended on request: every interval taken {shift:+.2f} h later than its label"
    moved = dataclasses.replace(series, utc_offset=series.utc_offset - shift)
    return _judged(moved, Finding("warning", told))


def _months_moved(series: WeatherSeries, months: Floats) -> WeatherSeries:
    data = series.data.copy()
    month = pd.DatetimeIndex(data.index).month.to_numpy() - 1
    names = []
    for number in np.flatnonzero(np.isfinite(months)):
        steps = round(months[number] * 3600.0 / series.step)
        if not steps:
            continue
        for first, last in zip(*runs(month == number), strict=True):
            for name in RADIATION:
                values = data[name].to_numpy(copy=True)
                values[first:last] = np.roll(values[first:last], steps)
                data[name] = values
        names.append(f"{pd.Timestamp(2001, int(number) + 1, 1):%b} {steps * series.step / 3600.0:+.2f} h")
    told = Finding("warning", "clock mended on request: radiation of some months moved", ", ".join(names))
    return _judged(dataclasses.replace(series, data=data), told)


def _judged(series: WeatherSeries, note: Finding) -> WeatherSeries:
    agreement = agreement_of(series)
    kept = [finding for finding in series.findings if not finding.message.startswith(closure.OFF_LABEL)]
    return dataclasses.replace(
        series,
        findings=(*kept, note, *closure.judge(agreement)),
        closure_rmse=agreement.rmse,
        closure_shift=agreement.shift,
    )
