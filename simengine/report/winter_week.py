"""An ordinary winter week hour by hour: sun, collector, room and fan."""

from dataclasses import dataclass

import numpy as np

from simengine.report.house_hours import Array, HouseHours

DAYS = 7
COLDEST_MONTHS = 3


@dataclass(frozen=True, slots=True)
class Week:
    """A week of one house."""

    first_day: str  # "Jan 12"
    days: tuple[str, ...]  # "12", "13", ...
    sun: Array  # [interval] W
    absorber: Array  # [interval] degC
    room: Array  # [interval] degC
    outdoors: Array  # [interval] degC
    fan: Array  # [interval] share of the time, -
    saved: float  # [kWh]
    fan_hours: float  # [h]


def winter_week(house: HouseHours) -> Week | None:
    """Return the week of the coldest three months whose sun is the middle one of all such weeks.

    Parameters
    ----------
    house : the hours of a year

    Returns
    -------
    Week, or None where the hours hold no whole winter week
    """
    per_day = round(86400.0 / house.step)
    whole = house.sun.size // per_day
    if whole < DAYS:
        return None
    begin = int(np.argmax(house.hour == 0))  # the first local midnight
    coldest = _coldest(house)
    starts = [
        start
        for start in range(begin, house.sun.size - DAYS * per_day + 1, per_day)
        if house.month[start] in coldest and house.month[start + DAYS * per_day - 1] in coldest
    ]
    if not starts:
        return None
    suns = [float(house.sun[start : start + DAYS * per_day].sum()) for start in starts]
    middle = starts[int(np.argsort(suns, kind="stable")[len(suns) // 2])]
    return _cut(house, slice(middle, middle + DAYS * per_day), per_day)


def _coldest(house: HouseHours) -> set[int]:
    there = sorted(set(house.month.tolist()))
    means = {month: float(house.outdoors[house.month == month].mean()) for month in there}
    return set(sorted(there, key=means.__getitem__)[:COLDEST_MONTHS])


def _cut(house: HouseHours, part: slice, per_day: int) -> Week:
    stamps = house.starts[part][::per_day].astype("datetime64[D]").tolist()
    return Week(
        first_day=f"{stamps[0]:%b} {stamps[0].day}",
        days=tuple(str(stamp.day) for stamp in stamps),
        sun=house.sun[part],
        absorber=house.absorber[part],
        room=house.room[part],
        outdoors=house.outdoors[part],
        fan=house.fan[part],
        saved=float(house.saved[part].sum()) * house.step / 3.6e6,
        fan_hours=float(house.fan[part].sum()) * house.step / 3600.0,
    )
