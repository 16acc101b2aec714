"""How long this processor takes for one floating-point operation of each kind, in full vector registers."""

import statistics
import time
from collections.abc import Callable

import numba
import numpy as np

WIDTH = 64
"""Numbers that are worked on side by side: eight registers of eight."""
REPEATS = 20_000
CHAIN = 8
"""Operations on each number between its load and its store."""

compiled = numba.njit(error_model="numpy")


@compiled
def _none(x, a, b):
    for _ in range(REPEATS):
        for i in range(WIDTH):
            x[i] = -x[i]


@compiled
def _added(x, a, b):
    for _ in range(REPEATS):
        for i in range(WIDTH):
            v = x[i]
            v = a - v
            v = b - v
            v = a - v
            v = b - v
            v = a - v
            v = b - v
            v = a - v
            v = b - v
            x[i] = v


@compiled
def _multiplied(x, a, b):
    for _ in range(REPEATS):
        for i in range(WIDTH):
            v = x[i]
            v = v * a
            v = v * b
            v = v * a
            v = v * b
            v = v * a
            v = v * b
            v = v * a
            v = v * b
            x[i] = v


@compiled
def _divided(x, a, b):
    for _ in range(REPEATS):
        for i in range(WIDTH):
            v = x[i]
            v = a / v
            v = b / v
            v = a / v
            v = b / v
            v = a / v
            v = b / v
            v = a / v
            v = b / v
            x[i] = v


@compiled
def _rooted(x, a, b):
    for _ in range(REPEATS):
        for i in range(WIDTH):
            v = x[i]
            v = np.sqrt(v)
            v = np.sqrt(v)
            v = np.sqrt(v)
            v = np.sqrt(v)
            v = np.sqrt(v)
            v = np.sqrt(v)
            v = np.sqrt(v)
            v = np.sqrt(v)
            x[i] = v


def _seconds(function: Callable[..., None]) -> float:
    taken = []
    for _ in range(7):
        x = np.linspace(1.1, 1.9, WIDTH)
        begin = time.perf_counter()
        function(x, 1.0009, 0.9991)
        taken.append(time.perf_counter() - begin)
    return min(taken[1:])


def nanoseconds() -> dict[str, float]:
    """Return the time of one operation of each kind [ns], the loop around it taken off."""
    empty = _seconds(_none)
    kinds = {"add": _added, "multiply": _multiplied, "divide": _divided, "root": _rooted}
    found = {
        kind: 1e9 * max(_seconds(function) - empty, 0.0) / (REPEATS * WIDTH * CHAIN)
        for kind, function in kinds.items()
    }
    return {**found, "compare": found["add"]}


if __name__ == "__main__":
    print({kind: round(statistics.median([value]), 4) for kind, value in nanoseconds().items()})
