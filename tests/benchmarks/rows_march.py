"""Rows of the table that look at the march itself: against a solver, with full lanes, and its limit."""

import json
import os
import statistics
import subprocess
import sys
import time

from simengine.simulate import resolve, together
from simengine.simulate.drive import Drive, Shared
from simengine.simulate.houses_alone import warm_up_plan
from simengine.simulate.together import run_together
from tests.benchmarks.found import REPOSITORY, Found, Options, table
from tests.benchmarks.sample import changes, perforated, timed
from tests.reference.week_by_week import WEEK, compare

SEASONS = (2, 11, 24, 44)
"""Weeks that stand for a year of the solver: one of each season; in summer the fan is barred."""
LANE_MEMBERS = 64


def march_seconds(members: int, turns: int) -> tuple[float, float, float]:
    """Return processor seconds of the march, of all of it, and of the quickest march, per collector-year."""
    scenario, shared, found = perforated(), Shared(), []
    for turn in range(turns + 1):  # the first makes sun and sky, which all others share
        given = [
            shared.resolve(scenario.changed({**one, "collector.absorber.absorptance": 0.9 - 0.001 * turn}))
            for one in changes(members)
        ]
        run_together(given[:1], lambda *_: 0.0, shared)
        with timed(together, "march_year", time.process_time) as clock:
            begin = time.process_time()
            run_together(given, lambda *_: 0.0, shared)
            whole = time.process_time() - begin
        lanes = members * len(given[0].houses)
        found.append((clock.seconds / lanes, whole / lanes))
    return (
        statistics.median(march for march, _ in found[1:]),
        statistics.median(whole for _, whole in found[1:]),
        min(march for march, _ in found[1:]),
    )


def against_the_solver(options: Options) -> Found:
    """Compare a collector-year of the march with one of scipy's solver."""
    compared = [compare(perforated().changed(changes(3)[i]), i % 2, SEASONS, 1e-6, 1e-6) for i in range(3)]
    year = 8760.0 / WEEK / len(SEASONS)
    solver = statistics.mean(each.solver_seconds for each in compared) * year
    worst = max(abs(each.error) for each in compared)
    full, full_whole, full_best = march_seconds(LANE_MEMBERS, options.turns)
    alone, *_ = march_seconds(1, options.turns)
    ratio, single = solver / full, solver / alone
    reached = ratio >= 1000.0 and worst <= 0.002
    rows = table(
        ("a collector-year on one core", "time", "the solver over it"),
        ("scipy solve_ivp, LSODA, rtol 1e-6, compiled right-hand side", f"{solver:.1f} s", "1"),
        ("march, one member (its two houses are two lanes)", f"{1e3 * alone:.1f} ms", f"{single:.0f}"),
        (f"march, {LANE_MEMBERS} members in full lanes", f"{1e3 * full:.2f} ms", f"{ratio:.0f}"),
        ("the same with all that prepares it", f"{1e3 * full_whole:.2f} ms", f"{solver / full_whole:.0f}"),
        ("quickest of the turns, full lanes", f"{1e3 * full_best:.2f} ms", f"{solver / full_best:.0f}"),
    )
    detail = (
        f"{rows}\n\nA collector-year is one collector on one house for a year; a member has two of them. "
        f"For the solver {len(SEASONS)} weeks, one of each season, stand for the year; three members were "
        "solved. Every switch of fan, heater and vent is located by its events, and each hour begins anew "
        "since the weather steps there. Delivered heat of the march in these weeks: "
        + ", ".join(f"{100.0 * each.error:+.3f} %" for each in compared)
        + f" of the solver's. Times are those of the processor, median of {options.turns} turns."
    )
    return Found(
        f"{ratio:.0f} times ({single:.0f} alone), heat within {100.0 * worst:.2f} %", reached, detail
    )


def steps_of(drive: Drive) -> float:
    """Return the steps of a year, those of the 30 days of warm-up among them."""
    return float(drive.plan.sum() + warm_up_plan(drive.plan[-30 * 24 :]).sum())


def arithmetic(options: Options) -> Found:
    """Say what the step's arithmetic costs at the least on this processor, and what share is reached."""
    from tests.benchmarks.throughput import nanoseconds

    counted = json.loads(
        subprocess.run(
            [sys.executable, "-m", "tests.benchmarks.operations"],
            cwd=REPOSITORY,
            check=True,
            capture_output=True,
            text=True,
            env={**os.environ, "NUMBA_DISABLE_JIT": "1", "PYTHONPATH": str(REPOSITORY)},
        ).stdout.splitlines()[-1]
    )
    per_step, cost = counted["per_step"], nanoseconds()
    least = sum(per_step.get(kind, 0.0) * cost[kind] for kind in cost)
    resolved = resolve(perforated())
    shared = Shared()
    steps = steps_of(shared.drive(resolved))
    full, _, _ = march_seconds(LANE_MEMBERS, options.turns)
    taken = 1e9 * full / steps
    share = least / taken
    kinds = table(
        ("operation", "in a step of one lane", "ns each, vectorised", "ns"),
        *(
            (
                kind,
                f"{per_step.get(kind, 0.0):.0f}",
                f"{cost[kind]:.3f}",
                f"{per_step.get(kind, 0.0) * cost[kind]:.0f}",
            )
            for kind in cost
        ),
    )
    where = table(
        ("function", "share of the arithmetic"),
        *((name, f"{100.0 * part:.0f} %") for name, part in shares(counted["by_place"], cost)[:14]),
    )
    detail = (
        f"{kinds}\n\nThe operations are counted by running the very source of the march uncompiled, with "
        f"numbers that count, over {counted['hours']} hours of a clear day on which the fan starts and "
        "stops; loads, stores, selections and the walk through tables are not counted. The cost of each "
        "kind is measured with full vector registers and eight independent chains. Adding up all kinds as "
        f"if none overlapped, a step of one lane costs at least {least:.0f} ns; the march takes "
        f"{taken:.0f} ns ({steps:.0f} steps a year, 30 days of warm-up among them).\n\nWhere the "
        f"arithmetic is:\n\n{where}"
    )
    return Found(
        f"{100.0 * share:.0f} %: a step takes {taken:.0f} ns, its arithmetic alone {least:.0f} ns",
        None,
        detail,
    )


def shares(by_place: dict[str, dict[str, float]], cost: dict[str, float]) -> list[tuple[str, float]]:
    """Return each function's share of the weighed operations, largest first."""
    weighed = {
        place: sum(count * cost[kind] for kind, count in kinds.items() if kind in cost)
        for place, kinds in by_place.items()
    }
    total = sum(weighed.values())
    return sorted(((place, weight / total) for place, weight in weighed.items()), key=lambda one: -one[1])
