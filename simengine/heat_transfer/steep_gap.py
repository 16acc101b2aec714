"""Natural convection in a steep or vertical gap, as published.

Every relation takes (rayleigh, tilt, aspect) as `natural_convection` says.
"""

import math

from simengine.compiled import kernel
from simengine.heat_transfer.inclined_gap import hollands

_TINY = 1e-9


@kernel
def macgregor_emery(rayleigh: float, tilt: float, aspect: float) -> float:
    """Return the Nusselt number of a vertical gap by the relation of many heat-transfer textbooks.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number [-], 1e4 to 1e7 in the source.
    tilt : float
        Tilt at the hotter face [deg]; not used, the relation is for vertical gaps.
    aspect : float
        Height over depth [-], 10 to 40 in the source.

    Returns
    -------
    float
        Nusselt number [-], at least 1. Some 30 to 40 % below El Sherbiny's for tall gaps.

    Notes
    -----
    MacGregor and Emery 1969, with the Prandtl number of air, 0.71 (from memory).

    Examples
    --------
    >>> round(macgregor_emery(36887.7, 90.0, 80.0), 3)
    1.557
    """
    nusselt: float = 0.42 * rayleigh**0.25 * 0.71**0.012 * aspect**-0.3
    return max(nusselt, 1.0)


@kernel
def sixty_degrees(rayleigh: float, aspect: float) -> float:
    """Return the Nusselt number of a gap that is inclined by 60 deg.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number [-], up to 1e7 in the source.
    aspect : float
        Length over depth [-], 5 to 110 in the source.

    Returns
    -------
    float
        Nusselt number [-].

    Notes
    -----
    El Sherbiny, Raithby and Hollands 1982, taken over by ISO 15099 (from memory).

    Examples
    --------
    >>> round(sixty_degrees(36887.7, 80.0), 3)
    2.535
    """
    ra = max(rayleigh, _TINY)
    onset = 0.5 / (1.0 + (ra / 3160.0) ** 20.6) ** 0.1
    first: float = (1.0 + (0.0936 * ra**0.314 / (1.0 + onset)) ** 7) ** (1.0 / 7.0)
    second: float = (0.104 + 0.175 / aspect) * ra**0.283
    return max(first, second)


@kernel
def _el_sherbiny_vertical(rayleigh: float, aspect: float) -> float:
    ra = max(rayleigh, _TINY)
    turbulent: float = 0.0605 * ra ** (1.0 / 3.0)
    transition: float = (1.0 + (0.104 * ra**0.293 / (1.0 + (6310.0 / ra) ** 1.36)) ** 3) ** (1.0 / 3.0)
    laminar: float = 0.242 * (ra / aspect) ** 0.272
    return max(max(turbulent, transition), laminar)


@kernel
def iso_vertical(rayleigh: float, aspect: float) -> float:
    """Return the Nusselt number of a vertical gap by the relation of ISO 15099.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number [-], up to 2e7 in the source.
    aspect : float
        Height over depth [-].

    Returns
    -------
    float
        Nusselt number [-]. The two steps of 0.6 % that the relation has in print at Ra 1e4 and 5e4
        are bridged over +-5 % of Ra.

    Notes
    -----
    ISO 15099:2003 (from memory).

    Examples
    --------
    >>> round(iso_vertical(1.0e6, 40.0), 2)
    6.74
    """
    ra = max(rayleigh, _TINY)
    low: float = 1.0 + 1.7596678e-10 * min(ra, 2.0e4) ** 2.2984755
    middle: float = 0.028154 * ra**0.4134
    high: float = 0.0673838 * ra ** (1.0 / 3.0)
    first = min(max((ra - 0.95e4) / 0.1e4, 0.0), 1.0)
    second = min(max((ra - 4.75e4) / 0.5e4, 0.0), 1.0)
    core = (1.0 - first) * low + first * ((1.0 - second) * middle + second * high)
    tall: float = 0.242 * (ra / aspect) ** 0.272
    return max(core, tall)


@kernel
def beyond_vertical(vertical: float, tilt: float) -> float:
    """Return the Nusselt number of a gap that is heated from above, from that of the vertical one.

    Parameters
    ----------
    vertical : float
        Nusselt number at 90 deg [-].
    tilt : float
        Tilt at the hotter face [deg], 90 to 180.

    Returns
    -------
    float
        1 + (Nu_90 - 1) sin(tilt) [-]; 1 at 180 deg.

    Notes
    -----
    Arnold, Bonaparte, Catton and Edwards 1974, in ISO 15099 (from memory).

    Examples
    --------
    >>> round(beyond_vertical(3.0, 150.0), 6)
    2.0
    """
    return 1.0 + (vertical - 1.0) * max(math.sin(math.radians(tilt)), 0.0)


@kernel
def el_sherbiny(rayleigh: float, tilt: float, aspect: float) -> float:
    """Return the Nusselt number of a steep gap by El Sherbiny's two relations.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number [-], 1e2 to 2e7 in the source.
    tilt : float
        Tilt at the hotter face [deg], 60 to 90 in the source; linear between them, held at 60 below,
        and above 90 as ISO 15099 does.
    aspect : float
        Length over depth [-], 5 to 110 in the source.

    Returns
    -------
    float
        Nusselt number [-]. At 90 deg and Ra 3.7e4, 38 % above `macgregor_emery`.

    Notes
    -----
    El Sherbiny, Raithby and Hollands 1982, J. Heat Transfer 104 (from memory).

    Examples
    --------
    >>> round(el_sherbiny(36887.7, 90.0, 80.0), 3)
    2.152
    """
    vertical = _el_sherbiny_vertical(rayleigh, aspect)
    weight = min(max((tilt - 60.0) / 30.0, 0.0), 1.0)
    steep = (1.0 - weight) * sixty_degrees(rayleigh, aspect) + weight * vertical
    return steep if tilt <= 90.0 else beyond_vertical(vertical, tilt)


@kernel
def iso_15099(rayleigh: float, tilt: float, aspect: float) -> float:
    """Return the Nusselt number of a gap as ISO 15099 takes it, at any tilt.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number [-], up to 2e7 in the source.
    tilt : float
        Tilt at the hotter face [deg], 0 to 180.
    aspect : float
        Length over depth [-], above 20 below 60 deg in the source.

    Returns
    -------
    float
        Nusselt number [-]. It steps at 60 deg, where the standard changes relations.

    Notes
    -----
    ISO 15099:2003 (from memory): Hollands below 60 deg, El Sherbiny at 60, its own vertical relation
    at 90, linear between, 1 + (Nu_90 - 1) sin(tilt) above.

    Examples
    --------
    >>> round(iso_15099(36887.7, 90.0, 80.0), 3)
    2.175
    """
    vertical = iso_vertical(rayleigh, aspect)
    weight = min(max((tilt - 60.0) / 30.0, 0.0), 1.0)
    steep = (1.0 - weight) * sixty_degrees(rayleigh, aspect) + weight * vertical
    flat = hollands(rayleigh, tilt, aspect)
    return flat if tilt < 60.0 else (steep if tilt <= 90.0 else beyond_vertical(vertical, tilt))
