"""What a weather file holds, and what was noticed about it, as a person reads it."""

from collections.abc import Mapping
from typing import Any

import numpy as np
import pandas as pd

from simengine.report.figures import MONTH_NAMES
from simengine.report.shown import Shown
from simengine.report.tables import columns
from simengine.report.words import printable
from simengine.results import aggregate
from simengine.weather import WeatherSeries


def facts(series: WeatherSeries) -> dict[str, Any]:
    """Return what a series holds, ready for strict JSON.

    Parameters
    ----------
    series : a weather year

    Returns
    -------
    Place, format, sums of the year, twelve months, and every finding; units are in the keys.
    """
    step = float(series.step)
    warmth = series.data["temp_air"].to_numpy(dtype=np.float64)
    sun = series.data["ghi"].to_numpy(dtype=np.float64)
    return {
        "station": series.station,
        "format": series.format,
        "latitude": series.latitude,
        "longitude": series.longitude,
        "elevation_m": series.elevation,
        "utc_offset_h": series.utc_offset,
        "step_s": series.step,
        "intervals": len(series.data),
        "first": str(series.data.index[0]),
        "last": str(series.data.index[-1]),
        "wind_height_m": series.wind_height,
        "synthetic": series.synthetic,
        "ghi_kwh_m2": aggregate.energy(sun, step),
        "mean_temperature_c": float(warmth.mean()),
        "lowest_temperature_c": float(warmth.min()),
        "highest_temperature_c": float(warmth.max()),
        "mean_wind_m_s": float(series.data["wind_speed"].mean()),
        "hdd18_kd": aggregate.heating_degree_days(warmth, step),
        "longwave": bool(series.data["longwave_down"].notna().all()),
        "closure_rmse_w_m2": float(series.closure_rmse),
        "closure_shift_h": float(series.closure_shift),
        "sha256": series.sha256,
        "months": _months(series),
        "findings": [
            {"severity": finding.severity, "message": finding.message, "when": finding.when}
            for finding in series.findings
        ],
    }


def listing(series: WeatherSeries, units: Shown) -> str:
    """Return what a series holds as lines of text, findings last.

    Parameters
    ----------
    series : a weather year
    units : the unit system to write in

    Returns
    -------
    Lines of text.
    """
    known = facts(series)
    rows = _rows(series, known, units)
    width = max(len(label) for label, _ in rows)
    lines = [f"{label.ljust(width)}  {text}" for label, text in rows]
    return "\n".join([*lines, "", *_month_table(known["months"], units), "", *_findings(series)])


def _rows(series: WeatherSeries, known: Mapping[str, Any], units: Shown) -> list[tuple[str, str]]:
    lowest, mean, highest = (
        units.temperature(known[f"{which}_temperature_c"]) for which in ("lowest", "mean", "highest")
    )
    height = units.quantity(series.elevation, "length")
    sky = "in the file" if known["longwave"] else "not in the file, worked out from the dew point"
    return [
        ("station", printable(series.station)),
        ("format", printable(series.format) + (", made from monthly normals" if series.synthetic else "")),
        ("place", f"{series.latitude:.3f}°, {series.longitude:.3f}°, {height} above the sea"),
        ("time", f"{known['first']} to {known['last']} in steps of {series.step} s"),
        ("clock", f"UTC{series.utc_offset:+g} h, no daylight saving"),
        ("sun, horizontal", f"{known['ghi_kwh_m2']:.0f} kWh/m² a year"),
        ("air", f"{lowest} to {highest}, mean {mean}"),
        ("heating degree days", units.degree_days(known["hdd18_kd"])),
        ("wind", f"{units.quantity(known['mean_wind_m_s'], 'speed')} at {series.wind_height:g} m, mean"),
        ("long-wave of the sky", sky),
        ("sun columns agree to", f"{series.closure_rmse:.1f} W/m²"),
        ("shift of time labels", f"{series.closure_shift:+.2f} h"),
    ]


def _months(series: WeatherSeries) -> list[dict[str, float]]:
    step = float(series.step)
    months = pd.DatetimeIndex(series.data.index).month.to_numpy() - 1
    warmth = series.data["temp_air"].to_numpy(dtype=np.float64)
    sun = series.data["ghi"].to_numpy(dtype=np.float64) * step / aggregate.JOULES_PER_KWH
    years = aggregate.years(len(months), step)
    counts = np.maximum(aggregate.monthly(np.ones(len(months)), months), 1.0)
    sums, means = aggregate.monthly(sun, months) / years, aggregate.monthly(warmth, months) / counts
    return [
        {"ghi_kwh_m2": float(total), "mean_temperature_c": float(mean)}
        for total, mean in zip(sums, means, strict=True)
    ]


def _month_table(months: list[dict[str, float]], units: Shown) -> list[str]:
    heads = ["", *MONTH_NAMES]
    sun = ["kWh/m²", *(f"{month['ghi_kwh_m2']:.0f}" for month in months)]
    warmth = [units.temperature(month["mean_temperature_c"]) for month in months]
    degrees = [warmth[0].split()[1], *(text.split()[0] for text in warmth)]
    return columns([heads, sun, degrees])


def _findings(series: WeatherSeries) -> list[str]:
    if not series.findings:
        return ["Nothing in it was found wanting."]
    return [printable(str(finding)) for finding in series.findings]
