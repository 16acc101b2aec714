"""A sweep of any size whose members' numbers are invented: prints the parent's peak memory as JSON."""

import json
import sys
import tempfile
import time
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Any

import numpy as np

from simengine.batch import sweep
from simengine.batch.measures import WIDTH
from simengine.batch.plan import plan_of
from simengine.batch.store import DATASET
from simengine.batch.task import Base, Outcome, Task
from tests.benchmarks.sample import sweep_of


def invented(base: Base, tasks: Iterable[Task], *_: Any) -> Iterator[tuple[Task, list[Outcome]]]:
    """Yield every task with numbers that nobody worked out."""
    random = np.random.default_rng(1)
    for task in tasks:
        rows = random.uniform(0.0, 5000.0, (len(task.members), 2, WIDTH))
        yield task, [Outcome(member, row) for member, row in zip(task.members, rows, strict=True)]


def peak_mb() -> float:
    """Return the most memory that this process has taken; other counts begin with that of its parent [MB]."""
    status = Path("/proc/self/status").read_text(encoding="ascii")
    return float(status.partition("VmHWM:")[2].split()[0]) / 1024.0


def main(members: int) -> None:
    """Run the sweep, and print."""
    sweep.execute = invented  # type: ignore[assignment]
    begin = time.perf_counter()
    plan = plan_of(sweep_of(members))
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made) / "sweep"
        sweep.run_plan(plan, folder, progress=lambda *_: None)
        size = (folder / DATASET).stat().st_size
    found = {"members": plan.members.count, "peak_mb": peak_mb(), "bytes": size}
    print(json.dumps({**found, "seconds": time.perf_counter() - begin}))


if __name__ == "__main__":
    main(int(sys.argv[1]))
