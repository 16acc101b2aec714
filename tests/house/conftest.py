"""The hourly method of ISO 13790 coded a second time, in plain Python, and the reference weather."""

from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import pvlib
import pytest

HOURS = 8760


@dataclass(frozen=True)
class HourlyHouse:
    """The inputs of the standard's annex C; nothing of the package is used."""

    h_op: float
    h_w: float
    h_ve: float
    floor_area: float = 140.0
    a_t_ratio: float = 4.5
    a_m_ratio: float = 2.5
    c_m_ratio: float = 165_000.0

    @property
    def a_t(self):
        return self.a_t_ratio * self.floor_area

    @property
    def a_m(self):
        return self.a_m_ratio * self.floor_area

    @property
    def h_is(self):
        return 3.45 * self.a_t

    @property
    def h_ms(self):
        return 9.1 * self.a_m

    @property
    def h_em(self):
        return 1.0 / (1.0 / self.h_op - 1.0 / self.h_ms)

    @property
    def c_m(self):
        return self.c_m_ratio * self.floor_area


@dataclass
class Year:
    """What a year of the hourly method gives."""

    heating: float = 0.0  # kWh
    vented: float = 0.0  # kWh
    delivered: float = 0.0  # kWh
    balance: float = 0.0  # kWh, heat in less heat out less heat stored
    air: list = field(default_factory=list)  # degC


def crank_nicolson_hour(house, mass, t_e, phi_ia, phi_st, phi_m, phi_hc, seconds=3600.0):
    """Return mean air, mean surface and end mass temperature of one hour (annex C.3, from memory)."""
    h_1 = 1.0 / (1.0 / house.h_ve + 1.0 / house.h_is)
    h_2 = h_1 + house.h_w
    h_3 = 1.0 / (1.0 / h_2 + 1.0 / house.h_ms)
    supply = h_1 * ((phi_ia + phi_hc) / house.h_ve + t_e)
    phi_mtot = phi_m + house.h_em * t_e + h_3 * (phi_st + house.h_w * t_e + supply) / h_2
    storage, half = house.c_m / seconds, 0.5 * (h_3 + house.h_em)
    mass_end = (mass * (storage - half) + phi_mtot) / (storage + half)
    mean = 0.5 * (mass + mass_end)
    surface = (house.h_ms * mean + phi_st + house.h_w * t_e + supply) / (house.h_ms + house.h_w + h_1)
    air = (house.h_is * surface + house.h_ve * t_e + phi_ia + phi_hc) / (house.h_is + house.h_ve)
    return air, surface, mass_end


def run_hourly_year(house, temp_air, solar, internal, collector=None, passes=2):
    """Return the year of a house heated to 20 and vented at 26 degC, by the standard's steps.

    `collector` is heat offered to the air node [W] in each hour; it is taken if above 200 W and if the
    mean air of the hour before was below 24 degC.
    """
    mass, last_air, year = 20.0, 20.0, Year()
    for _ in range(passes):
        year, mass_start = Year(), mass
        for t_e, phi_sol, phi_int, offered in zip(
            temp_air,
            solar,
            internal,
            collector if collector is not None else [0.0] * len(temp_air),
            strict=True,
        ):
            phi_col = offered if offered > 200.0 and last_air < 24.0 else 0.0
            radiant = 0.5 * phi_int + phi_sol
            phi_m = house.a_m / house.a_t * radiant
            phi_st = (1.0 - house.a_m / house.a_t - house.h_w / (9.1 * house.a_t)) * radiant
            given = (house, mass, t_e, 0.5 * phi_int + phi_col, phi_st, phi_m)
            free, step = crank_nicolson_hour(*given, 0.0)[0], 10.0 * house.floor_area
            slope = (crank_nicolson_hour(*given, step)[0] - free) / step
            wanted = min(max(free, 20.0), 26.0)
            phi_hc = (wanted - free) / slope
            air, surface, mass_end = crank_nicolson_hour(*given, phi_hc)
            mean_mass = 0.5 * (mass + mass_end)
            lost = house.h_ve * (air - t_e) + house.h_w * (surface - t_e) + house.h_em * (mean_mass - t_e)
            year.balance += (0.5 * phi_int + phi_col + phi_st + phi_m + phi_hc - lost) / 1000.0
            year.heating += max(phi_hc, 0.0) / 1000.0
            year.vented += max(-phi_hc, 0.0) / 1000.0
            year.delivered += phi_col / 1000.0
            year.air.append(air)
            mass, last_air = mass_end, air
        year.balance -= house.c_m * (mass - mass_start) / 3.6e6
    return year


@dataclass(frozen=True)
class ReferenceWeather:
    """Greensboro's typical year, interval starts at midnight local standard time."""

    temp_air: np.ndarray  # degC
    south: np.ndarray  # W/m2 on a vertical south plane, isotropic sky, ground 0.2
    planes: dict  # azimuth -> W/m2 on vertical planes
    hour_of_day: np.ndarray


@pytest.fixture(scope="session")
def greensboro():
    """TMY3 723170 as packaged with pvlib; sun at label less 30 min, apparent zenith."""
    file = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
    frame, site = pvlib.iotools.read_tmy3(file, map_variables=True, coerce_year=2001)
    middle = frame.index - np.timedelta64(30, "m")
    sun = pvlib.solarposition.get_solarposition(middle, site["latitude"], site["longitude"], site["altitude"])
    zenith, azimuth = np.radians(sun["apparent_zenith"].to_numpy()), sun["azimuth"].to_numpy()
    ghi, dni, dhi = (frame[name].to_numpy(dtype=float) for name in ("ghi", "dni", "dhi"))

    def vertical(plane):
        cosine = np.sin(zenith) * np.cos(np.radians(azimuth - plane))
        beam = np.where(np.cos(zenith) > 0.0, dni * np.maximum(cosine, 0.0), 0.0)
        return beam + 0.5 * dhi + 0.1 * ghi

    planes = {plane: vertical(plane) for plane in (0.0, 90.0, 180.0, 270.0)}
    hours = np.arange(HOURS) % 24
    return ReferenceWeather(frame["temp_air"].to_numpy(dtype=float), planes[180.0], planes, hours)


@pytest.fixture(scope="session")
def hourly_house():
    return HourlyHouse


@pytest.fixture(scope="session")
def reference_hourly_need():
    """The independent hourly year as a function."""
    return run_hourly_year


@pytest.fixture(scope="session")
def reference_hour():
    """One independent hour as a function."""
    return crank_nicolson_hour
