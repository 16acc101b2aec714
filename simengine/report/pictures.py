"""The page's pictures of the hours: each with a title that says what it shows, and a text in its place."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simengine.report.axis import Axis, axis
from simengine.report.both import Both, both
from simengine.report.figures import MONTH_NAMES
from simengine.report.hour_map import HourMap, hour_map, sun_when_wanted
from simengine.report.house_hours import HouseHours, house_hours
from simengine.report.load_gain import LoadGain, load_gain
from simengine.report.shown import share
from simengine.report.winter_week import Week, winter_week
from simengine.report.words import house_name, sentence
from simengine.units.factors import KWH

Array = NDArray[np.float64]

_TEMPERATURE = ("temperature", ("degF", "degC"))


@dataclass(frozen=True, slots=True)
class MapPicture:
    """A map of the hours of the year."""

    title: str
    role: str
    map: HourMap
    strongest: Both
    when: str


@dataclass(frozen=True, slots=True)
class WeekPicture:
    """An ordinary winter week of one house; every line is a list of points of the drawing."""

    title: Both
    week: Week
    power: Axis  # W/m2 of aperture
    heat: Axis  # degC
    sun: str
    fan: tuple[tuple[float, float, float], ...]  # place, width, share of the time: all of the whole week
    absorber: str
    room: str
    outdoors: str


@dataclass(frozen=True, slots=True)
class LoadPicture:
    """Load against gain of one house."""

    title: str
    data: LoadGain
    load: Axis  # kWh a day
    gain: Axis  # kWh a day
    dots: tuple[tuple[float, float], ...]  # places on both axes [-]
    corner: tuple[float, float]  # where the line of equal load and gain leaves the drawing [-]


@dataclass(frozen=True, slots=True)
class Pictures:
    """Everything that is drawn from the hours."""

    maps_title: str
    maps: tuple[MapPicture, ...]
    weeks: tuple[WeekPicture, ...]
    loads: tuple[LoadPicture, ...]


def pictures(hours: Mapping[Any, Any], aperture: float) -> Pictures:
    """Return the pictures of a run.

    Parameters
    ----------
    hours : the dataset of the run
    aperture : collector area [m2]

    Returns
    -------
    Pictures, those of the houses in their order
    """
    names = [str(name) for name in np.asarray(hours["house"])]
    houses = [house_hours(hours, number) for number in range(len(names))]
    wanted = [
        f"{share(sun_when_wanted(house))} of it while the {house_name(name)} wants heat"
        for name, house in zip(names, houses, strict=True)
    ]
    maps = [_map("Sun on the collector", "gain", houses[0], houses[0].sun)]
    maps += [
        _map(f"Heating saved, {house_name(name)}", "useful", house, house.saved)
        for name, house in zip(names, houses, strict=True)
    ]
    pairs = list(zip(names, houses, strict=True))
    weeks = [_week(name, house, aperture) for name, house in pairs]
    return Pictures(
        sentence(f"the sun shines all year, {', '.join(wanted)}"),
        tuple(maps),
        tuple(week for week in weeks if week is not None),
        tuple(_load(name, house) for name, house in pairs),
    )


def _map(title: str, role: str, house: HouseHours, values: Array) -> MapPicture:
    drawn = hour_map(house, values)
    strongest = both(lambda units: units.quantity(drawn.strongest, "power"))
    when = f"{MONTH_NAMES[drawn.month]}, {drawn.hour} to {drawn.hour + 1} h"
    return MapPicture(title, role, drawn, strongest, when)


def _week(name: str, house: HouseHours, aperture: float) -> WeekPicture | None:
    week = winter_week(house)
    if week is None:
        return None
    sun = week.sun / aperture
    power = axis(0.0, max(float(sun.max()), 100.0) * 1.05, "irradiance", ("Btu/h.ft2", "W/m2"))
    lines = np.concatenate([week.absorber, week.room, week.outdoors])
    heat = axis(float(lines.min()) - 2.0, float(lines.max()) + 2.0, *_TEMPERATURE)
    return WeekPicture(
        _week_title(name, week),
        week,
        power,
        heat,
        _points(sun, power),
        _runs(week.fan),
        _points(week.absorber, heat),
        _points(week.room, heat),
        _points(week.outdoors, heat),
    )


def _week_title(name: str, week: Week) -> Both:
    ran = f"the fan runs {week.fan_hours:.0f} h and saves"
    lead = sentence(f"{house_name(name)}, week from {week.first_day}: {ran}")
    saved = week.saved * KWH
    return both(lambda units: f"{lead} {units.quantity(saved, 'energy')}")


def _points(values: Array, scale: Axis) -> str:
    """Return a line through the middle of every interval, across a drawing of 100 by 100."""
    width = 100.0 / values.size
    places = [(width * (i + 0.5), 100.0 * (1.0 - scale.place(float(v)))) for i, v in enumerate(values)]
    return " ".join(f"{x:.2f},{y:.1f}" for x, y in places)


def _runs(fan: Array) -> tuple[tuple[float, float, float], ...]:
    width = 100.0 / fan.size
    return tuple((width * i, width, float(v)) for i, v in enumerate(fan) if v > 0.01)


def _load(name: str, house: HouseHours) -> LoadPicture:
    data = load_gain(house)
    units = ("kBtu", "kWh")
    load = axis(0.0, max(data.largest_load, 0.1) * 1.05, "energy", units, KWH)
    gain = axis(0.0, max(data.largest_gain, 0.1) * 1.05, "energy", units, KWH)
    least = min(load.high, gain.high)
    days, more = len(data.days), data.more_than_wanted
    return LoadPicture(
        sentence(f"{house_name(name)}: more than it wanted on {more} of {days} days with a gain"),
        data,
        load,
        gain,
        tuple((load.place(day.load), gain.place(day.gain)) for day in data.days),
        (load.place(least), gain.place(least)),
    )
