"""The one parametric control rule; a named controller is a set of its numbers."""

from dataclasses import dataclass

SENSOR_PLACES = ("absorber", "box_air", "outlet_air")


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
    months: tuple[int, ...] = (1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12)
