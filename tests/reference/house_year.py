"""The reference house years: the package's heated space, stepped hour by hour as their conventions say."""

from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pvlib

from simengine.constants import ZERO_CELSIUS
from simengine.engine.advance import GAMMA
from simengine.house.network import network, split_gains
from simengine.house.spec import House
from simengine.house.zone import Demand, Zone, settle_zone
from simengine.sun import plane_irradiance, solar_position
from simengine.weather import builtin

HOUR = 3600.0
KWH = 3.6e6
RATIO = (1.0 - GAMMA) / GAMMA


@dataclass(frozen=True)
class Weather:
    """Outdoor air [K] and sun on a vertical south plane [W/m2], by the hour."""

    ambient: np.ndarray
    south: np.ndarray
    dry_bulb: np.ndarray  # degC


def south_wall_year() -> Weather:
    """Return Greensboro's typical year (TMY3 723170 of pvlib's data folder).

    Sun at label less 30 min, apparent zenith; isotropic sky, ground 0.2, no horizon.
    """
    file = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
    frame, site = pvlib.iotools.read_tmy3(file, map_variables=True, coerce_year=2001)
    middle = frame.index - np.timedelta64(30, "m")
    sun = pvlib.solarposition.get_solarposition(middle, site["latitude"], site["longitude"], site["altitude"])
    zenith, azimuth = np.radians(sun["apparent_zenith"].to_numpy()), sun["azimuth"].to_numpy()
    ghi, dni, dhi = (frame[name].to_numpy(dtype=float) for name in ("ghi", "dni", "dhi"))
    cosine = np.maximum(np.sin(zenith) * np.cos(np.radians(azimuth - 180.0)), 0.0)
    beam = np.where(np.cos(zenith) > 0.0, dni * cosine, 0.0)
    dry_bulb = frame["temp_air"].to_numpy(dtype=float)
    return Weather(dry_bulb + ZERO_CELSIUS, beam + 0.5 * dhi + 0.1 * ghi, dry_bulb)


def built_in_year() -> Weather:
    """Return the same year as the package reads and lights it: isotropic sky, ground 0.2, no horizon."""
    series = builtin("greensboro")
    wall = plane_irradiance(
        series,
        solar_position(series),
        90.0,
        180.0,
        model="isotropic",
        ground_reflectance=np.full(len(series.data), 0.2),
    )
    dry_bulb = series.data["temp_air"].to_numpy()
    return Weather(dry_bulb + ZERO_CELSIUS, wall.total, dry_bulb)


def house(opaque: float, window: float, ventilation: float) -> House:
    """Return one of the two invented reference houses: 140 m2, medium mass, no air capacity."""
    return House("reference", 140.0, 350.0, opaque, window, ventilation, (), (0.0,) * 24, (293.15,) * 24)


def zone_of(house: House) -> Zone:
    """Return the heated space, its air without capacity."""
    net = network(house)
    conductances = (net.ventilation, net.surface, net.window, net.inner, net.outer)
    return Zone(*conductances, 0.0, net.mass_capacity, 1.0e9)


@dataclass(frozen=True)
class Year:
    """Sums of a year [kWh]."""

    heating: float
    delivered: float
    balance: float  # heat in less heat out less heat stored


def run_year(
    house: House, weather: Weather, aperture: float, internal: float, collector: bool, passes: int = 2
) -> Year:
    """Return the second pass of a year, one step of the march's scheme an hour.

    The collector is the line 4 [0.55 G - 5 (20 - T_e)] W into the air, taken if above 200 W and if the
    room's mean over the hour before was below 24 degC; decided once an hour and held.
    """
    zone, net = zone_of(house), network(house)
    offered = 4.0 * (0.55 * weather.south - 5.0 * (20.0 - weather.dry_bulb))
    air = mass = last_mean = 293.15
    for _ in range(passes):
        heating = delivered = balance = 0.0
        for ambient, sun, offer in zip(
            weather.ambient.tolist(), weather.south.tolist(), offered.tolist(), strict=True
        ):
            given = offer if collector and offer > 200.0 and last_mean < 297.15 else 0.0
            gains = split_gains(net, internal, aperture * sun)
            demand = Demand(*gains, 293.15, 299.15)
            heat = (given, 0.0)
            first = settle_zone(zone, demand, ambient, (air, mass), 1.0 / (GAMMA * HOUR), heat)
            between = (air + RATIO * (first.air - air), mass + RATIO * (first.mass - mass))
            last = settle_zone(zone, demand, ambient, between, 1.0 / (GAMMA * HOUR), heat)
            for share, part in ((1.0 - GAMMA, first), (GAMMA, last)):
                energy = share * HOUR / KWH
                heating += energy * part.heating
                balance += energy * (
                    sum(gains) + given + part.heating - part.vented - part.lost - part.stored
                )
            delivered += given * HOUR / KWH
            air, mass = last.air, last.mass
            last_mean = (1.0 - GAMMA) * first.air + GAMMA * last.air
    return Year(heating, delivered, balance)
