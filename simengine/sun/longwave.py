"""How cold the sky is: from the file's long-wave where it has one, else from dew point, hour and clouds."""

from collections.abc import Callable
from typing import TYPE_CHECKING, Final

import numpy as np

from simengine.constants import STEFAN_BOLTZMANN, ZERO_CELSIUS
from simengine.errors import InputError
from simengine.sun.calendar import FloatArray, column
from simengine.sun.clouds import cloud_cover
from simengine.sun.position import SunPosition

if TYPE_CHECKING:
    from simengine.weather.series import WeatherSeries

CLOUD_STRENGTH: Final = 0.74
"""Share of the clear sky's window that a full cover of the usual low and middle clouds closes [-].

exp(-cloud base / 8.2 km) (Martin and Berdahl 1984, from memory) for a base of 2.5 km.
"""

ClearSky = Callable[[FloatArray, FloatArray, FloatArray], FloatArray]


def sky_temperature_from_longwave(longwave_down: FloatArray) -> FloatArray:
    """Return the temperature of a black sky that sends a given long-wave irradiance.

    Parameters
    ----------
    longwave_down:
        On a level plane [W/m2].

    Returns
    -------
    Sky temperature [K]. Source: Stefan-Boltzmann law.

    >>> round(float(sky_temperature_from_longwave(np.array([315.0]))[0]), 2)
    273.01
    """
    return np.sqrt(np.sqrt(longwave_down / STEFAN_BOLTZMANN))


def clear_sky_emissivity(temp_dew: FloatArray, solar_time: FloatArray | None = None) -> FloatArray:
    """Return the emissivity of a clear sky by dew point and hour.

    Parameters
    ----------
    temp_dew:
        Dew point [degC].
    solar_time:
        True solar time from midnight [h]; None leaves the hour's term out.

    Returns
    -------
    Emissivity [-].

    Fitted for dew points of about -20 to 30 degC. The authors' small pressure term is left out.
    Source: Berdahl and Martin, Solar Energy 32 (1984) (from memory).

    >>> round(float(clear_sky_emissivity(np.array([10.0]))[0]), 4)
    0.7743
    """
    dew = temp_dew / 100.0
    emissivity = 0.711 + 0.56 * dew + 0.73 * dew**2
    if solar_time is not None:
        emissivity = emissivity + 0.013 * np.cos(np.radians(15.0 * solar_time))
    return emissivity


def berdahl_martin(temp_air: FloatArray, temp_dew: FloatArray, solar_time: FloatArray) -> FloatArray:
    """Return the clear sky's temperature by dew point and hour.

    Parameters
    ----------
    temp_air:
        Air temperature [K].
    temp_dew:
        Dew point [degC].
    solar_time:
        True solar time from midnight [h].

    Returns
    -------
    Sky temperature [K]. Range and source: see `clear_sky_emissivity`.

    >>> round(float(berdahl_martin(np.array([293.15]), np.array([10.0]), np.array([0.0]))[0]), 2)
    276.14
    """
    return temp_air * clear_sky_emissivity(temp_dew, solar_time) ** 0.25


def swinbank(temp_air: FloatArray, temp_dew: FloatArray, solar_time: FloatArray) -> FloatArray:
    """Return the clear sky's temperature by air temperature alone.

    Parameters
    ----------
    temp_air:
        Air temperature [K].
    temp_dew, solar_time:
        Not used [degC], [h].

    Returns
    -------
    Sky temperature [K]. Source: Swinbank 1963, 0.0552 T^1.5, clear skies, 0 to 30 degC about (from memory).

    >>> round(float(swinbank(np.array([293.0]), np.array([0.0]), np.array([0.0]))[0]), 2)
    276.85
    """
    return 0.0552 * temp_air**1.5


def whillier(temp_air: FloatArray, temp_dew: FloatArray, solar_time: FloatArray) -> FloatArray:
    """Return the sky's temperature as 6 K below the air's.

    Parameters
    ----------
    temp_air:
        Air temperature [K].
    temp_dew, solar_time:
        Not used [degC], [h].

    Returns
    -------
    Sky temperature [K]. Source: Whillier 1967, a rule for hot sunny weather (from memory).

    >>> float(whillier(np.array([293.0]), np.array([0.0]), np.array([0.0]))[0])
    287.0
    """
    return temp_air - 6.0


