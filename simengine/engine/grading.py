"""How the steps of an interval grow: what the weather's jump at its start sets going fades."""

from simengine.compiled import kernel

LAST_OVER_FIRST = 11.0
"""The last step of an interval lasts at most so many times as long as the first [-]."""


@kernel
def graded(seconds: float, steps: float) -> tuple[float, float]:
    """Return the first step of an interval, and by how much each is longer than the one before [s].

    Parameters
    ----------
    seconds : length of the interval [s]
    steps : how many there are [-]

    Source: an arithmetic series. Up to six steps its terms go as 1, 3, 5 and so on, so that the k-th of n
    ends at (k / n)^2 of the interval; more steps leave the ratio of the last to the first as it is, so that
    twice as many are half as long everywhere.

    >>> graded(3600.0, 2.0)
    (900.0, 1800.0)
    >>> graded(3600.0, 6.0)
    (100.0, 200.0)
    """
    growth = min(2.0 * steps - 1.0, LAST_OVER_FIRST)
    first = 2.0 * seconds / (steps * (1.0 + growth))
    return first, (growth - 1.0) * first / max(steps - 1.0, 1.0)
