"""Sample weeks of a scenario, by the march and by scipy's solver, both from one temperature everywhere."""

import time
from dataclasses import dataclass

import numpy as np

from simengine.engine.ledger import Column
from simengine.scenario import Scenario
from simengine.simulate import resolve
from simengine.simulate.drive import drive_of
from simengine.simulate.year import member_of
from tests.engine import drive as hand
from tests.reference.compiled_plant import hours_of, plant_of
from tests.reference.node_solver import Memory, solve

WEEK = 168
START = 293.15  # [K] of everything at the beginning of a week
WEEKS = (2, 11, 44)
"""Sample weeks of the year, from 0: the middle of January, of March, and the beginning of November."""


@dataclass(frozen=True)
class Compared:
    """Delivered heat [kWh], fan starts and running time [h] of the weeks, by march and solver."""

    marched: float
    solved: float
    marched_starts: float
    solved_starts: float
    marched_hours: float
    solved_hours: float
    solver_seconds: float  # that the solver took, all weeks together

    @property
    def error(self) -> float:
        """Delivered heat of the march over that of the solver, less one."""
        return self.marched / self.solved - 1.0


def compare(
    scenario: Scenario,
    lane: int,
    weeks: tuple[int, ...] = WEEKS,
    rtol: float = 1e-7,
    atol: float = 1e-9,
) -> Compared:
    """Return the weeks of a scenario on one of its houses."""
    resolved = resolve(scenario)
    drive = drive_of(resolved)
    member, house = member_of(resolved, drive), resolved.houses[lane]
    sums, seconds = np.zeros(6), 0.0
    for week in weeks:
        first, last = WEEK * week, WEEK * (week + 1)
        ran = hand.go(hand.window(member, first, last), drive.plan[first:last], hand.start(member, START))
        plant, hours = plant_of(resolved, house), hours_of(resolved, drive, house, first, last)
        begin = plant.at_one_temperature(START)
        memory = Memory(plant.signal(begin) >= plant.rule.start, plant.rule.room_limit <= START, 1.0e9)
        plant.hour = hours[0]
        plant(0.0, np.append(begin, [0.0, 0.0]))  # compiles before the clock runs
        started = time.process_time()
        trace = solve(plant, hours, begin, memory, rtol, atol)
        seconds += time.process_time() - started
        sums[0::2] += [
            ran.total(column, lane) for column in (Column.DELIVERED, Column.FAN_STARTS, Column.FAN_ON)
        ]
        sums[1::2] += [trace.delivered, trace.starts, trace.running]
    return Compared(sums[0] / 3.6e6, sums[1], sums[2], sums[3], sums[4] / 3600.0, sums[5] / 3600.0, seconds)
