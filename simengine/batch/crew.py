"""Worker processes that hand back what they did; one that is lost costs its task only."""

import contextlib
import gc
import multiprocessing as mp
import signal
import threading
from collections import deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from multiprocessing import forkserver
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from types import TracebackType
from typing import Any

from simengine.batch.task import Base, Bench, Outcome, Task, safely

MOST_TRIES = 2
"""How often a task is given out before a worker that vanishes over it is held against the task."""

LOADED = ["simengine.batch.crew", "pvlib", "numpy_financial"]
"""Modules that every worker needs, sooner or later."""

PATIENCE = 0.5
"""How long a worker may take to end when it is told to [s]."""


@dataclass
class Worker:
    """A process, the line to it, and what it works on."""

    process: BaseProcess
    line: Any  # Connection; on Windows a class of another name
    task: Task | None = None


class Crew:
    """Worker processes for one batch."""

    def __init__(self, base: Base, jobs: int) -> None:
        self.base = base
        self.jobs = jobs
        self.workers: list[Worker] = []

    def __enter__(self) -> "Crew":
        """Start the workers."""
        self.workers = [self._start() for _ in range(self.jobs)]
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End the workers, whatever they are at."""
        for worker in self.workers:
            worker.line.close()
            worker.process.terminate()
        for worker in self.workers:
            worker.process.join(PATIENCE)
            if worker.process.is_alive():
                worker.process.kill()
                worker.process.join(PATIENCE)

    def run(self, tasks: Iterable[Task]) -> Iterator[tuple[Task, list[Outcome]]]:
        """Yield every task with what came of it, in the order in which they get done."""
        ahead, again = iter(tasks), deque[Task]()
        tries: dict[int, int] = {}
        for worker in self.workers:
            self._give(worker, ahead, again)
        while busy := [worker for worker in self.workers if worker.task is not None]:
            ready = wait([worker.line for worker in busy])
            for worker in [one for one in busy if one.line in ready]:
                task = worker.task
                assert task is not None
                try:
                    outcomes = worker.line.recv()
                except (EOFError, OSError):
                    outcomes = self._lost(worker, task, tries, again)
                worker.task = None
                self._give(worker, ahead, again)
                if outcomes is not None:
                    yield task, outcomes

    def _give(self, worker: Worker, ahead: Iterator[Task], again: deque[Task]) -> None:
        task = again.popleft() if again else next(ahead, None)
        if task is None:
            return
        worker.task = task
        # a worker that is gone already shows when its answer is waited for
        with contextlib.suppress(OSError):
            worker.line.send(task)

    def _lost(
        self, worker: Worker, task: Task, tries: dict[int, int], again: deque[Task]
    ) -> list[Outcome] | None:
        """Start another process in the place of a lost one; give its task out anew, or give it up."""
        worker.line.close()
        worker.process.join(PATIENCE)
        fresh = self._start()
        worker.process, worker.line = fresh.process, fresh.line
        tries[task.number] = tries.get(task.number, 1) + 1
        if tries[task.number] <= MOST_TRIES:
            again.append(task)
            return None
        reason = (
            f"the worker process was lost {MOST_TRIES} times over this piece (memory, or ended from outside)"
        )
        return [Outcome(member, None, reason) for member in task.members]

    def _start(self) -> Worker:
        context = _context()
        here, there = context.Pipe()
        process = context.Process(target=_serve, args=(there, self.base), daemon=True)
        with _deaf():
            process.start()
        there.close()
        return Worker(process, here)


def _context() -> Any:
    """Return how worker processes are made: split off one that has all modules loaded, where that can be.

    That one is made for the first worker of this process and waits for further crews: a second or two less
    for every worker but the first.
    """
    if "forkserver" not in mp.get_all_start_methods():
        return mp.get_context("spawn")
    context = mp.get_context("forkserver")
    context.set_forkserver_preload(LOADED)
    return context


def get_ready() -> None:
    """Let the process that workers are split off load its modules, while this one does something else."""
    if _context().get_start_method() == "forkserver":
        with _deaf():
            forkserver.ensure_running()


@contextlib.contextmanager
def _deaf() -> Iterator[None]:
    """Let a process that starts meanwhile inherit that it does not hear Ctrl-C: the parent ends it."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


def _serve(line: "Connection[Any, Any]", base: Base) -> None:
    """Work on tasks until the line is closed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    bench = Bench(base)
    with contextlib.suppress(EOFError, OSError):
        line.send(safely(bench, line.recv()))
        gc.collect()
        gc.freeze()  # what there is by now stays: no later search for garbage has to pass through it
        while True:
            line.send(safely(bench, line.recv()))
