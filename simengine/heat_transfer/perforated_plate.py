"""Air drawn through a perforated sheet or a screen: heat taken up and pressure lost."""

import math

from simengine.compiled import kernel
from simengine.constants import SPECIFIC_HEAT_AIR

KUTSCHER_REYNOLDS = (100.0, 2000.0)
"""Hole Reynolds numbers that the correlation was fitted to, about [-]."""

KUTSCHER_POROSITY = 0.05
"""Largest open share that the correlation was fitted to, about [-]."""


@kernel
def triangular_porosity(hole_diameter: float, pitch: float) -> float:
    """Return the open share of round holes on an equilateral triangular grid.

    Parameters
    ----------
    hole_diameter : float
        Hole diameter [m].
    pitch : float
        Distance between neighbouring holes [m].

    Returns
    -------
    float
        Open share [-].

    Examples
    --------
    >>> round(triangular_porosity(1.6e-3, 16.8e-3), 5)
    0.00823
    """
    ratio = hole_diameter / pitch
    return math.pi / (2.0 * math.sqrt(3.0)) * ratio * ratio


@kernel
def square_porosity(hole_diameter: float, pitch: float) -> float:
    """Return the open share of round holes on a square grid.

    Parameters
    ----------
    hole_diameter : float
        Hole diameter [m].
    pitch : float
        Distance between neighbouring holes [m].

    Returns
    -------
    float
        Open share [-].

    Examples
    --------
    >>> round(square_porosity(2.0e-3, 4.0e-3), 4)
    0.1963
    """
    ratio = hole_diameter / pitch
    return math.pi / 4.0 * ratio * ratio


POROSITIES = {"triangular": triangular_porosity, "square": square_porosity}
"""Open share by the name of the layout."""


@kernel
def hole_reynolds(
    suction_velocity: float, hole_diameter: float, porosity: float, kinematic_viscosity: float
) -> float:
    """Return the Reynolds number of the holes.

    Parameters
    ----------
    suction_velocity : float
        Volume flow over the area of the sheet [m/s].
    hole_diameter : float
        Hole diameter [m].
    porosity : float
        Open share [-].
    kinematic_viscosity : float
        Kinematic viscosity of the air [m2/s].

    Returns
    -------
    float
        Reynolds number [-].

    Examples
    --------
    >>> round(hole_reynolds(0.05, 1.6e-3, 0.00823, 1.569e-5))
    620
    """
    return suction_velocity / porosity * hole_diameter / kinematic_viscosity


def in_kutscher_range(reynolds: float, porosity: float) -> bool:
    """Tell whether the perforated-sheet correlation was fitted to such a sheet and flow.

    Parameters
    ----------
    reynolds : float
        Hole Reynolds number [-].
    porosity : float
        Open share [-].

    Returns
    -------
    bool
        False for vented soffit sheets and window screens: give an effectiveness for those.

    Examples
    --------
    >>> in_kutscher_range(620.0, 0.008), in_kutscher_range(8.5, 0.23)
    (True, False)
    """
    return KUTSCHER_REYNOLDS[0] <= reynolds <= KUTSCHER_REYNOLDS[1] and porosity <= KUTSCHER_POROSITY


@kernel
def kutscher_nusselt(
    reynolds: float, pitch_over_diameter: float, porosity: float, cross_over_suction: float
) -> float:
    """Return the Nusselt number, on the hole diameter, of a sheet with air drawn through it.

    Parameters
    ----------
    reynolds : float
        Hole Reynolds number [-], about 100 to 2000.
    pitch_over_diameter : float
        Pitch over hole diameter [-].
    porosity : float
        Open share [-], below about 0.05.
    cross_over_suction : float
        Velocity along the front of the sheet over the suction velocity [-].

    Returns
    -------
    float
        Nusselt number [-]; it contains front face, hole and back.

    Notes
    -----
    Kutscher 1994, J. Heat Transfer 116 (from memory).

    Examples
    --------
    >>> round(kutscher_nusselt(619.891, 10.5, 0.00822585, 0.0), 2)
    2.6
    """
    suction: float = pitch_over_diameter**-1.2 * reynolds**0.43
    cross: float = 0.011 * porosity * reynolds * cross_over_suction**0.48
    return 2.75 * (suction + cross)


@kernel
def kutscher_effectiveness(h: float, porosity: float, density: float, suction_velocity: float) -> float:
    """Return the effectiveness of a perforated sheet: rise of the air over sheet minus air ahead.

    Parameters
    ----------
    h : float
        Coefficient on the solid area of the sheet [W/m2K].
    porosity : float
        Open share [-].
    density : float
        Air density [kg/m3].
    suction_velocity : float
        Volume flow over the area of the sheet [m/s].

    Returns
    -------
    float
        Effectiveness [-]; 1 at no flow.

    Examples
    --------
    >>> round(kutscher_effectiveness(42.7, 0.00823, 1.1767, 0.05), 2)
    0.51
    """
    capacity = max(density * SPECIFIC_HEAT_AIR * suction_velocity, 1e-12)
    return 1.0 - math.exp(-h * (1.0 - porosity) / capacity)


@kernel
def kutscher_loss_coefficient(reynolds: float, porosity: float) -> float:
    """Return the pressure loss coefficient of a perforated sheet, on the suction velocity.

    Parameters
    ----------
    reynolds : float
        Hole Reynolds number [-], about 100 to 2000.
    porosity : float
        Open share [-], below about 0.05.

    Returns
    -------
    float
        dp / (rho V_s^2 / 2) [-].

    Notes
    -----
    Kutscher 1994 (from memory).

    Examples
    --------
    >>> round(kutscher_loss_coefficient(619.891, 0.00822585))
    21740
    """
    solid = (1.0 - porosity) / porosity
    loss: float = 6.82 * solid * solid * reynolds**-0.236
    return loss
