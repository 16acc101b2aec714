"""From a reader's record to the canonical series: calendar, ranges, completion, gaps, closure."""

import numpy as np
import pandas as pd

from simengine.air import psychrometrics
from simengine.constants import ZERO_CELSIUS
from simengine.errors import WeatherError
from simengine.weather import calendar, closure, gaps, plausible, ranges, site, split
from simengine.weather.calendar import Placed
from simengine.weather.closure import Closure
from simengine.weather.content import printable
from simengine.weather.geometry import SunPath, sun_path
from simengine.weather.record import Floats, Record
from simengine.weather.series import COLUMNS, Finding, WeatherSeries

NEEDED = ("temp_air", "wind_speed")

HOPELESS_CLOSURE = 150.0
"""Even at its best shift [W/m2]: the radiation columns aren't what they are called."""

LONGEST_STATION = 200
"""Letters of a station's name that are kept [-]."""


def finish(record: Record, sha256: str) -> WeatherSeries:
    """Return the canonical series of a record.

    Parameters
    ----------
    record : Record
        As a reader made it.
    sha256 : str
        Of the file's bytes.

    Raises
    ------
    WeatherError
        When the record can't be made into whole years of sound weather.
    """
    findings = site.check_site(record)
    _check_columns(record)
    checked, noise = ranges.checked(record)
    placed = calendar.place(record)
    columns = {name: values[placed.rows] for name, values in checked.items()}
    elevation, completed = _complete(record, columns, placed)
    agreement, utc_offset, judged = _held_against_the_sun(record, columns, placed)
    findings += [*placed.findings, *noise, *completed, *judged]
    return WeatherSeries(
        station=printable(record.station, LONGEST_STATION),
        format=record.format,
        latitude=record.latitude,
        longitude=record.longitude,
        elevation=elevation,
        utc_offset=utc_offset,
        step=record.step,
        wind_height=record.wind_height,
        data=pd.DataFrame({name: columns[name] for name in COLUMNS}, index=placed.index),
        findings=tuple(dict.fromkeys(findings)),
        closure_rmse=agreement.rmse,
        closure_shift=agreement.shift,
        sha256=sha256,
        synthetic=record.synthetic,
    )


def _sun(record: Record, index: pd.DatetimeIndex, utc_offset: float) -> SunPath:
    return sun_path(index, utc_offset, record.step, (record.latitude, record.longitude))


def _complete(record: Record, columns: dict[str, Floats], placed: Placed) -> tuple[float, list[Finding]]:
    """Fill in all that is missing; return the elevation [m] and what was done or looks odd."""
    elevation, findings = _complete_air(record, columns, placed.index.size)
    sun = _sun(record, placed.index, placed.utc_offset)
    findings += split.complete_radiation(columns, sun)
    findings += gaps.fill(record.name, columns, placed.index, record.step, sun)
    findings += site.check_pressure(elevation, columns["pressure"])
    findings += plausible.check_change(record.name, columns)
    for check in (plausible.check_snow, plausible.check_longwave, plausible.check_humidity):
        findings += check(columns)
    return elevation, findings


def _held_against_the_sun(
    record: Record, columns: dict[str, Floats], placed: Placed
) -> tuple[Closure, float, list[Finding]]:
    """Return the closure, the clock [h] that the sun agrees to, and what there is to say."""
    findings = []
    utc_offset = placed.utc_offset
    agreement = closure.scan(columns, placed.index, _sun(record, placed.index, utc_offset))
    other = record.other_label
    if other and abs(agreement.shift - other) < abs(agreement.shift):
        utc_offset -= other
        agreement = closure.scan(columns, placed.index, _sun(record, placed.index, utc_offset))
        findings.append(
            Finding("info", f"the sun shows the labels to be {other:+.3g} h from the usual reading")
        )
    if agreement.best_rmse > HOPELESS_CLOSURE:
        raise WeatherError(
            f"{record.name}: beam and diffuse miss the global by {agreement.best_rmse:.0f} W/m2 at any hour,"
            " swapped columns?; global, beam at normal incidence and diffuse are accepted"
        )
    return agreement, utc_offset, findings + closure.judge(agreement)


def _check_columns(record: Record) -> None:
    def there(name: str) -> bool:
        return name in record.columns and bool(np.any(np.isfinite(record.columns[name])))

    problems = [f"{record.name}: {name}: not in the file; it is needed" for name in NEEDED if not there(name)]
    if not there("temp_dew") and not there("relative_humidity"):
        problems.append(f"{record.name}: no humidity; temp_dew or relative_humidity is needed")
    radiation = sum(there(name) for name in ("ghi", "dni", "dhi"))
    if not there("ghi") and radiation < 2:
        problems.append(f"{record.name}: no solar radiation; ghi, or dni with dhi, is needed")
    if problems:
        raise WeatherError(*problems)


def _complete_air(record: Record, columns: dict[str, Floats], size: int) -> tuple[float, list[Finding]]:
    """Fill in what other columns or the site give; return the elevation [m] and what was done."""
    findings = []
    elevation = record.elevation
    if np.isnan(elevation):
        elevation = 0.0
        findings.append(Finding("warning", "the file gives no elevation: taken as 0 m"))
    for name in COLUMNS:
        columns.setdefault(name, np.full(size, np.nan))
    air, dew, moist = (columns[name] for name in ("temp_air", "temp_dew", "relative_humidity"))
    kelvin = air + ZERO_CELSIUS
    from_moisture = psychrometrics.dew_point(kelvin, moist / 100.0) - ZERO_CELSIUS
    from_dew = 100.0 * np.minimum(psychrometrics.relative_humidity(kelvin, dew + ZERO_CELSIUS), 1.0)
    findings += _take(columns, "temp_dew", from_moisture, "computed from relative humidity")
    findings += _take(columns, "relative_humidity", from_dew, "computed from the dew point")
    if np.all(np.isnan(columns["pressure"])):
        standard = np.full(size, site.standard_pressure(elevation))
        findings += _take(columns, "pressure", standard, f"from the standard atmosphere at {elevation:g} m")
    columns["albedo"] = np.where(columns["albedo"] < 0.99, columns["albedo"], np.nan)
    columns["albedo"] = np.where(columns["albedo"] > 0.0, columns["albedo"], np.nan)
    default = np.full(size, gaps.DEFAULT_ALBEDO)
    findings += _take(columns, "albedo", default, f"taken as {gaps.DEFAULT_ALBEDO:g}", "info")
    return elevation, findings


def _take(
    columns: dict[str, Floats], name: str, values: Floats, how: str, severity: str = "info"
) -> list[Finding]:
    rows = np.isnan(columns[name]) & np.isfinite(values)
    count = int(np.count_nonzero(rows))
    if not count:
        return []
    whole = count == rows.size
    columns[name] = np.where(rows, values, columns[name])
    what = "not in the file" if whole else f"{count} missing values"
    return [Finding("info" if whole or severity == "info" else "warning", f"{name}: {what}, {how}")]
