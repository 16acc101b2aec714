"""Values no weather has: wrong units, swapped columns and missing codes are caught by their range."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from simengine.errors import WeatherError
from simengine.weather.record import Floats, Record
from simengine.weather.series import Finding


@dataclass(frozen=True)
class Range:
    """What a column may hold, how far beyond it a reading is only noise, and the likely slip."""

    low: float
    high: float
    unit: str
    noise: float
    slip: str


RANGES: Final = {
    "ghi": Range(0.0, 1600.0, "W/m2", 20.0, "another unit or column"),
    "dni": Range(0.0, 1500.0, "W/m2", 20.0, "another unit or column"),
    "dhi": Range(0.0, 1100.0, "W/m2", 20.0, "another unit or column"),
    "temp_air": Range(-90.0, 60.0, "degC", 0.0, "Fahrenheit, kelvin or another column"),
    "temp_dew": Range(-100.0, 40.0, "degC", 0.0, "Fahrenheit, kelvin or another column"),
    "relative_humidity": Range(0.0, 100.0, "%", 10.0, "another column"),
    "pressure": Range(50_000.0, 110_000.0, "Pa", 0.0, "hPa, kPa or another column"),
    "wind_speed": Range(0.0, 60.0, "m/s", 0.0, "km/h, a direction or another column"),
    "longwave_down": Range(40.0, 700.0, "W/m2", 0.0, "another unit or column"),
    "albedo": Range(0.0, 1.0, "-", 0.0, "percent or another column"),
    "snow_depth": Range(0.0, 30.0, "m", 0.0, "cm or another column"),
}
"""Limits wider than any place on Earth (common practice; a warm sea's dew point stays below 36 degC)."""

HOTTEST_YEAR: Final = 35.0
"""No place's annual mean temperature is higher [degC] (Dallol, Ethiopia, about 34.6; from memory)."""


def checked(record: Record) -> tuple[dict[str, Floats], list[Finding]]:
    """Return the columns with instrument noise cut back to the range.

    Raises
    ------
    WeatherError
        One line for each column that holds what no weather holds.
    """
    problems: list[str] = []
    findings: list[Finding] = []
    columns = {}
    for name, values in record.columns.items():
        columns[name], found = _cut(record, name, values, problems)
        findings += found
    if not problems:
        problems += _pairs(record, columns)
    if problems:
        raise WeatherError(*problems)
    return columns, findings


def _cut(record: Record, name: str, values: Floats, problems: list[str]) -> tuple[Floats, list[Finding]]:
    limits = RANGES[name]
    with np.errstate(invalid="ignore"):
        low, high = (
            limits.low - limits.noise,
            limits.high + (limits.noise if name == "relative_humidity" else 0),
        )
        outside = np.flatnonzero((values < low) | (values > high))
        noisy = int(np.count_nonzero((values < limits.low) | (values > limits.high)))
    if outside.size:
        row = int(outside[0])
        problems.append(
            f"{record.place(row)}: {name}: {values[row]:g} in {outside.size} rows, {limits.slip}?;"
            f" {limits.low:g} to {limits.high:g} {limits.unit} is accepted"
        )
    if not noisy or outside.size:
        return values, []
    told = (
        f"{name}: {noisy} values just outside {limits.low:g} to {limits.high:g} {limits.unit} cut back to it"
    )
    return np.clip(values, limits.low, limits.high), [Finding("info", told)]


def _pairs(record: Record, columns: dict[str, Floats]) -> list[str]:
    """Return what is wrong between columns, each of which is in range by itself."""
    problems = []
    air = columns.get("temp_air")
    if air is not None and np.any(np.isfinite(air)) and np.nanmean(air) > HOTTEST_YEAR:
        mean = float(np.nanmean(air))
        problems.append(f"{record.name}: temp_air: a mean of {mean:.1f}, Fahrenheit?; degC is accepted")
    problems += _exceeds(record, columns, ("temp_dew", "temp_air"), 1.0)
    problems += _exceeds(record, columns, ("dhi", "ghi"), 25.0)
    return problems


def _exceeds(record: Record, columns: dict[str, Floats], names: tuple[str, str], margin: float) -> list[str]:
    lower, upper = (columns.get(name) for name in names)
    if lower is None or upper is None:
        return []
    both = np.isfinite(lower) & np.isfinite(upper) & ((lower != 0.0) | (upper != 0.0))
    with np.errstate(invalid="ignore"):
        wrong = np.flatnonzero(both & (lower > upper + margin))
    if wrong.size <= 0.1 * np.count_nonzero(both):
        return []
    return [
        f"{record.place(int(wrong[0]))}: {names[0]}: above {names[1]} in {wrong.size} rows, swapped columns?;"
        f" {names[0]} not above {names[1]} is accepted"
    ]
