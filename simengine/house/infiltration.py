"""Outdoor air that wind and stack drive through the leaks of a house, from the area of those leaks."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from simengine.constants import STANDARD_AIR_DENSITY
from simengine.errors import RangeError
from simengine.house.spec import Leakage

Array = NDArray[np.float64]

STACK: Final = (1.45e-4, 2.90e-4, 4.35e-4)
"""Stack coefficient of a house of one, two, three storeys [(L/s)^2/(cm^4 K)]."""

WIND: Final = (
    (3.19e-4, 2.46e-4, 1.74e-4, 1.04e-4, 0.32e-4),
    (4.20e-4, 3.25e-4, 2.31e-4, 1.37e-4, 0.42e-4),
    (4.94e-4, 3.82e-4, 2.71e-4, 1.61e-4, 0.49e-4),
)
"""Wind coefficient by storeys, then by shelter class 1 (open) to 5 (close in) [(L/s)^2/(cm^4 (m/s)^2)]."""

FLOW_EXPONENT: Final = 0.65
"""Exponent of the flow through leaks over the pressure [-] (common practice)."""

REFERENCE_PRESSURE: Final = 4.0
"""Pressure at which the effective leakage area is meant [Pa]."""


def leakage_area(air_change_at_50_pa: float, volume: float) -> float:
    """Return the effective leakage area of a house from its fan pressurisation test.

    Parameters
    ----------
    air_change_at_50_pa : n50 [1/h]
    volume : heated air [m3]

    Returns
    -------
    area [m2] of a sharp hole with discharge coefficient 1 that lets through as much air at 4 Pa

    Source: ASHRAE Handbook of Fundamentals, "Ventilation and infiltration" (from memory): power law of
    exponent 0.65 from 50 to 4 Pa, then Q = A sqrt(2 dp/rho).

    >>> round(leakage_area(10.0, 350.0) * 1e4)  # [cm2]: 0.972 m3/s at 50 Pa, 0.188 at 4 Pa
    730
    """
    flow = air_change_at_50_pa * volume / 3600.0 * (REFERENCE_PRESSURE / 50.0) ** FLOW_EXPONENT
    return float(flow / (2.0 * REFERENCE_PRESSURE / STANDARD_AIR_DENSITY) ** 0.5)


def infiltration_flow(leakage: Leakage, difference: Array, wind: Array) -> Array:
    """Return the air that wind and stack drive in.

    Parameters
    ----------
    leakage : effective area, storeys and shelter
    difference : indoor less outdoor temperature [K], its size counts
    wind : at the weather station, 10 m above open ground [m/s]

    Returns
    -------
    volume flow [m3/s]

    Raises
    ------
    RangeError
        Storeys outside 1 to 3 or a shelter class outside 1 to 5.

    Range: detached houses of up to three storeys, leaks spread evenly, no large opening or flue.
    Source: basic model, Q = A sqrt(C_s |dT| + C_w V^2), after Sherman and Grimsrud 1980; coefficients of
    ASHRAE Handbook of Fundamentals, "Ventilation and infiltration" (from memory).

    >>> house = Leakage(0.05, storeys=2, shelter_class=4)
    >>> flow = infiltration_flow(house, np.array([39.0]), np.array([6.7]))
    >>> round(float(flow[0]) * 1000.0)  # [L/s]: 500 cm2 x sqrt(0.00029 x 39 + 0.000137 x 6.7^2)
    66
    """
    if leakage.storeys not in (1, 2, 3) or leakage.shelter_class not in (1, 2, 3, 4, 5):
        raise RangeError(
            f"infiltration: {leakage.storeys} storeys, shelter class {leakage.shelter_class}; "
            "accepted: 1 to 3 storeys, classes 1 to 5"
        )
    stack = STACK[leakage.storeys - 1]
    blown = WIND[leakage.storeys - 1][leakage.shelter_class - 1]
    litres: Array = leakage.area * 1.0e4 * np.sqrt(stack * np.abs(difference) + blown * wind**2)
    return litres / 1000.0
