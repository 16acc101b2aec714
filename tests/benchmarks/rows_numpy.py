"""Row of the table that sets the march beside plain numpy."""

import time

import numpy as np

from simengine.engine.ledger import Column
from simengine.simulate import Resolved, resolve
from simengine.simulate.drive import Drive, drive_of
from simengine.simulate.year import member_of
from tests.benchmarks import plain_numpy
from tests.benchmarks.found import Found, Options, table
from tests.benchmarks.rows_march import LANE_MEMBERS, march_seconds, steps_of
from tests.benchmarks.sample import changes, perforated
from tests.engine import drive as hand
from tests.reference.compiled_plant import hours_of, plant_of

DAYS = (10, 91)
"""A clear day in January, and one in April on which fans cycle; each with the next."""
LASTS = 48
START = 293.15  # [K]
FINE = "60 s"  # steps at which both are compared: they differ in what they hold fixed within a step
HEAT, WARMTH = 1.0e-3, 5.0e-3
"""Within these both are the same: heat of all hours, as a share; mean temperature of an hour [K]."""


def by_numpy(drive: Drive, every: list[Resolved], first: int) -> tuple[np.ndarray, ...]:
    """Return heat delivered, heating [kWh], room [K] by plain numpy, and the seconds that they took."""
    last = first + LASTS
    plants = [plant_of(one, house) for one in every for house in one.houses]
    hours = [hours_of(one, drive, house, first, last) for one in every for house in one.houses]
    begin = time.process_time()
    found = plain_numpy.march(plants, hours, drive.plan[first:last], START)
    return (*found, np.array(time.process_time() - begin))


def by_the_march(drive: Drive, every: list[Resolved], first: int) -> tuple[np.ndarray, ...]:
    """Return the same by the package's march, one member after the other."""
    last, found = first + LASTS, []
    for one in every:
        member = hand.window(member_of(one, drive), first, last)
        found.append(hand.go(member, drive.plan[first:last], hand.start(member, START)).hours)
    hours = np.concatenate(found, axis=2)
    kwh = [hours[:, column] / 3.6e6 for column in (Column.DELIVERED, Column.HEATING)]
    return (*kwh, hours[:, Column.ROOM] / 3600.0)


def members_of(count: int, step: str | None = None) -> tuple[Drive, list[Resolved]]:
    """Return so many members that share sun and cover; with the usual steps or others."""
    given = {} if step is None else {"run.step": step}
    every = [resolve(perforated().changed({**one, **given})) for one in changes(count)]
    return drive_of(every[0]), every


def apart(ours: tuple[np.ndarray, ...], theirs: tuple[np.ndarray, ...]) -> tuple[float, float]:
    """Return how far two answers are apart: heat of all hours as a share, and the hours' rooms [K]."""
    heat = np.abs(ours[0].sum(axis=0) / theirs[0].sum(axis=0) - 1.0).max()
    return float(heat), float(np.abs(ours[2] - theirs[2]).max())


def plain(options: Options) -> Found:
    """Compare a step of one lane in plain numpy with one of the march, and their answers."""
    rows, best, worst = [], 0.0, (0.0, 0.0)
    lane, _, _ = march_seconds(LANE_MEMBERS, options.turns)
    marched = 0.0
    for count in (16, 500, 2000):
        drive, every = members_of(count)
        marched = 1e6 * lane / steps_of(drive)
        steps, seconds = 0, 0.0
        for day in DAYS:
            first = 24 * day
            theirs = by_numpy(drive, every, first)
            seconds += float(theirs[3])
            steps += int(drive.plan[first : first + LASTS].sum())
        each = 1e6 * seconds / (2 * count * steps)
        best = min(best, each / marched) if best else each / marched
        rows.append((f"{count:,}", f"{each:.2f} µs", f"{marched:.3f} µs", f"{each / marched:.0f}"))
    drive, every = members_of(4, FINE)
    for day in DAYS:
        found = apart(by_the_march(drive, every, 24 * day), by_numpy(drive, every, 24 * day))
        worst = max(worst[0], found[0]), max(worst[1], found[1])
    text = table(("members", "numpy, a step of one lane", "march", "numpy over march"), *rows)
    detail = (
        f"{text}\n\nnumpy on days {', '.join(str(day) for day in DAYS)} of the year, each with the next, "
        f"two houses a member; the march over a whole year with {LANE_MEMBERS} members in full lanes. "
        "Times are those of the processor. numpy keeps three columns, the march all of its ledger. With "
        f"steps of {FINE} both give the same trajectory: heat of all hours within {100.0 * worst[0]:.3f} "
        f"%, every hour's room within {1e3 * worst[1]:.1f} mK. The ratio that counts is the worst, that of "
        "the number of members that suits numpy best."
    )
    same = worst[0] < HEAT and worst[1] < WARMTH
    return Found(f"{best:.0f} times", best >= 10.0 and same, detail)
