"""What a weather file holds, and what was noticed about it, as a person reads it."""

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
import pandas as pd

from simengine.report.figures import MONTH_NAMES
from simengine.report.shown import Shown
from simengine.report.tables import columns
from simengine.report.words import printable
from simengine.results import aggregate
from simengine.units.factors import KWH
from simengine.weather import Finding, WeatherSeries
from simengine.weather.mend import agreement_of

SEVERITIES = ("error", "warning", "info")


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
    rows = facts_rows(series, known, units)
    width = max(len(label) for label, _ in rows)
    lines = [f"{label.ljust(width)}  {text}" for label, text in rows]
    return "\n".join([*lines, "", *_month_table(known["months"], units), "", *_findings(series)])


def facts_rows(series: WeatherSeries, known: Mapping[str, Any], units: Shown) -> list[tuple[str, str]]:
    """Return label and text of every fact about a series.

    Parameters
    ----------
    series : whole years of weather
    known : its facts, as `facts` gives them
    units : the system to write in
    """
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


def _months(series: WeatherSeries) -> list[dict[str, float | None]]:
    step = float(series.step)
    agreement = agreement_of(series)
    months = pd.DatetimeIndex(series.data.index).month.to_numpy() - 1
    warmth = series.data["temp_air"].to_numpy(dtype=np.float64)
    sun = series.data["ghi"].to_numpy(dtype=np.float64) * step / KWH
    years = aggregate.years(len(months), step)
    by_month = aggregate.Months(months)
    counts = np.maximum(by_month.sums(np.ones(len(months))), 1.0)
    sums, means = by_month.sums(sun) / years, by_month.sums(warmth) / counts
    return [
        {
            "ghi_kwh_m2": float(sums[month]),
            "mean_temperature_c": float(means[month]),
            "closure_rmse_w_m2": float(agreement.month_rmse[month]),
            "closure_shift_h": _known(agreement.months[month]),
        }
        for month in range(12)
    ]


def _known(value: float) -> float | None:
    return float(value) if np.isfinite(value) else None


def _month_table(months: list[dict[str, Any]], units: Shown) -> list[str]:
    heads = ["", *MONTH_NAMES]
    sun = ["kWh/m²", *(f"{month['ghi_kwh_m2']:.0f}" for month in months)]
    warmth = [units.temperature(month["mean_temperature_c"]) for month in months]
    degrees = [warmth[0].split()[1], *(text.split()[0] for text in warmth)]
    misses = ["miss, W/m²", *(f"{month['closure_rmse_w_m2']:.1f}" for month in months)]
    shifts = ["shift, h", *(shift_text(month["closure_shift_h"]) for month in months)]
    return columns([heads, sun, degrees, misses, shifts])


def shift_text(hours: float | None) -> str:
    """Return a shift of the sun's clock; a dash where no hour fits better than another.

    Parameters
    ----------
    hours : [h], None where none is known

    >>> shift_text(0.5), shift_text(-0.001), shift_text(None)
    ('+0.50', '0.00', '-')
    """
    if hours is None:
        return "-"
    return "0.00" if abs(hours) < 0.005 else f"{hours:+.2f}"


def graded(findings: Sequence[Finding]) -> list[Finding]:
    """Return findings with the grave ones first."""
    return sorted(findings, key=lambda finding: SEVERITIES.index(finding.severity))


def counted(findings: Sequence[Finding]) -> str:
    """Return how many findings of each severity there are.

    >>> counted([Finding("warning", "a"), Finding("info", "b"), Finding("info", "c")])
    '1 warning, 2 notes'
    """
    if not findings:
        return "Nothing in it was found wanting."
    told = []
    for severity, word in zip(SEVERITIES, ("error", "warning", "note"), strict=True):
        number = sum(finding.severity == severity for finding in findings)
        if number:
            told.append(f"{number} {word}{'s' if number > 1 else ''}")
    return ", ".join(told)


def _findings(series: WeatherSeries) -> list[str]:
    found = graded(series.findings)
    return [counted(found), *(f"  {printable(str(finding))}" for finding in found)]
