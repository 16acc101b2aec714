"""Cube roots and a decaying exponential without library calls or branches, for the march."""

import math

from simengine.compiled import kernel

_TINY = 1e-300
_LARGEST_EXPONENT = 60.0
_SQUARINGS = 256.0


@kernel
def cube_root(x: float) -> float:
    """Return the cube root of a number that is not negative.

    Parameters
    ----------
    x : float
        Any number >= 0 [-].

    Returns
    -------
    float
        x ** (1/3) [-]; exactly 0 at 0. Relative error below 1e-14 for x in 1e-6 to 1e6 and below
        4e-10 for x in 1e-12 to 1e12.

    Notes
    -----
    Starts from x ** (5/16), four square roots, and takes three steps of Halley's method.

    Examples
    --------
    >>> round(cube_root(27.0), 12)
    3.0
    """
    fourth = math.sqrt(math.sqrt(x))
    y = fourth * math.sqrt(math.sqrt(fourth))
    cube = y * y * y
    y = y * (cube + 2.0 * x) / max(2.0 * cube + x, _TINY)
    cube = y * y * y
    y = y * (cube + 2.0 * x) / max(2.0 * cube + x, _TINY)
    cube = y * y * y
    return y * (cube + 2.0 * x) / max(2.0 * cube + x, _TINY)


@kernel
def cube_root_beyond_one(t: float) -> float:
    """Return the cube root of 1 + t.

    Parameters
    ----------
    t : float
        0 to 1 [-].

    Returns
    -------
    float
        (1 + t) ** (1/3) [-]; exactly 1 at 0. Relative error below 4e-10.

    Notes
    -----
    1 + t P(t), with P of degree 9 the Chebyshev interpolation of ((1 + t) ** (1/3) - 1) / t on 0 to 1.

    Examples
    --------
    >>> round(cube_root_beyond_one(0.331), 9)
    1.1
    """
    p = 0.002609393604610349 - 0.00042267124166615985 * t
    p = -0.0075990180661857 + t * p
    p = 0.014504516821801337 + t * p
    p = -0.021801640238686717 + t * p
    p = 0.029779687748389093 + t * p
    p = -0.041095810059411646 + t * p
    p = 0.061724249505487244 + t * p
    p = -0.11111099135975713 + t * p
    p = 0.33333333275691013 + t * p
    return 1.0 + t * p


@kernel
def exp_negative(x: float) -> float:
    """Return exp(-x) for an x that is not negative.

    Parameters
    ----------
    x : float
        Exponent [-]; below 0 it is held at 0, above 60 at 60.

    Returns
    -------
    float
        exp(-x) [-]; exactly 1 at 0, at most 1e-26 beyond 60. Relative error below 2e-12 up to 25, below 2e-9
        beyond.

    Notes
    -----
    Taylor polynomial of degree 8 on x/256, squared eight times.

    Examples
    --------
    >>> round(exp_negative(1.0), 10)
    0.3678794412
    """
    t = min(max(x, 0.0), _LARGEST_EXPONENT) / _SQUARINGS
    p = -1.0 / 5040.0 + t * (1.0 / 40320.0)
    p = 1.0 / 720.0 + t * p
    p = -1.0 / 120.0 + t * p
    p = 1.0 / 24.0 + t * p
    p = -1.0 / 6.0 + t * p
    p = 0.5 + t * p
    p = -1.0 + t * p
    p = 1.0 + t * p
    p = p * p
    p = p * p
    p = p * p
    p = p * p
    p = p * p
    p = p * p
    p = p * p
    return p * p
