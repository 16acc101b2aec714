"""Natural convection in a gap heated from below and inclined, as published.

Every relation takes (rayleigh, tilt, aspect) as `natural_convection` says.
"""

import math

from simengine.compiled import kernel

_CRITICAL = 1708.0  # onset of convection between horizontal plates heated from below
_TINY = 1e-9


@kernel
def hollands(rayleigh: float, tilt: float, aspect: float) -> float:
    """Return the Nusselt number of a gap heated from below and inclined by up to 60 deg.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number [-], up to 1e5 / cos(tilt) in the source.
    tilt : float
        Tilt at the hotter face [deg], 0 to 75 in the source; held at 75 above that.
    aspect : float
        Length over depth [-]; not used, the source holds for large ones.

    Returns
    -------
    float
        Nusselt number on the depth [-], at least 1.

    Notes
    -----
    Hollands, Unny, Raithby and Konicek 1976, J. Heat Transfer 98 (from memory).

    Examples
    --------
    >>> round(hollands(36887.7, 0.0, 80.0), 3)
    3.223
    """
    slope = math.radians(min(max(tilt, 0.0), 75.0))
    reduced = max(rayleigh * math.cos(slope), _TINY)
    onset = _CRITICAL / reduced
    rolls: float = max(1.0 - onset, 0.0) * (1.0 - onset * math.sin(1.8 * slope) ** 1.6)
    layers: float = max((reduced / 5830.0) ** (1.0 / 3.0) - 1.0, 0.0)
    return max(1.0 + 1.44 * rolls + layers, 1.0)


@kernel
def buchberg(rayleigh: float, tilt: float, aspect: float) -> float:
    """Return the Nusselt number of an inclined gap by the three-region relation.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number [-]; rayleigh * cos(tilt) up to 1e6 in the source.
    tilt : float
        Tilt at the hotter face [deg], 0 to 60 in the source; held at 75 above 75.
    aspect : float
        Length over depth [-]; not used.

    Returns
    -------
    float
        Nusselt number [-]. It steps by 0.7 % at rayleigh * cos(tilt) = 5900, as printed.

    Notes
    -----
    Buchberg, Catton and Edwards 1976 (from memory).

    Examples
    --------
    >>> round(buchberg(20000.0, 0.0, 80.0), 3)
    2.778
    """
    reduced = max(rayleigh * math.cos(math.radians(min(max(tilt, 0.0), 75.0))), _TINY)
    low: float = 1.0 + 1.446 * max(1.0 - _CRITICAL / reduced, 0.0)
    middle: float = 0.229 * reduced**0.252
    high: float = 0.157 * reduced**0.285
    return low if reduced < 5900.0 else (middle if reduced < 9.23e4 else high)
