"""Convection from the outer face of a cover to the wind; every relation takes (speed, length)."""

from simengine.compiled import kernel

_FREE_CONVECTION_FLOOR = 5.0  # [W/m2K]


@kernel
def watmuff(wind_speed: float, length: float) -> float:
    """Return the wind coefficient 2.8 + 3.0 V: this package's default.

    Parameters
    ----------
    wind_speed : float
        Wind speed at the collector [m/s], 0 to 7.
    length : float
        Side of the collector [m]; not used.

    Returns
    -------
    float
        Coefficient [W/m2K], convection only.

    Notes
    -----
    Watmuff, Charters and Proctor 1977.

    Examples
    --------
    >>> watmuff(5.0, 2.0)
    17.8
    """
    return 2.8 + 3.0 * wind_speed


@kernel
def mcadams(wind_speed: float, length: float) -> float:
    """Return the wind coefficient 5.7 + 3.8 V. Warning: it is held to contain radiation.

    Parameters
    ----------
    wind_speed : float
        Wind speed at the collector [m/s], 0 to 5.
    length : float
        Side of the collector [m]; not used.

    Returns
    -------
    float
        Coefficient [W/m2K]. With a separate long-wave exchange, as here, the radiation is counted
        twice: use it only to compare with other work.

    Notes
    -----
    McAdams 1954.

    Examples
    --------
    >>> mcadams(5.0, 2.0)
    24.7
    """
    return 5.7 + 3.8 * wind_speed


@kernel
def mitchell(wind_speed: float, length: float) -> float:
    """Return the wind coefficient 8.6 V^0.6 / L^0.4, never below 5 W/m2K.

    Parameters
    ----------
    wind_speed : float
        Wind speed at the collector [m/s].
    length : float
        Side of the collector, or cube root of the volume of the house it is on [m], above 0.

    Returns
    -------
    float
        Coefficient [W/m2K].

    Notes
    -----
    Mitchell 1976, as solar-engineering texts give it.

    Examples
    --------
    >>> round(mitchell(5.0, 1.0), 1)
    22.6
    """
    forced: float = 8.6 * wind_speed**0.6 / length**0.4
    return max(forced, _FREE_CONVECTION_FLOOR)


@kernel
def iso_6946(wind_speed: float, length: float) -> float:
    """Return the convective part of the outside film of a building element, 4 + 4 V.

    Parameters
    ----------
    wind_speed : float
        Wind speed near the face [m/s].
    length : float
        Side of the element [m]; not used.

    Returns
    -------
    float
        Coefficient [W/m2K].

    Notes
    -----
    ISO 6946, annex on surface resistances (from memory).

    Examples
    --------
    >>> iso_6946(4.0, 2.0)
    20.0
    """
    return 4.0 + 4.0 * wind_speed


WIND_RELATIONS = {relation.__name__: relation for relation in (watmuff, mcadams, mitchell, iso_6946)}
"""Every wind relation by its name."""
