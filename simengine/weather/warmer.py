"""A what-if: the same weather, warmer by so much; nothing but air, moisture and the sky's warmth moves."""

import dataclasses
import hashlib
from typing import Final

from simengine.air import psychrometrics
from simengine.constants import STEFAN_BOLTZMANN, ZERO_CELSIUS
from simengine.errors import WeatherError
from simengine.weather.normals import Normals
from simengine.weather.series import Finding, WeatherSeries

LIMIT: Final = 10.0
"""Shift [K] beyond which this is no longer the climate of the place."""

LABEL: Final = "what-if"


def warmed(series: WeatherSeries, shift: float) -> WeatherSeries:
    """Return the series with every hour warmer by one shift, labelled as a what-if.

    The relative humidity stays (common practice in climate studies: it changes little as air warms), so the
    dew point rises with the air. Where the file has the sky's long-wave irradiance, the sky's temperature
    rises by the same shift. Sun, wind, pressure and snow stay as they are.

    Parameters
    ----------
    series : WeatherSeries
        Any series: read, built in, synthetic or fetched.
    shift : float
        [K], -10 to 10; 0 gives the series back.

    Returns
    -------
    WeatherSeries
        Its station, its findings and its hash say what was done.

    Raises
    ------
    WeatherError
        When the shift is larger.

    Examples
    --------
    >>> from simengine.weather import builtin
    >>> warmed(builtin("greensboro"), 2.0).station
    'GREENSBORO PIEDMONT TRIAD INT, NC, warmer by 2 K (what-if)'
    """
    if not abs(shift) <= LIMIT:
        raise WeatherError(f"warmer by {shift:g} K; -{LIMIT:g} to {LIMIT:g} K is accepted")
    if shift == 0.0:
        return series
    data = series.data.copy()
    air = data["temp_air"].to_numpy() + ZERO_CELSIUS
    moist = psychrometrics.relative_humidity(air, data["temp_dew"].to_numpy() + ZERO_CELSIUS)
    data["temp_air"] = air + shift - ZERO_CELSIUS
    data["temp_dew"] = psychrometrics.dew_point(air + shift, moist) - ZERO_CELSIUS
    if data["longwave_down"].notna().all():
        sky = (data["longwave_down"].to_numpy() / STEFAN_BOLTZMANN) ** 0.25
        data["longwave_down"] = STEFAN_BOLTZMANN * (sky + shift) ** 4
    word = f"{'warmer' if shift > 0.0 else 'colder'} by {abs(shift):g} K"
    told = Finding(
        "warning",
        f"{LABEL}: every hour {word} than in the file, at the same relative humidity; the sky {word} too; "
        "sun, wind, pressure and snow as in the file",
    )
    return dataclasses.replace(
        series,
        station=f"{series.station}, {word} ({LABEL})",
        data=data,
        findings=(*series.findings, told),
        warmer=series.warmer + shift,
        sha256=hashlib.sha256(f"{series.sha256} shifted by {shift!r} K".encode()).hexdigest(),
    )


def warmed_normals(normals: Normals, shift: float) -> Normals:
    """Return monthly normals with every month warmer by one shift [K]; a synthetic year may follow from them.

    Examples
    --------
    >>> warmed_normals(Normals(ghi=(3.0,) * 12, temp_air=(10.0,) * 12), 2.0).temp_air[0]
    12.0
    """
    return dataclasses.replace(normals, temp_air=tuple(value + shift for value in normals.temp_air))
