"""One lane or several at once: a kernel that is given a block works in the processor's wide registers.

`array[..., lane]` is a float where `lane` is an integer, and a vector of `WIDTH` floats where it is a block.
Arithmetic, comparisons, `max`, `min`, `abs`, `math.sqrt` and the functions below take both, so one source
serves both, and gives the same bits. Without the compiler a lane is always an integer.
"""

from simengine.compiled import COMPILING

WIDTH = 8
"""Lanes of a block: one wide register, or two or four of narrower processors."""

BLOCKS = COMPILING
"""Whether there are blocks."""


def where(condition: bool, chosen: float, other: float) -> float:
    """Return one of two values, lane by lane; both are worked out.

    Parameters
    ----------
    condition : which lanes take the first
    chosen, other : the values [any]

    >>> where(2.0 > 1.0, 3.0, 4.0)
    3.0
    """
    return chosen if condition else other


def any_of(condition: bool) -> bool:
    """Return whether a condition holds in any lane.

    Parameters
    ----------
    condition : lane by lane
    """
    return bool(condition)


def first_of(lane: int) -> int:
    """Return the number of the first lane.

    Parameters
    ----------
    lane : a lane [-], or a block of them
    """
    return lane


def lanes_in(lane: int) -> int:
    """Return how many lanes there are.

    Parameters
    ----------
    lane : a lane [-], or a block of them
    """
    return 1


def same_in(lane: int, value: float) -> float:
    """Return a value in all lanes.

    Parameters
    ----------
    lane : a lane [-], or a block of them
    value : what each is to have [any]
    """
    return value


def block() -> int:
    """Return the block of all `WIDTH` lanes: arrays that it is an index of have no more and no fewer.

    Only compiled code knows blocks. It takes it for granted that a row of lanes is `WIDTH` numbers long.
    """
    raise NotImplementedError


if BLOCKS:
    from simengine.vector_types import teach

    teach(WIDTH, where, any_of, first_of, lanes_in, same_in, block)
