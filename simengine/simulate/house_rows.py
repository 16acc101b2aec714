"""What drives a house besides sun and people: wind and stack, and the ground round a basement."""

from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from simengine import sun
from simengine.house.gains import by_hour
from simengine.house.ground import ground_temperature, yearly_wave
from simengine.house.infiltration import infiltration_flow
from simengine.house.second_space import SecondZone
from simengine.house.spec import Ground, House, SecondSpace

if TYPE_CHECKING:
    from simengine.simulate.forcing import Place

Array = NDArray[np.float64]

AIR_HEAT = 1200.0
"""Density times specific heat of air [J/m3K], the value of ISO 13790."""

NO_SPACE = SecondZone(*(0.0,) * 6, 1.0, 1.0, 0.0)
"""Stands in for the second space of a house that has none, beside houses that have one."""


def any_second(houses: tuple[House, ...]) -> bool:
    """Return whether a house has a second space."""
    return any(house.second_space is not None for house in houses)


def blown_in(here: "Place", house: House, setpoint: Array) -> Array:
    """Return the conductance of the air that wind and stack drive in [W/K].

    Parameters
    ----------
    here : sun and sky of the place
    house : with its leaks
    setpoint : [K], array [interval]
    """
    if house.leakage is None:
        return np.zeros(setpoint.size)
    wind = sun.collector_wind(here.series, 10.0, "open")
    return AIR_HEAT * infiltration_flow(house.leakage, setpoint - here.ambient, wind)


def second_wishes(here: "Place", space: SecondSpace | None, heated: Any) -> list[Array]:
    """Return gain [W], setpoint [K] and ground [K] of a second space, each [interval].

    Parameters
    ----------
    here : sun and sky of the place
    space : the second space, None where there is none
    heated : whether the heating may run, array [interval]
    """
    if space is None:
        return [np.zeros(here.hour.size), np.zeros(here.hour.size), here.ambient]
    gain = by_hour(space.internal_gain, here.hour)
    wanted = np.zeros(here.hour.size) if space.setpoint is None else by_hour(space.setpoint, here.hour)
    return [gain, np.where(heated, wanted, 0.0), ground_of(here, space.ground)]


def ground_of(here: "Place", ground: Ground) -> Array:
    """Return the temperature of the ground in every interval [K], from the year's outdoor air."""
    if ground.temperature is not None:
        return np.full(here.ambient.size, ground.temperature)
    index: Any = here.series.data.index
    hours = np.asarray((index.day_of_year - 1) * 24.0 + index.hour + index.minute / 60.0, dtype=np.float64)
    share = (hours + 0.5 * float(here.series.step) / 3600.0) / 8760.0
    return ground_temperature(yearly_wave(here.ambient, share), share, ground.depth, ground.diffusivity)
