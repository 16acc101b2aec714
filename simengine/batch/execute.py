"""Runs the tasks of a batch, here or in worker processes; results don't hang on who did what, or when."""

from collections.abc import Iterable, Iterator

from simengine.batch.cluster import execute_there
from simengine.batch.crew import Crew
from simengine.batch.task import Base, Bench, Outcome, Task, safely


def execute(
    base: Base, tasks: Iterable[Task], jobs: int = 0, scheduler: str = ""
) -> Iterator[tuple[Task, list[Outcome]]]:
    """Yield every task with what came of its members, as they get done.

    Parameters
    ----------
    base : the scenario that all members change
    tasks : what to do; taken one by one, so there may be millions
    jobs : worker processes; 0: this process does everything itself
    scheduler : address of a scheduler whose workers do it instead; empty: none

    Yields
    ------
    task and outcomes in the order of its members; tasks in any order where there are several workers
    """
    if scheduler:
        yield from execute_there(scheduler, base, tasks)
        return
    if jobs < 1:
        bench = Bench(base)
        for task in tasks:
            yield task, safely(bench, task)
        return
    with Crew(base, jobs) as crew:
        yield from crew.run(tasks)


def in_tasks(count: int, size: int) -> Iterator[tuple[int, range]]:
    """Yield number and members of tasks of a size, in order.

    >>> list(in_tasks(5, 2))
    [(0, range(0, 2)), (1, range(2, 4)), (2, range(4, 5))]
    """
    for number, first in enumerate(range(0, count, size)):
        yield number, range(first, min(first + size, count))
