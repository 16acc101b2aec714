"""Rows of the table that look at whole sweeps: rate, cores, cluster, scale, memory, storage."""

import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from multiprocessing import active_children
from pathlib import Path
from typing import Any

from simengine.batch import store, sweep
from simengine.batch import task as tasks
from simengine.batch.crew import LOADED
from simengine.batch.plan import Plan, plan_of
from simengine.batch.sweep import run_plan
from simengine.simulate import run, together
from simengine.simulate.drive import Shared
from tests.batch.test_cluster import Cluster
from tests.benchmarks.found import REPOSITORY, Found, Options, table
from tests.benchmarks.sample import perforated, sweep_of, timed


@contextmanager
def folder() -> Iterator[Path]:
    """Yield a folder that is gone afterwards."""
    with tempfile.TemporaryDirectory() as made:
        yield Path(made) / "sweep"


def seconds(plan: Plan, watch: Callable[[], None] = lambda: None, **how: Any) -> tuple[float, float]:
    """Return how long a plan takes in all, and a member from the first answer to the last."""
    marks: list[tuple[float, int]] = []

    def progress(done: int, _: int) -> None:
        marks.append((time.perf_counter(), done))
        watch()

    with folder() as there:
        begin = time.perf_counter()
        run_plan(plan, there, progress=progress, **how)
        whole = time.perf_counter() - begin
    (first, some), (last, all_done) = marks[0], marks[-1]
    return whole, (last - first) / max(all_done - some, 1)


def _ready(members: int) -> Plan:
    run(perforated())  # what the workers need is compiled
    return plan_of(sweep_of(members))


def spent(plan: Plan, **how: Any) -> tuple[float, float, float]:
    """Return what `seconds` returns, and the processor time of this process and its workers."""
    workers = [0.0]
    before = time.process_time()
    whole, each = seconds(plan, lambda: workers.append(_of_workers()), **how)
    return whole, each, time.process_time() - before + workers[-1]


def _of_workers() -> float:
    """Return the processor time of all worker processes so far [s]."""
    stats = [Path(f"/proc/{child.pid}/stat").read_text(encoding="utf-8") for child in active_children()]
    ticks = [stat.rpartition(")")[2].split()[11:13] for stat in stats]  # as user, and in the system
    return sum(int(user) + int(system) for user, system in ticks) / os.sysconf("SC_CLK_TCK")


def two_cores(options: Options) -> Found:
    """Measure the rate of a sweep on two cores, and beside it that on one."""
    plan = _ready(options.members)
    count = plan.members.count
    cold, _ = seconds(plan, jobs=2)
    whole, each = seconds(plan, jobs=2)
    rate, steady = count / whole, 1.0 / each
    detail = (
        f"{count} members of a perforated absorber (tilt, effectiveness, flow), default segments and step "
        f"plan, two worker processes: {whole:.1f} s with their start and storage, so {rate:.1f} "
        f"scenario-years a second; from the first answer to the last {steady:.1f} a second. The process "
        "that workers are split off from is up by then, as it is with `simengine sweep`, where it loads "
        "while the command works out how long the sweep will take; with its start too the same took "
        f"{cold:.1f} s ({count / cold:.1f} a second). A million would take {1e6 * each / 3600.0:.1f} hours."
    )
    return Found(f"{rate:.1f} a second ({count} members; {steady:.1f} at length)", rate >= 100.0, detail)


def one_core(options: Options) -> Found:
    """Compare two worker processes with one, turn by turn."""
    plan = _ready(options.members)
    seconds(_ready(64), jobs=2)  # the process that workers are split off from is up
    pairs = [(spent(plan, jobs=2), spent(plan, jobs=1)) for _ in range(2)]
    ratio = max(one[0] / two[0] for two, one in pairs)
    steady = max(one[1] / two[1] for two, one in pairs)
    free = max(2.0 * one[2] / two[2] for two, one in pairs)
    rows = table(
        ("turn", "one process", "two processes", "ratio", "processor time", "with two"),
        *(
            (
                str(turn + 1),
                f"{a[0]:.1f} s",
                f"{b[0]:.1f} s",
                f"{a[0] / b[0]:.2f}",
                f"{a[2]:.1f} s",
                f"{b[2]:.1f} s",
            )
            for turn, (b, a) in enumerate(pairs)
        ),
    )
    detail = (
        f"{plan.members.count} members, with the start of the processes:\n\n{rows}\n\nFrom the first answer "
        f"to "
        f"the last {steady:.2f} times. By the processor time that was spent, two cores with nothing else to "
        f"do "
        f"would be {free:.2f} times as fast. The better turn counts, since other work on the machine only "
        f"takes "
        "away; with a load beside it of one core or more the first figures say little."
    )
    figure = f"{ratio:.2f} times ({steady:.2f} from first to last answer; {free:.2f} by processor time)"
    return Found(figure, ratio >= 1.8, detail)


