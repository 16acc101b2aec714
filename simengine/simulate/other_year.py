"""The same weather in a warmer or sunnier year than the file's."""

from dataclasses import replace
from typing import TYPE_CHECKING

from simengine.constants import ZERO_CELSIUS

if TYPE_CHECKING:
    from simengine.weather import WeatherSeries


def other_year(series: "WeatherSeries", temperature_shift: float, sun_factor: float) -> "WeatherSeries":
    """Return a series with every outdoor temperature shifted and all sun scaled.

    Parameters
    ----------
    series : the weather of the file
    temperature_shift : added to air and dew point [K]; long-wave radiation follows the air
    sun_factor : on direct and diffuse sun [-]

    Returns
    -------
    WeatherSeries; the very same one where nothing is changed

    Source: definition; the clock, the cloud and the humidity of the hours stay as they are.

    >>> from simengine.weather import builtin
    >>> year = builtin("greensboro")
    >>> round(float((other_year(year, 1.5, 1.0).data.temp_air - year.data.temp_air).mean()), 9)
    1.5
    """
    if temperature_shift == 0.0 and sun_factor == 1.0:
        return series
    data = series.data.copy()
    ambient = data["temp_air"] + ZERO_CELSIUS
    data["longwave_down"] *= ((ambient + temperature_shift) / ambient) ** 4
    for name in ("temp_air", "temp_dew"):
        data[name] += temperature_shift
    for name in ("ghi", "dni", "dhi"):
        data[name] *= sun_factor
    return replace(series, data=data)
