"""The weather years that travel with the package."""

from pathlib import Path
from typing import Final

from simengine.data_files import data_path
from simengine.errors import WeatherError
from simengine.weather.reading import read_weather
from simengine.weather.series import WeatherSeries

BUILTIN: Final = {"greensboro": "greensboro.csv.gz", "sand_point": "sand_point.csv.gz"}
"""Name -> file in the weather folder."""


def builtin_names() -> tuple[str, ...]:
    """Return the names of the built-in years.

    Examples
    --------
    >>> builtin_names()
    ('greensboro', 'sand_point')
    """
    return tuple(BUILTIN)


def builtin(name: str) -> WeatherSeries:
    """Return a built-in year.

    Parameters
    ----------
    name : str
        One of `builtin_names()`.

    Raises
    ------
    WeatherError
        When there is no such year.
    """
    if name not in BUILTIN:
        raise WeatherError(f"no built-in weather year {name!r}; accepted: {', '.join(BUILTIN)}")
    return read_weather(builtin_path(name))


def builtin_path(name: str) -> Path:
    """Return where a built-in year's file lies."""
    return data_path("weather", BUILTIN[name])