def dask(options: Options) -> Found:
    """Compare two workers of a scheduler on loopback with two processes of our own."""
    plan = _ready(max(options.members // 2, 64))
    with tempfile.TemporaryDirectory() as made:
        cluster = Cluster(Path(made))
        try:
            cluster.add_worker()
            cluster.add_worker()
            warm = plan_of(sweep_of(64))
            seconds(warm, scheduler=cluster.address)
            pairs = [(seconds(plan, scheduler=cluster.address), seconds(plan, jobs=2)) for _ in range(2)]
        finally:
            cluster.close()
    ratio = max(local[0] / there[0] for there, local in pairs)
    steady = max(local[1] / there[1] for there, local in pairs)
    rows = table(
        ("turn", "two loopback workers", "two local processes", "local over dask"),
        *(
            (str(turn + 1), f"{there[0]:.1f} s", f"{local[0]:.1f} s", f"{local[0] / there[0]:.2f}")
            for turn, (there, local) in enumerate(pairs)
        ),
    )
    detail = (
        f"{plan.members.count} members; scheduler and workers were up and warm, the local processes start "
        f"anew:\n\n{rows}\n\nFrom the first answer to the last {steady:.2f}, in which no start counts."
    )
    return Found(f"{ratio:.2f} ({steady:.2f} from first to last answer)", min(ratio, steady) >= 0.9, detail)


def scale(options: Options) -> Found:
    """Compare the time of a member among many with that among a tenth of them."""
    few, many = (_ready(count) for count in (options.many // 10, options.many))
    turns = [(seconds(few, jobs=2), seconds(many, jobs=2))]
    (few_whole, few_each), (many_whole, many_each) = turns[0]
    change = many_each / few_each - 1.0
    detail = (
        f"{few.members.count} members in {few_whole:.1f} s, {many.members.count} in {many_whole:.1f} s, "
        f"two processes; from the first answer to the last {1e3 * few_each:.2f} and {1e3 * many_each:.2f} "
        "ms a member."
    )
    return Found(f"{100.0 * change:+.1f} % ({many.members.count} members)", abs(change) <= 0.05, detail)


def memory(options: Options) -> Found:
    """Look at the memory of the parent of a large sweep whose members are invented."""
    sizes = (options.store // 10, options.store)
    peaks = []
    for size in sizes:
        ran = subprocess.run(
            [sys.executable, "-m", "tests.benchmarks.invented_members", str(size)],
            cwd=REPOSITORY,
            check=True,
            capture_output=True,
            text=True,
            env={**os.environ, "PYTHONPATH": str(REPOSITORY)},
        )
        peaks.append(json.loads(ran.stdout.splitlines()[-1]))
    worker, loader = _worker_peak(), _peak(f"import {', '.join(LOADED)}\n")
    rows = table(
        ("members", "peak of the parent", "time", "on the disk", "bytes a member"),
        *(
            (
                f"{one['members']:,}",
                f"{one['peak_mb']:.0f} MB",
                f"{one['seconds']:.0f} s",
                f"{one['bytes'] / 1e6:.0f} MB",
                f"{one['bytes'] / one['members']:.0f}",
            )
            for one in peaks
        ),
    )
    total = peaks[-1]["peak_mb"] + loader + 2.0 * worker
    detail = (
        f"{rows}\n\nThe members' numbers are invented, since marching as many would show the same in "
        "hours: plan, chunks, storage and packing are the real ones. A worker process peaks at "
        f"{worker:.0f} MB, however many chunks it does, the process that workers are split off from at "
        f"{loader:.0f} MB; parent, that one and two workers together {total:.0f} MB, what they share counted "
        "each time."
    )
    return Found(f"{total:.0f} MB in all, parent {peaks[-1]['peak_mb']:.0f} MB", total < 1500.0, detail)


def _worker_peak() -> float:
    return _peak(
        "from simengine.batch.plan import plan_of\nfrom simengine.batch.task import Bench\n"
        "from tests.benchmarks.sample import sweep_of\n"
        "plan = plan_of(sweep_of(64))\nbench = Bench(plan.base)\n"
        "for task in plan.tasks(range(min(plan.chunks, 4))): bench.work(task)\n"
    )


def _peak(code: str) -> float:
    """Return the most memory that a process takes which does this [MB]."""
    told = "from tests.benchmarks.invented_members import peak_mb\nprint(peak_mb())\n"
    ran = subprocess.run(
        [sys.executable, "-c", code + told], cwd=REPOSITORY, check=True, capture_output=True, text=True,
        env={**os.environ, "PYTHONPATH": str(REPOSITORY)},
    )  # fmt: skip
    return float(ran.stdout.split()[-1])


def overhead(options: Options) -> Found:
    """Say what progress, checkpoints and storage take of a sweep's time, and where the rest goes."""
    plan = _ready(max(options.members // 8, 64))
    parts = {
        "march of the collectors": (together, "march_year"),
        "arrays of each member": (together, "member_of"),
        "sun, sky and optics, once for those that share them": (Shared, "drive"),
        "scenario read and parts made": (Shared, "resolve"),
        "numbers of each member's year": (tasks, "finished_in_brief"),
        "chunk written and seen to the disk": (store.Store, "put"),
        "dataset packed": (store.Store, "finish"),
    }
    clocks, stack = {}, []
    try:
        for name, (place, called) in parts.items():
            held = timed(place, called)
            clocks[name] = held.__enter__()
            stack.append(held)
        told = [0.0]

        def progress(done: int, total: int) -> None:
            begin = time.perf_counter()
            nowhere.write(f"{done} of {total}\n")
            told[0] += time.perf_counter() - begin

        with folder() as there, open(os.devnull, "w", encoding="utf-8") as nowhere:
            begin = time.perf_counter()
            sweep.run_plan(plan, there, progress=progress)
            whole = time.perf_counter() - begin
    finally:
        for held in reversed(stack):
            held.__exit__(None, None, None)
    kept = clocks["chunk written and seen to the disk"].seconds + clocks["dataset packed"].seconds + told[0]
    rows = [(name, clock.seconds) for name, clock in clocks.items()]
    rows += [("progress", told[0]), ("the rest", whole - sum(s for _, s in rows) - told[0])]
    text = table(
        ("part", "share of the time", "ms a member"),
        *((name, f"{100.0 * s / whole:.1f} %", f"{1e3 * s / plan.members.count:.2f}") for name, s in rows),
    )
    detail = f"{plan.members.count} members in one process, {whole:.1f} s:\n\n{text}"
    share = kept / whole
    return Found(f"{100.0 * share:.1f} %", share < 0.05, detail)
