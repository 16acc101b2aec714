"""The hours of one house as plain arrays by local time, for the drawings of the page."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, cast

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Counts = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class HouseHours:
    """What the drawings need to know of one house, interval by interval."""

    month: Counts  # [interval] 0 to 11
    hour: Counts  # [interval] 0 to 23, local standard time
    day: Counts  # [interval] from 0 on, local days
    starts: NDArray[np.datetime64]  # [interval] local standard time
    step: float  # [s]
    sun: Array  # [interval] on the aperture, W
    delivered: Array  # [interval] by the air into the house, W
    need: Array  # [interval] heating without the collector, W
    saved: Array  # [interval] need less the heating with it, W
    fan: Array  # [interval] share of the time that the fan runs, -
    room: Array  # [interval] degC
    absorber: Array  # [interval] degC
    outdoors: Array  # [interval] degC


def house_hours(hours: Mapping[Any, Any], house: int) -> HouseHours:
    """Return the hours of one house.

    Parameters
    ----------
    hours : the dataset of a run, by names of quantities, each [house, time] or [time], SI
    house : which one [-], from 0 on

    Returns
    -------
    HouseHours
    """
    about = hours["time"].attrs
    offset = np.timedelta64(round(float(about["utc_offset_h"]) * 3600.0), "s")
    local = cast("NDArray[np.datetime64]", np.asarray(hours["time"]).astype("datetime64[s]") + offset)
    days = local.astype("datetime64[D]")
    seconds = (local - days).astype(np.int64)

    def of_house(name: str) -> Array:
        values: Array = np.asarray(hours[name], dtype=np.float64)[house]
        return values

    need = of_house("heating_without")
    return HouseHours(
        month=local.astype("datetime64[M]").astype(np.int64) % 12,
        hour=seconds // 3600,
        day=(days - days[0]).astype(np.int64),
        starts=local,
        step=float(about["interval_s"]),
        sun=of_house("incident"),
        delivered=of_house("delivered"),
        need=need,
        saved=need - of_house("heating_with"),
        fan=of_house("fan_on"),
        room=of_house("room_temperature") - 273.15,
        absorber=of_house("absorber_temperature") - 273.15,
        outdoors=np.asarray(hours["ambient_temperature"], dtype=np.float64) - 273.15,
    )
