"""Hours in which the room's air would leave water on the inside of the cover."""

import numpy as np
from numpy.typing import NDArray

from simengine.air.psychrometrics import dew_point
from simengine.constants import ZERO_CELSIUS

Array = NDArray[np.float64]

ROOM = ZERO_CELSIUS + 20.0
"""Temperature at which a room's humidity is given [K]."""


def room_dew_point(humidity: float) -> float:
    """Return the dew point of room air [K].

    Parameters
    ----------
    humidity : relative humidity at 20 degC [-]

    Source: see `air.psychrometrics`. The room's moisture is taken as the same all year.

    >>> round(room_dew_point(0.4) - 273.15, 1)
    6.0
    """
    return float(dew_point(ROOM, humidity))


def wet(cover: Array, humidity: float) -> NDArray[np.bool_]:
    """Return in which intervals the cover's inside is below the dew point of the room's air.

    Parameters
    ----------
    cover : temperature of the innermost pane where the air leaves the box [K]
    humidity : of the room air at 20 degC [-]

    Source: definition. It counts hours in which water would form if the room's air reached the cover, not how
    much: a tight damper keeps that air away while the fan rests.

    >>> wet(np.array([273.15, 283.15]), 0.4).tolist()
    [True, False]
    """
    return np.asarray(cover < room_dew_point(humidity))


def condensation_hours(cover: Array, fan_on: Array, humidity: float, step: float) -> tuple[float, float]:
    """Return the hours a year with a wet cover, and those of them in which air moves.

    Parameters
    ----------
    cover : temperature of the innermost pane [interval] [K]
    fan_on : share of the interval in which the fan runs, or air moves by itself [interval] [-]
    humidity : of the room air at 20 degC [-]
    step : length of an interval [s]

    Returns
    -------
    (hours, hours with moving air) [h], per year of 8760 h

    Source: definition.

    >>> condensation_hours(np.full(8760, 273.15), np.zeros(8760), 0.4, 3600.0)
    (8760.0, 0.0)
    """
    damp = wet(cover, humidity)
    to_hours = step / 3600.0 / (cover.size * step / 3600.0 / 8760.0)
    return float(damp.sum() * to_hours), float((damp * fan_on).sum() * to_hours)


def caution(
    hours: float, running: float, humidity: float, place: str = "cover", drifting: float = 0.0
) -> list[str]:
    """Return what to say about a wet cover (or bare absorber), nothing where it stays dry.

    Parameters
    ----------
    hours : hours of a wet cover in the year [h]
    running : those of them with the fan on [h]
    humidity : of the room air, relative [-]
    place : what is wet
    drifting : hours of them in which air moves by itself [h]
    """
    if hours < 1.0:
        return []
    by_itself = f", {drifting:.0f} with air that moves by itself" if drifting >= 1.0 else ""
    celsius = room_dew_point(humidity) - ZERO_CELSIUS
    dew = f"{celsius:.0f} degC, {1.8 * celsius + 32.0:.0f} degF, for {100.0 * humidity:.0f} % at 20 degC"
    if running < 1.0:
        return [
            f"With the fan at rest the inside of the {place} is colder than the dew point of the room's air "
            f"({dew}) in {hours:.0f} hours of the year, and never while it runs. A damper that "
            "closes tightly keeps that air, and its water, out of the box."
        ]
    return [
        f"The inside of the {place} is colder than the dew point of the room's air ({dew}) "
        f"in {hours:.0f} hours of the year, {running:.0f} of them with "
        f"the fan on{by_itself}. Where that air reaches it, it drips: fit a damper that closes tightly, "
        "drain the box and keep wood dry."
    ]
