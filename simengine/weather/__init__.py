"""Weather files in, one frozen canonical series out."""

from simengine.weather.library import builtin, builtin_names
from simengine.weather.reading import read_weather
from simengine.weather.series import Finding, WeatherSeries

__all__ = ["Finding", "WeatherSeries", "builtin", "builtin_names", "read_weather"]
