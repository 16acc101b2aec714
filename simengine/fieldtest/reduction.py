"""Efficiency of each steady period, with its combined standard uncertainty."""

from dataclasses import dataclass
from typing import Any

import numpy as np

from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.fieldtest.log import Array, TestLog
from simengine.fieldtest.periods import Period
from simengine.fieldtest.sensors import Sensors, unsure


@dataclass(frozen=True)
class Reduced:
    """One period; quantities with their uncertainty, which know what they share with other periods."""

    start: str  # time of its first row
    irradiance: Any  # [W/m2]
    ambient: Any  # [K]
    inlet: Any  # [K]
    outlet: Any  # [K]
    mass_flow: Any  # [kg/s]
    gain: Any  # [W]
    efficiency: Any  # [-]
    reduced_temperature: Any  # [K m2/W] (T_i - T_a) / G
    incidence: float  # [deg]


def instantaneous_efficiency(mass_flow: Any, rise: Any, irradiance: Any, area: Any) -> Any:
    """Return m' c_p (T_o - T_i) / (G A) [-], of plain numbers or of quantities with their uncertainty.

    Parameters
    ----------
    mass_flow : [kg/s]
    rise : from inlet to outlet [K]
    irradiance : on the plane [W/m2]
    area : of the aperture [m2]

    Source: definition.

    >>> round(instantaneous_efficiency(0.05, 25.0, 900.0, 2.0), 4)
    0.6986
    """
    return mass_flow * SPECIFIC_HEAT_AIR * rise / (irradiance * area)


def reduce_periods(
    log: TestLog, periods: list[Period], sensors: Sensors, aperture: float, incidence: Array
) -> list[Reduced]:
    """Return every period's efficiency.

    Parameters
    ----------
    log : with ambient, inlet, outlet, flow and irradiance
    periods : steady ones
    sensors : their uncertainties
    aperture : [m2]
    incidence : of the beam [row], [deg]

    Returns
    -------
    one `Reduced` a period

    Source: JCGM 100:2008, 5.1.2 and 5.2.2: what a sensor is off by is one quantity in all periods, so that
    the periods are correlated; the scatter of readings is counted by their number.
    """
    area = aperture * sensors.scale["area"]
    return [_reduced(log, period, sensors, area, incidence) for period in periods]


def _reduced(log: TestLog, period: Period, sensors: Sensors, area: Any, incidence: Array) -> Reduced:
    rows = period.rows
    count = period.end - period.first

    def level(role: str) -> Any:
        mean = unsure(float(log[role][rows].mean()), sensors.noise[role] / np.sqrt(count))
        return mean + sensors.offset[role]

    sun = unsure(float(log["irradiance"][rows].mean()), sensors.noise["irradiance"] / np.sqrt(count))
    flow = float(log["flow"][rows].mean())
    flow_read = unsure(flow, flow * sensors.noise["flow"] / np.sqrt(count))
    irradiance, mass_flow = sun * sensors.scale["irradiance"], flow_read * sensors.scale["flow"]
    ambient, inlet, outlet = level("ambient"), level("inlet"), level("outlet")
    return Reduced(
        start=str(log.times[period.first]).replace("T", " ")[:16],
        irradiance=irradiance,
        ambient=ambient,
        inlet=inlet,
        outlet=outlet,
        mass_flow=mass_flow,
        gain=mass_flow * SPECIFIC_HEAT_AIR * (outlet - inlet),
        efficiency=instantaneous_efficiency(mass_flow, outlet - inlet, irradiance, area),
        reduced_temperature=(inlet - ambient) / irradiance,
        incidence=float(incidence[rows].mean()),
    )
