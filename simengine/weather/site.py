"""Where the file says it is, held against its clock and its air pressure."""

from typing import Final

import numpy as np

from simengine.errors import WeatherError
from simengine.weather.record import Floats, Record
from simengine.weather.series import Finding

CLOCK_WARNING: Final = 2.0
CLOCK_ERROR: Final = 3.5
"""Clock against longitude / 15 [h]."""

PRESSURE_WARNING: Final = 0.04
"""Mean pressure against the standard atmosphere of the elevation [-]; about 350 m."""


def standard_pressure(elevation: float) -> float:
    """Return the pressure of the standard atmosphere [Pa] at an elevation [m] (ISO 2533, below 11 km).

    Examples
    --------
    >>> round(standard_pressure(1500.0))
    84556
    """
    return float(101325.0 * (1.0 - 2.25577e-5 * elevation) ** 5.25588)


def check_site(record: Record) -> list[Finding]:
    """Return warnings on position and clock.

    Raises
    ------
    WeatherError
        When the position isn't on Earth or the clock can't be that of the longitude.
    """
    problems = []
    if not abs(record.latitude) <= 90.0:
        problems.append(f"{record.name}: latitude {record.latitude:g}, a swap?; -90 to 90 deg is accepted")
    if not abs(record.longitude) <= 180.0:
        problems.append(f"{record.name}: longitude {record.longitude:g}; -180 to 180 deg is accepted")
    if not (np.isnan(record.elevation) or -450.0 <= record.elevation <= 6000.0):
        problems.append(f"{record.name}: elevation {record.elevation:g}; -450 to 6000 m is accepted")
    if not abs(record.utc_offset) <= 16.0:
        problems.append(f"{record.name}: time zone {record.utc_offset:g}; -12 to 14 h is accepted")
    if problems:
        raise WeatherError(*problems)
    apart = clock_error(record.utc_offset + record.turn, record.longitude)
    zone = f"the time zone {record.utc_offset:+g} h"
    told = f"{zone} is {abs(apart):.1f} h off longitude {record.longitude:g} / 15"
    if abs(apart) > CLOCK_ERROR:
        raise WeatherError(
            f"{record.name}: {told}; at most {CLOCK_ERROR:g} h is accepted (a sign or a swap?)"
        )
    return [Finding("warning", told)] if abs(apart) > CLOCK_WARNING else []


def clock_error(utc_offset: float, longitude: float) -> float:
    """Return how far a clock is ahead of the sun's mean time at a longitude [h], over the date line too.

    Examples
    --------
    >>> clock_error(13.0, -165.0)
    0.0
    """
    return (utc_offset - longitude / 15.0 + 12.0) % 24.0 - 12.0


def check_pressure(elevation: float, pressure: Floats) -> list[Finding]:
    """Return a warning when the mean pressure [Pa] isn't that of the elevation [m]."""
    mean, standard = float(np.mean(pressure)), standard_pressure(elevation)
    if abs(mean / standard - 1.0) <= PRESSURE_WARNING:
        return []
    return [
        Finding(
            "warning",
            f"mean pressure {mean / 100:.0f} hPa, {standard / 100:.0f} hPa would go with {elevation:g} m:"
            " a wrong elevation, or pressure reduced to sea level?",
        )
    ]
