"""A series on another step, by means: energy is kept exactly, finer steps follow the sun."""

import dataclasses

import numpy as np
import pandas as pd

from simengine.errors import WeatherError
from simengine.weather.geometry import SunPath, sun_path
from simengine.weather.record import Floats
from simengine.weather.series import Finding, WeatherSeries

RADIATION = ("ghi", "dni", "dhi")


def resampled(series: WeatherSeries, step: int) -> WeatherSeries:
    """Return the series on another step; every old interval keeps its means.

    Parameters
    ----------
    series : WeatherSeries
        Any series.
    step : int
        New step [s], 60 to 3600; a multiple or a divisor of the old one.

    Returns
    -------
    WeatherSeries
        Coarser: plain means. Finer: radiation is spread by the extraterrestrial over the old interval, the
        rest stays constant within it. It is said in a finding.

    Raises
    ------
    WeatherError
        When the steps don't fit.
    """
    old = series.step
    if not 60 <= step <= 3600 or 3600 % step or (old % step and step % old):
        raise WeatherError(f"step {step} s from {old} s; a multiple or divisor, 60 to 3600 s, is accepted")
    if step == old:
        return series
    data = _coarser(series, step // old) if step > old else _finer(series, step)
    note = Finding("info", f"resampled from {old} s to {step} s")
    return dataclasses.replace(series, data=data, step=step, findings=(*series.findings, note))


def _coarser(series: WeatherSeries, count: int) -> pd.DataFrame:
    old = series.data
    values = {name: old[name].to_numpy().reshape(-1, count).mean(axis=1) for name in old}
    return pd.DataFrame(values, index=_index(old, len(old) // count, series.step * count))


def _finer(series: WeatherSeries, step: int) -> pd.DataFrame:
    old, count = series.data, series.step // step
    index = _index(old, len(old) * count, step)
    sun = sun_path(index, series.utc_offset, step, (series.latitude, series.longitude))
    values = {name: np.repeat(old[name].to_numpy(), count) for name in old}
    for name in RADIATION:
        values[name] = values[name] * _shape(sun, name, count)
    return pd.DataFrame(values, index=index)


def _shape(sun: SunPath, name: str, count: int) -> Floats:
    """Return the extraterrestrial of each new interval over the mean of its old one [-]; 1 at night."""
    cosine, share = sun.sunlit()
    outside = (share if name == "dni" else cosine * share).reshape(-1, count)
    mean = outside.mean(axis=1, keepdims=True)
    return np.where(mean > 1e-6, outside / np.maximum(mean, 1e-6), 1.0).ravel()


def _index(old: pd.DataFrame, periods: int, step: int) -> pd.DatetimeIndex:
    return pd.date_range(old.index[0], periods=periods, freq=pd.Timedelta(seconds=step))
