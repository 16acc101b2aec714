"""Row of the table that sets the march beside plain numpy."""

import time

import numpy as np

from simengine.engine.ledger import Column
from simengine.simulate import Resolved, resolve
from simengine.simulate.drive import Drive, drive_of
from simengine.simulate.together import joined
from simengine.simulate.year import member_of
from tests.benchmarks import plain_numpy
from tests.benchmarks.found import Found, Options, table
from tests.benchmarks.sample import changes, perforated
from tests.engine import drive as hand
from tests.reference.compiled_plant import hours_of, plant_of

DAYS = (10, 91)
"""A clear day in January, and one in April on which fans cycle; each with the next."""
LASTS = 48
START = 293.15  # [K]
HEAT, WARMTH = 1.0e-3, 5.0e-3
"""Within these both are the same: heat of all hours, as a share; mean temperature of an hour [K]."""


def by_numpy(drive: Drive, every: list[Resolved], first: int) -> tuple[np.ndarray, ...]:
    """Return heat delivered, heating [kWh], room [K] by plain numpy, and the seconds that they took."""
    last = first + LASTS
    plants = [plant_of(one, house) for one in every for house in one.houses]
    hours = [hours_of(one, drive, house, first, last) for one in every for house in one.houses]
    begin = time.perf_counter()
    found = plain_numpy.march(plants, hours, drive.plan[first:last], START)
    return (*found, np.array(time.perf_counter() - begin))


def by_the_march(drive: Drive, every: list[Resolved], first: int) -> tuple[np.ndarray, ...]:
    """Return the same by the package's march."""
    last = first + LASTS
    member = hand.window(joined([member_of(one, drive) for one in every]), first, last)
    state = hand.start(member, START)
    begin = time.perf_counter()
    hours = hand.go(member, drive.plan[first:last], state).hours
    seconds = time.perf_counter() - begin
    kwh = [hours[:, column] / 3.6e6 for column in (Column.DELIVERED, Column.HEATING)]
    return (*kwh, hours[:, Column.ROOM] / 3600.0, np.array(seconds))


def members_of(count: int) -> tuple[Drive, list[Resolved]]:
    """Return so many members that share sun and cover."""
    every = [resolve(perforated().changed(one)) for one in changes(count)]
    return drive_of(every[0]), every


def apart(ours: tuple[np.ndarray, ...], theirs: tuple[np.ndarray, ...]) -> tuple[float, float]:
    """Return how far two answers are apart: heat of all hours as a share, and the hours' rooms [K]."""
    heat = np.abs(ours[0].sum(axis=0) / theirs[0].sum(axis=0) - 1.0).max()
    return float(heat), float(np.abs(ours[2] - theirs[2]).max())


def plain(options: Options) -> Found:
    """Compare a lane-day of plain numpy with that of the march."""
    rows, best, worst = [], 0.0, (0.0, 0.0)
    full = 32  # the march's own time, with members enough to fill its lanes
    for count in (16, 500, 2000):
        drive, every = members_of(count)
        few = every[: min(count, full)]
        lanes, few_lanes = 2 * count, 2 * len(few)
        by_the_march(drive, few[:1], 24 * DAYS[0])
        days = LASTS / 24 * len(DAYS)
        numpy_seconds, march_seconds = 0.0, 0.0
        for day in DAYS:
            theirs, ours = by_numpy(drive, every, 24 * day), by_the_march(drive, few, 24 * day)
            numpy_seconds += float(theirs[3]) / lanes / days
            march_seconds += float(ours[3]) / few_lanes / days
            found = apart(ours, tuple(part[..., :few_lanes] for part in theirs[:3]))
            worst = max(worst[0], found[0]), max(worst[1], found[1])
        ratio = numpy_seconds / march_seconds
        best = min(best, ratio) if best else ratio
        rows.append(
            (f"{count:,}", f"{1e3 * numpy_seconds:.2f} ms", f"{1e3 * march_seconds:.2f} ms", f"{ratio:.0f}")
        )
    text = table(("members", "numpy, a day of one lane", "march", "numpy over march"), *rows)
    detail = (
        f"{text}\n\nDays {', '.join(str(day) for day in DAYS)} of the year, each with the next, two houses a "
        "member. numpy keeps three columns, the march all of its ledger. Both give the same trajectory: "
        "heat of "
        f"all hours within {100.0 * worst[0]:.3f} %, every hour's room within {1e3 * worst[1]:.1f} mK. The "
        f"ratio "
        "that counts is the worst, that of the number of members that suits numpy best."
    )
    same = worst[0] < HEAT and worst[1] < WARMTH
    return Found(f"{best:.0f} times", best >= 10.0 and same, detail)
