"""The one parametric control rule; a named controller is a set of its numbers."""

import math
from dataclasses import dataclass

SENSOR_PLACES = ("absorber", "box_air", "outlet_air")


@dataclass(frozen=True, slots=True)
class Module:
    """A small PV module that drives a direct-current fan without anything between.

    The figures of its label hold at 1000 W/m2 and 25 degC. The fan draws current as n^2 at a voltage as n,
    n its share of full speed, which is the fan laws' n^3 in power.
    """

    short_circuit_current: float  # [A]
    open_circuit_voltage: float  # [V]
    best_current: float  # [A] at the point of most power
    best_voltage: float  # [V]
    cells: int  # in series
    fan_voltage: float  # [V] at full speed
    fan_power: float  # [W] at full speed
    start_share: float = 0.1  # [-] of the full-speed current that gets a fan at rest to turn
    tilt: float | None = None  # [deg]; the collector's own if None
    azimuth: float | None = None  # [deg]


@dataclass(frozen=True, slots=True)
class ControlRule:
    """Fan on when the collector sensor is warm enough and the room is not too warm.

    signal = T_sensor - reference_weight * T_room; the fan starts at or above `start`, stops at or
    below `stop`. With weight 0 the thresholds are temperatures [K] (snap switch); with weight 1
    they are differences [K] (differential thermostat).
    """

    start: float  # [K]
    stop: float  # [K]
    reference_weight: float = 0.0  # [-]
    sensor_place: str = "outlet_air"
    sensor_time_constant: float = 60.0  # [s]
    room_limit: float = 298.15  # [K] no heat is brought above this room temperature
    room_limit_band: float = 0.5  # [K] allowed again below limit - band
    minimum_on: float = 0.0  # [s]
    minimum_off: float = 0.0  # [s]
    low_speed: float = 1.0  # [-] of full speed, until the second threshold or the slope raises it
    second_start: float = math.inf  # [K] signal from which the fan runs at full speed
    second_stop: float = math.inf  # [K] signal at which it goes back to the low one
    slope: float = 0.0  # [1/K] by which the low speed grows with the signal above `stop`
    months: tuple[int, ...] = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
    hours: tuple[tuple[float, float], ...] = ()  # [h] of the day, local standard time; empty: all day
    module: Module | None = None  # that drives the fan directly

    @property
    def part_speeds(self) -> bool:
        """Whether the fan ever runs at anything but full speed."""
        return self.low_speed < 1.0 or self.module is not None
