"""A channel wall between still gap and forced flow: one continuous coefficient."""

from simengine.compiled import kernel
from simengine.heat_transfer.roots import cube_root, cube_root_beyond_one

_FADE_REYNOLDS = 100.0
_TINY = 1.0e-300


@kernel
def fade(reynolds: float) -> float:
    """Return the share of forced convection that a small flow keeps.

    Parameters
    ----------
    reynolds : float
        Reynolds number on the hydraulic diameter [-], either sign.

    Returns
    -------
    float
        Share [-]: 0 at no flow, 1/2 at Re 100, above 0.99 from Re 1000.

    Notes
    -----
    Own bridge, r^2 / (1 + r^2) with r = Re/100; smooth and even, so that still gap, forward and
    backward flow are one curve.

    Examples
    --------
    >>> [round(fade(re), 3) for re in (0.0, 100.0, 1000.0)]
    [0.0, 0.5, 0.99]
    """
    ratio = reynolds / _FADE_REYNOLDS
    return ratio * ratio / (1.0 + ratio * ratio)


@kernel
def faded_forced(h_forced: float, h_conduction: float, reynolds: float) -> float:
    """Return the forced coefficient of a channel wall as it enters `mixed`.

    Parameters
    ----------
    h_forced : float
        Coefficient of the forced flow [W/m2K].
    h_conduction : float
        Coefficient of the still gap by conduction alone, k / depth [W/m2K].
    reynolds : float
        Reynolds number on the hydraulic diameter [-].

    Returns
    -------
    float
        (f (h_forced^3 - (2 h_conduction)^3)) ** (1/3) [W/m2K] with f = `fade`.

    Notes
    -----
    A developed flow already contains the conduction across the layer. Taking it out here makes
    `mixed` return the forced value where there is no buoyancy, and exactly the still gap where
    there is no flow.

    Examples
    --------
    >>> round(mixed(faded_forced(6.0, 1.0, 1.0e5), 1.0), 4)
    6.0
    """
    still = 2.0 * h_conduction
    excess = h_forced * h_forced * h_forced - still * still * still
    return cube_root(fade(reynolds) * max(excess, 0.0))


@kernel
def mixed(h_forced: float, h_gap: float) -> float:
    """Return the coefficient of one wall of a channel with forced flow and buoyancy together.

    Parameters
    ----------
    h_forced : float
        Forced coefficient of this wall [W/m2K], from `faded_forced`.
    h_gap : float
        Coefficient of the still gap from wall to wall [W/m2K].

    Returns
    -------
    float
        (h_forced^3 + (2 h_gap)^3) ** (1/3) [W/m2K]; with no flow 2 h_gap, so that the two walls in
        series are the still gap.

    Notes
    -----
    The cube law for assisting flows (Churchill 1977; from memory).

    Examples
    --------
    >>> mixed(0.0, 1.5)
    3.0
    """
    still = 2.0 * h_gap
    larger = max(h_forced, still)
    ratio = min(h_forced, still) / max(larger, _TINY)
    return larger * cube_root_beyond_one(ratio * ratio * ratio)