def clark_allen(temp_air: FloatArray, temp_dew: FloatArray, solar_time: FloatArray) -> FloatArray:
    """Return the clear sky's temperature by the logarithm of the dew point.

    Parameters
    ----------
    temp_air:
        Air temperature [K].
    temp_dew:
        Dew point [degC].
    solar_time:
        Not used [h].

    Returns
    -------
    Sky temperature [K]. Source: Clark and Allen 1978, emissivity 0.787 + 0.764 ln(T_dew / 273), T_dew in K
    (from memory).

    >>> air, dew = np.array([293.15]), np.array([10.0])
    >>> round(float((clark_allen(air, dew, dew) / air)[0] ** 4), 4)
    0.8149
    """
    return temp_air * (0.787 + 0.764 * np.log((temp_dew + ZERO_CELSIUS) / 273.0)) ** 0.25


CLEAR_SKIES: Final[dict[str, ClearSky]] = {
    relation.__name__: relation for relation in (berdahl_martin, swinbank, whillier, clark_allen)
}
"""The relations for a clear sky's temperature by name."""


def cloudy(clear: FloatArray, temp_air: FloatArray, cover: FloatArray) -> FloatArray:
    """Return the sky's temperature with clouds, from the clear sky's.

    Parameters
    ----------
    clear:
        Temperature of the clear sky [K].
    temp_air:
        Air temperature [K].
    cover:
        Share of the sky covered by clouds that long-wave doesn't pass [-], 0 to 1.

    Returns
    -------
    Sky temperature [K]: emissivity e + (1 - e) 0.74 cover. Never above the air's unless the clear sky's was.

    Source: form of Martin and Berdahl, Solar Energy 33 (1984) (from memory).

    >>> air = np.array([280.0])
    >>> bool(cloudy(air - 20.0, air, np.array([0.0]))[0] == 260.0)
    True
    """
    emissivity = (clear / temp_air) ** 4
    closed = np.maximum(1.0 - emissivity, 0.0) * CLOUD_STRENGTH * cover
    return np.where(closed > 0.0, temp_air * (emissivity + closed) ** 0.25, clear)


def sky_temperature(
    series: "WeatherSeries", position: SunPosition, clear_sky: str = "berdahl_martin"
) -> FloatArray:
    """Return the sky's temperature in every interval.

    Parameters
    ----------
    series:
        The weather; an interval with a long-wave irradiance takes it.
    position:
        The sun of the same intervals.
    clear_sky:
        For the other intervals, the name of a relation in `CLEAR_SKIES`; clouds are then added.

    Returns
    -------
    Sky temperature [K], shape [interval].

    Raises
    ------
    InputError
        If the relation is unknown.

    Source: see the relations, `cloudy` and `cloud_cover`.

    >>> from simengine.sun.position import solar_position
    >>> from simengine.weather import builtin
    >>> year = builtin("greensboro")
    >>> colder = year.data.temp_air + ZERO_CELSIUS - sky_temperature(year, solar_position(year))
    >>> bool(5.0 < colder.mean() < 20.0)
    True
    """
    if clear_sky not in CLEAR_SKIES:
        raise InputError(f"clear sky '{clear_sky:.40}' is unknown; accepted: {', '.join(CLEAR_SKIES)}")
    longwave = column(series, "longwave_down")
    recorded = np.isfinite(longwave) & (longwave > 0.0)
    measured = sky_temperature_from_longwave(np.where(recorded, longwave, 0.0))
    if np.all(recorded):
        return measured
    air = column(series, "temp_air") + ZERO_CELSIUS
    clear = CLEAR_SKIES[clear_sky](air, column(series, "temp_dew"), position.solar_time)
    return np.where(recorded, measured, cloudy(clear, air, cloud_cover(series, position)))
