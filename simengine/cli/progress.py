"""How far a long piece of work is: a bar on a terminal, plain lines elsewhere."""

import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

from simengine.cli.exits import complain

if TYPE_CHECKING:
    from collections.abc import Callable

LINES = 10
"""How many plain lines a piece of work writes."""


@contextmanager
def progress(what: str, quiet: bool, done_before: int = 0) -> "Iterator[Callable[[int, int], None]]":
    """Give a function that is told how many are done, of how many.

    Parameters
    ----------
    what : what is counted, e.g. "years drawn"
    quiet : say nothing
    done_before : of an earlier run; they count for nothing in the time left
    """
    if quiet:
        yield lambda done, of: None
    elif sys.stderr.isatty():
        yield from _bar(what)
    else:
        yield _lines(what, done_before)


def _bar(what: str) -> "Iterator[Callable[[int, int], None]]":
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), transient=True) as shown:
        task = shown.add_task(what, total=None)
        yield lambda done, of: shown.update(task, completed=done, total=of)


def _lines(what: str, done_before: int) -> "Callable[[int, int], None]":
    started, told = time.monotonic(), [0]

    def tell(done: int, of: int) -> None:
        if of and LINES * done // of > told[0]:
            told[0] = LINES * done // of
            spent = time.monotonic() - started
            left = spent * (of - done) / max(done - done_before, 1)
            complain(f"{what}: {done} of {of}, {duration(left)} left")

    return tell


def duration(seconds: float) -> str:
    """Return a time in words.

    Parameters
    ----------
    seconds : [s]

    >>> duration(42.4), duration(150.0), duration(9000.0)
    ('42 s', '2.5 min', '2.5 h')
    """
    if seconds < 100.0:
        return f"{seconds:.0f} s"
    return f"{seconds / 60.0:.1f} min" if seconds < 6000.0 else f"{seconds / 3600.0:.1f} h"
