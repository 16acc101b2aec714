"""Hours of the node equations by scipy's LSODA, every switch of fan, heater and vent a terminal event."""

import math
from dataclasses import dataclass

import numpy as np
from scipy.integrate import solve_ivp

from tests.reference.node_equations import Hour, Plant

HOUR = 3600.0
NEAR = 1.0e-8  # [K], [W] past a threshold, so that no event begins on its own root


@dataclass
class Trace:
    """What a day leaves."""

    delivered: float  # [kWh]
    heating: float  # [kWh]
    starts: int
    running: float  # [s]
    end: np.ndarray


@dataclass
class Memory:
    warm: bool
    blocked: bool
    since: float  # [s]
    high: bool = False


def _settle_air(plant: Plant, y: np.ndarray) -> None:
    """Let heater and vent take hold or let go where the room's air stands at their temperature."""
    at = plant.rows * plant.n
    surplus = plant.surplus(y)
    plant.air_mode = "free"
    if y[at] <= plant.hour.setpoint + 10.0 * NEAR and surplus < 0.0:
        plant.air_mode, y[at] = "held", plant.hour.setpoint
    elif y[at] >= plant.hour.vent - 10.0 * NEAR and surplus > 0.0:
        plant.air_mode, y[at] = "vented", plant.hour.vent


def _events(plant: Plant, memory: Memory) -> list:
    """Return the event functions that count in this mode."""
    at, rule = plant.rows * plant.n, plant.rule

    def event(function, direction: float):
        function.terminal = True
        function.direction = direction
        return function

    def signal(y) -> float:
        return y[at + 2] - rule.reference_weight * y[at + 3]

    level = rule.room_limit - rule.room_limit_band
    found = [
        event(lambda _, y: signal(y) - rule.stop, -1.0)
        if memory.warm
        else event(lambda _, y: signal(y) - rule.start, 1.0),
        event(lambda _, y: y[at + 3] - level, -1.0)
        if memory.blocked
        else event(lambda _, y: y[at + 3] - rule.room_limit, 1.0),
    ]
    if math.isfinite(rule.second_start):
        found.append(
            event(lambda _, y: signal(y) - rule.second_stop, -1.0)
            if memory.high
            else event(lambda _, y: signal(y) - rule.second_start, 1.0)
        )
    if plant.air_mode == "free":
        found.append(event(lambda _, y: y[at] - plant.hour.setpoint + NEAR, -1.0))
        found.append(event(lambda _, y: y[at] - plant.hour.vent - NEAR, 1.0))
    else:
        sign = 1.0 if plant.air_mode == "held" else -1.0
        found.append(event(lambda _, y: sign * plant.surplus(y) - NEAR, 1.0))
    return found


def solve(
    plant: Plant,
    hours: list[Hour],
    start: np.ndarray,
    memory: Memory,
    rtol: float = 1e-8,
    atol: float = 1e-9,
) -> Trace:
    """Integrate some hours from the nodes, room, mass and the two sensors at their start."""
    y = np.append(start, [0.0, 0.0])
    starts, on_time = 0, 0.0
    for hour in hours:
        plant.hour = hour
        t = 0.0
        while t < HOUR:
            wanted = memory.warm and not memory.blocked and hour.drive > 0.0
            least = plant.rule.minimum_on if plant.running else plant.rule.minimum_off
            if wanted != plant.running and memory.since >= least - 1e-9:
                starts += int(wanted)
                plant.running, memory.since = wanted, 0.0
            plant.high = memory.high
            until = HOUR if wanted == plant.running else min(HOUR, t + least - memory.since)
            _settle_air(plant, y)
            part = solve_ivp(
                plant,
                (t, until),
                y,
                method="LSODA",
                rtol=rtol,
                atol=atol,
                events=_events(plant, memory),
                first_step=min(0.1, until - t),
            )
            assert part.success, part.message
            passed = part.t[-1] - t
            memory.since += passed
            on_time += passed if plant.running else 0.0
            t, y = part.t[-1], part.y[:, -1].copy()
            memory.warm ^= bool(part.t_events[0].size)
            memory.blocked ^= bool(part.t_events[1].size)
            if math.isfinite(plant.rule.second_start):
                memory.high ^= bool(part.t_events[2].size)
    return Trace(float(y[-2]), float(y[-1]), starts, on_time, y[:-2])
