"""Water vapour in air: saturation, dew point, relative humidity and humidity ratio.

Every function takes floats or numpy arrays alike.
"""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from simengine.constants import STANDARD_PRESSURE, ZERO_CELSIUS

Number = TypeVar("Number", float, NDArray[np.float64])

_MAGNUS_PRESSURE = 610.94  # [Pa]
_MAGNUS_SLOPE = 17.625  # [-]
_MAGNUS_OFFSET = 243.04  # [K]
_MOLAR_MASS_RATIO = 0.621945  # [-] water to dry air
_LEAST_SHARE = 1e-6  # [-] keeps the logarithm finite in air without any vapour


def saturation_pressure(temperature: Number) -> Number:
    """Return the saturation pressure of water vapour over liquid water.

    Parameters
    ----------
    temperature : float or array
        Air temperature [K], 233 to 333; below freezing over undercooled water, as dew points are.

    Returns
    -------
    float or array
        Vapour pressure [Pa], within 0.4 % of the reference equation over -40 to 50 degC.

    Notes
    -----
    Magnus form with the constants of Alduchov and Eskridge 1996 (from memory).

    Examples
    --------
    >>> round(float(saturation_pressure(293.15)))
    2333
    """
    celsius = temperature - ZERO_CELSIUS
    result: Number = _MAGNUS_PRESSURE * np.exp(_MAGNUS_SLOPE * celsius / (celsius + _MAGNUS_OFFSET))
    return result


def dew_point(temperature: Number, relative_humidity: Number) -> Number:
    """Return the dew point of moist air.

    Parameters
    ----------
    temperature : float or array
        Air temperature [K], 233 to 333.
    relative_humidity : float or array
        Relative humidity [-], 0 to 1; below 1e-6 it is held at 1e-6.

    Returns
    -------
    float or array
        Dew point [K]; the exact inverse of `relative_humidity`.

    Examples
    --------
    >>> round(float(dew_point(293.15, 0.5)) - 273.15, 1)
    9.3
    """
    celsius = temperature - ZERO_CELSIUS
    gamma = np.log(np.maximum(relative_humidity, _LEAST_SHARE)) + _MAGNUS_SLOPE * celsius / (
        celsius + _MAGNUS_OFFSET
    )
    result: Number = ZERO_CELSIUS + _MAGNUS_OFFSET * gamma / (_MAGNUS_SLOPE - gamma)
    return result


def relative_humidity(temperature: Number, dew_point: Number) -> Number:
    """Return the relative humidity that a dew point means.

    Parameters
    ----------
    temperature : float or array
        Air temperature [K], 233 to 333.
    dew_point : float or array
        Dew point [K].

    Returns
    -------
    float or array
        Relative humidity [-]; above 1 where the dew point is above the air temperature.

    Examples
    --------
    >>> round(float(relative_humidity(293.15, 282.42)), 2)
    0.5
    """
    result: Number = saturation_pressure(dew_point) / saturation_pressure(temperature)
    return result


def humidity_ratio(dew_point: Number, pressure: float = STANDARD_PRESSURE) -> Number:
    """Return the mass of vapour per mass of dry air.

    Parameters
    ----------
    dew_point : float or array
        Dew point [K].
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    float or array
        Humidity ratio [kg/kg].

    Examples
    --------
    >>> round(float(humidity_ratio(282.42)), 4)
    0.0072
    """
    vapour = saturation_pressure(dew_point)
    result: Number = _MOLAR_MASS_RATIO * vapour / (pressure - vapour)
    return result


def dew_point_of_ratio(humidity_ratio: Number, pressure: float = STANDARD_PRESSURE) -> Number:
    """Return the dew point of a humidity ratio, the inverse of `humidity_ratio`.

    Parameters
    ----------
    humidity_ratio : float or array
        Mass of vapour per mass of dry air [kg/kg], above 0.
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    float or array
        Dew point [K].

    Examples
    --------
    >>> round(float(dew_point_of_ratio(0.0072)) - 273.15, 1)
    9.2
    """
    vapour = pressure * humidity_ratio / (_MOLAR_MASS_RATIO + humidity_ratio)
    gamma = np.log(np.maximum(vapour, 1e-3) / _MAGNUS_PRESSURE)
    result: Number = ZERO_CELSIUS + _MAGNUS_OFFSET * gamma / (_MAGNUS_SLOPE - gamma)
    return result
