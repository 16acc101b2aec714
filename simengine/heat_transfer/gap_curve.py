"""A still gap as a table for the march: Nusselt number over the signed fourth root of Rayleigh."""

from collections.abc import Callable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from simengine.compiled import kernel

LARGEST_RAYLEIGH = 3.0e8
"""Rayleigh number at the ends of a table [-]; the value there is held beyond."""

LARGEST_ROOT = LARGEST_RAYLEIGH**0.25
"""Fourth root of `LARGEST_RAYLEIGH` [-]."""

KEPT = 64
"""Tables that are kept, 33 kB each: the members of a sweep have but a few gaps among them."""


@lru_cache(maxsize=KEPT)
def gap_table(
    nusselt: Callable[[float, float, float], float], tilt: float, aspect: float, size: int = 4097
) -> NDArray[np.float64]:
    """Tabulate a gap relation for both directions of the heat.

    Parameters
    ----------
    nusselt : callable
        Relation (rayleigh [-], tilt at the hotter face [deg], aspect [-]) -> Nusselt number [-].
    tilt : float
        Slope of the gap [deg], 0 to 90: the tilt that counts when the lower (back) face is hotter.
    aspect : float
        Length up the slope over depth [-].
    size : int
        Number of table points [-], odd and at least 3.

    Returns
    -------
    array, shape (size,)
        Nusselt number [-] on a uniform grid of x = sign * Ra ** (1/4) from -`LARGEST_ROOT` to
        +`LARGEST_ROOT`; x > 0: the lower face is hotter, x < 0: the upper face is.

    Notes
    -----
    With 4097 points the linear interpolation of the default relation is off by less than 0.2 % away
    from the onset of convection and by at most 1.5 % in the one cell that holds the onset.

    Examples
    --------
    >>> from simengine.heat_transfer.natural_convection import gap_nusselt
    >>> gap_table(gap_nusselt, 90.0, 80.0, size=5).round(2).tolist()
    [45.11, 17.9, 1.0, 17.9, 45.11]
    """
    roots = np.linspace(-LARGEST_ROOT, LARGEST_ROOT, size)
    table = np.array([nusselt(float(x) ** 4, tilt if x >= 0.0 else 180.0 - tilt, aspect) for x in roots])
    table.flags.writeable = False  # whoever asks next is given the same one
    return table


@kernel
def interpolate_nusselt(row: NDArray[np.float64], x: float) -> float:
    """Return the Nusselt number from a table made by `gap_table`.

    Parameters
    ----------
    row : array, shape (size,)
        The table [-].
    x : float
        Signed fourth root of the Rayleigh number [-]; held at the ends of the table beyond them.

    Returns
    -------
    float
        Nusselt number [-].

    Examples
    --------
    >>> interpolate_nusselt(np.array([3.0, 1.0, 5.0]), LARGEST_ROOT / 2.0)
    3.0
    """
    last = row.shape[0] - 1
    place = min(max((x + LARGEST_ROOT) * (0.5 * last / LARGEST_ROOT), 0.0), float(last))
    index = min(int(place), last - 1)
    nusselt: float = row[index] + (place - index) * (row[index + 1] - row[index])
    return nusselt
