"""Where a march comes to no sound state, it is taken again with shorter steps, then ended with its reason."""

from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from simengine.engine.ledger import Column
from simengine.errors import RunEnded
from simengine.simulate.drive import Drive

Array = NDArray[np.float64]

HALVINGS = 2
"""An interval is taken in steps of a half, then of a quarter of what is usual."""

MOST_MARCHES = 8
"""What needs more shorter steps than these marches bring is given up."""

LARGEST_RESIDUAL = 1.0e-6
"""A step whose heat balances no better than this share of its terms is not solved [-]."""

RESIDUALS = slice(int(Column.RESIDUAL), int(Column.HOUSE_RESIDUAL) + 1)


def settled(hours: Array, drive: Drive, again: Callable[[Drive], Array]) -> tuple[Array, Drive]:
    """Return a march that is sound throughout: the one at hand, else one with shorter steps where it was not.

    Parameters
    ----------
    hours : ledger of the march at hand [interval, column, lane], J
    drive : what drove it
    again : takes the march anew, driven as told

    Returns
    -------
    the ledger, and what drove it: `drive` itself if nothing had to be taken anew

    Raises
    ------
    RunEnded : an interval stays unsound on a quarter of its step; names the interval and what was tried.
    """
    tried: Counter[int] = Counter()
    while not _looks_sound(hours):
        place = first_unsound(hours)
        if tried[place] == HALVINGS or tried.total() == MOST_MARCHES - 1:
            raise RunEnded(f"{what_broke(hours, drive)}; {_told(tried[place], tried.total())}")
        tried[place] += 1
        plan = drive.plan.copy()
        # a year that begins unsound has a warm-up that ended so
        plan[place if place > 0 else slice(None)] *= 2
        drive = replace(drive, plan=plan, shorter=tuple(sorted(tried)))
        hours = again(drive)
    return hours, drive


def _looks_sound(hours: Array) -> bool:
    """Return whether all balances, without a look at every number: a state that breaks stays broken."""
    worst = hours[:, RESIDUALS].max(initial=0.0)
    return bool(np.isfinite(hours[-1]).all() and worst <= LARGEST_RESIDUAL)


def first_unsound(hours: Array) -> int:
    """Return the first interval that is not finite or does not balance.

    >>> hours = np.zeros((3, len(Column), 1))
    >>> hours[2, Column.ROOM] = np.nan
    >>> first_unsound(hours)
    2
    """
    finite = np.isfinite(hours).all(axis=(1, 2))
    balanced = (hours[:, RESIDUALS] <= LARGEST_RESIDUAL).all(axis=(1, 2))
    return int(np.argmin(finite & balanced))


def what_broke(hours: Array, drive: Drive) -> str:
    """Return in words what is unsound and in which interval.

    Parameters
    ----------
    hours : ledger [interval, column, lane], J
    drive : what drove it
    """
    place = first_unsound(hours)
    finite = np.isfinite(hours[place]).all()
    found = "did not balance the heat" if finite else "found no finite state"
    start = drive.here.series.data.index[place]
    before = ", or in the warm-up before it" if place == 0 else ""
    return f"the march {found} in the interval that starts {start:%m-%d %H:%M}{before}"


def shorter_steps(drive: Drive) -> list[str]:
    """Return a sentence on the intervals that needed shorter steps, if any did."""
    if not drive.shorter:
        return []
    index = drive.here.series.data.index
    named = [f"{index[place]:%m-%d %H:%M}" if place > 0 else "all intervals" for place in drive.shorter]
    return [f"The march had no sound state else: steps were shorter than usual in {', '.join(named)}."]


def _told(halvings: int, marches: int) -> str:
    if halvings == HALVINGS:
        return "shorter steps, of a half and a quarter of the length, did not help"
    return f"given up after {marches} marches with shorter steps in places"
