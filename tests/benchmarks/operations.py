"""Counts the floating-point operations of a step: the march's own source, uncompiled, on numbers that count.

Run with NUMBA_DISABLE_JIT=1; prints one line of JSON.
"""

import json
import math
import os
import sys
from collections import defaultdict
from typing import Any

import numpy as np

from simengine.engine.ledger import COLUMNS
from simengine.engine.march import march
from simengine.engine.state import new_scratch, new_state
from simengine.simulate import resolve
from simengine.simulate.drive import drive_of
from simengine.simulate.year import member_of
from tests.benchmarks.sample import perforated

FIRST, HOURS = 24 * 10 + 6, 14
"""Hours of a clear day in January that are counted; the four before them are marched without counting."""

COUNTS: dict[str, dict[str, float]] = defaultdict(lambda: defaultdict(float))
KINDS = {
    "add": ("__add__", "__radd__", "__sub__", "__rsub__", "__neg__"),
    "multiply": ("__mul__", "__rmul__"),
    "divide": ("__truediv__", "__rtruediv__"),
    "compare": ("__lt__", "__le__", "__gt__", "__ge__", "__eq__", "__ne__", "__abs__"),
}


def note(kind: str, depth: int = 2) -> None:
    """Count an operation for the function that asked for it."""
    code = sys._getframe(depth).f_code
    place = f"{os.path.basename(os.path.dirname(code.co_filename))}/{os.path.basename(code.co_filename)[:-3]}"
    COUNTS[f"{place}: {code.co_name}"][kind] += 1.0


class Counted(float):
    """A number that counts what is done with it."""

    __array_ufunc__ = None


def _counting(name: str, kind: str) -> Any:
    plain = getattr(float, name)

    def counted(self: float, *other: Any) -> Any:
        result = plain(self, *(float(value) for value in other))
        note(kind)
        return Counted(result) if isinstance(result, float) else result

    return counted


for _kind, _names in KINDS.items():
    for _name in _names:
        setattr(Counted, _name, _counting(_name, _kind))
Counted.__hash__ = float.__hash__  # type: ignore[method-assign]


class Mathematics:
    """`math`, with its roots and exponentials counted."""

    def __getattr__(self, name: str) -> Any:
        held = getattr(math, name)
        if not callable(held):
            return held

        def counted(*given: Any) -> Any:
            note("root" if name == "sqrt" else name)
            result = held(*(float(value) for value in given))
            return Counted(result) if isinstance(result, float) else result

        return counted


def counting(part: Any) -> Any:
    """Return arrays of numbers that count in the place of arrays of plain ones."""
    if isinstance(part, np.ndarray) and part.dtype == np.float64:
        made = np.empty(part.shape, dtype=object)
        made.ravel()[:] = [Counted(value) for value in part.ravel().tolist()]
        return made
    if isinstance(part, tuple) and hasattr(part, "_fields"):
        return type(part)(*(counting(value) for value in part))
    return part


def main() -> None:
    """Count, and print."""
    resolved = resolve(perforated())
    drive = drive_of(resolved)
    whole = member_of(resolved, drive)
    lanes, panes, segments = whole.zone.shape[1], whole.network.panes, whole.network.path.shape[1]
    state, work = new_state(panes, segments, lanes, 293.15), new_scratch(panes, segments, lanes)
    for first, last, counts in ((FIRST - 4, FIRST, False), (FIRST, FIRST + HOURS, True)):
        rows = slice(first, last)
        forcing = type(whole.forcing)(*(array[rows] for array in whole.forcing))
        part = whole._replace(forcing=forcing, drive=whole.drive[rows], demand=whole.demand[rows])
        hours = np.zeros((0, COLUMNS, lanes))
        if counts:
            part, state, work, hours = (counting(one) for one in (part, state, work, hours))
            for name, module in list(sys.modules.items()):
                if name.startswith("simengine.") and getattr(module, "math", None) is math:
                    module.math = Mathematics()  # type: ignore[attr-defined]
        march(part, drive.plan[rows], 3600.0, state, work, hours)
    steps = float(drive.plan[FIRST : FIRST + HOURS].sum()) * lanes
    totals: dict[str, float] = defaultdict(float)
    for kinds in COUNTS.values():
        for kind, count in kinds.items():
            totals[kind] += count / steps
    by_place = {
        place: {kind: count / steps for kind, count in kinds.items()} for place, kinds in COUNTS.items()
    }
    print(json.dumps({"hours": HOURS, "steps": steps, "per_step": totals, "by_place": by_place}))


if __name__ == "__main__":
    main()
