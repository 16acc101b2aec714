"""Published relations for air and still gaps, coded a second time in plain numpy.

Nothing here comes from the package's own relations.
"""

import math

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

SIGMA = 5.670374419e-8  # [W/m2K4] CODATA 2018
CP = 1006.0  # [J/kgK] of air
GRAVITY = 9.80665  # [m/s2]
GAS = 287.05  # [J/kgK] dry air


def conductivity(t: Array) -> Array:
    """Return that of air [W/mK] (US Standard Atmosphere 1976, from memory)."""
    return np.asarray(2.64638e-3 * t**1.5 / (t + 245.4 * 10.0 ** (-12.0 / t)))


def viscosity(t: Array) -> Array:
    """Return that of air [Pa s] (Sutherland)."""
    return np.asarray(1.458e-6 * t**1.5 / (t + 110.4))


def nusselt(ra: float, tilt: float, aspect: float) -> float:
    """Return the Nusselt number of a still gap, tilt [deg] counted at the hotter face.

    Hollands et al. 1976; El Sherbiny, Raithby and Hollands 1982; ISO 15099:2003 (all from memory).
    """
    if ra < 1.0e-6:
        return 1.0

    def flat() -> float:
        slope = math.radians(min(tilt, 60.0))
        along = ra * math.cos(slope)
        lifted = max(0.0, 1.0 - 1708.0 / along)
        rough = 1.0 - 1708.0 * math.sin(1.8 * slope) ** 1.6 / along
        return 1.0 + 1.44 * lifted * rough + max(0.0, (along / 5830.0) ** (1.0 / 3.0) - 1.0)

    def sixty() -> float:
        g = 0.5 / (1.0 + (ra / 3160.0) ** 20.6) ** 0.1
        first = (1.0 + (0.0936 * ra**0.314 / (1.0 + g)) ** 7) ** (1.0 / 7.0)
        return max(first, (0.104 + 0.175 / aspect) * ra**0.283)

    def upright() -> float:
        first = 1.0 + 1.7596678e-10 * ra**2.2984755
        if ra > 5.0e4:
            first = 0.0673838 * ra ** (1.0 / 3.0)
        elif ra > 1.0e4:
            first = 0.028154 * ra**0.4134
        return max(first, 0.242 * (ra / aspect) ** 0.272)

    if tilt <= 50.0:
        return flat()
    if tilt <= 60.0:
        return flat() + (tilt - 50.0) / 10.0 * (sixty() - flat())
    if tilt <= 90.0:
        return sixty() + (tilt - 60.0) / 30.0 * (upright() - sixty())
    return 1.0 + (upright() - 1.0) * math.sin(math.radians(tilt))


def moving_share(reynolds: float) -> float:
    """Return the share of forced convection that a small flow keeps: r^2 / (1 + r^2), r = Re / 100.

    A bridge of this project's own between still air and a flow; it is a choice, not a published relation.
    """
    return (reynolds / 100.0) ** 2 / (1.0 + (reynolds / 100.0) ** 2)
