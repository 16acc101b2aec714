"""Heat transfer from one wall of a flat channel to the air that flows through it.

Every Nusselt number is on the hydraulic diameter, twice the depth of the channel.
"""

from simengine.compiled import kernel

BOTH_WALLS_FLUX = 140.0 / 17.0
"""Fully developed laminar Nusselt number, both walls with the same heat flux [-] (exact)."""

ONE_WALL_FLUX = 70.0 / 13.0
"""Fully developed laminar Nusselt number, one wall with a heat flux, the other insulated [-] (exact)."""

BOTH_WALLS_TEMPERATURE = 7.5407
"""Fully developed laminar Nusselt number, both walls at the same temperature [-] (eigenvalue)."""

ONE_WALL_TEMPERATURE = 4.8608
"""Fully developed laminar Nusselt number, one wall at a temperature, the other insulated [-]."""

LAMINAR_END = 2300.0
"""Reynolds number up to which the flow is taken as laminar [-]."""

TURBULENT_START = 10000.0
"""Reynolds number from which the flow is taken as turbulent [-]."""


@kernel
def reynolds(mass_flow: float, width: float, viscosity: float) -> float:
    """Return the Reynolds number of a wide flat channel, on its hydraulic diameter.

    Parameters
    ----------
    mass_flow : float
        Mass flow [kg/s]; its sign is dropped.
    width : float
        Width of the channel across the flow [m].
    viscosity : float
        Dynamic viscosity of the air [Pa s].

    Returns
    -------
    float
        Reynolds number 2 m' / (width mu) [-]: the depth cancels.

    Examples
    --------
    >>> round(reynolds(0.03, 1.0, 1.88e-5))
    3191
    """
    return 2.0 * abs(mass_flow) / (width * viscosity)


@kernel
def laminar_developing(reynolds: float, prandtl: float, diameter_over_length: float) -> float:
    """Return the mean Nusselt number of developing laminar flow, one wall heated.

    Parameters
    ----------
    reynolds : float
        Reynolds number on the hydraulic diameter [-], 0 to 2300.
    prandtl : float
        Prandtl number [-], about 0.7 in the source.
    diameter_over_length : float
        Hydraulic diameter over heated length [-].

    Returns
    -------
    float
        Nusselt number [-]; 4.9 for a long channel.

    Notes
    -----
    Fit to the tables of Heaton, Reynolds and Kays 1964, as solar air-heater texts give it
    (from memory).

    Examples
    --------
    >>> round(laminar_developing(2000.0, 0.7, 1.0 / 70.0), 2)
    6.2
    """
    x = max(reynolds, 0.0) * prandtl * diameter_over_length
    nusselt: float = 4.9 + 0.0606 * x**1.2 / (1.0 + 0.0909 * x**0.7 * prandtl**0.17)
    return nusselt


@kernel
def turbulent_kays(reynolds: float) -> float:
    """Return the Nusselt number of fully developed turbulent air flow, one wall heated.

    Parameters
    ----------
    reynolds : float
        Reynolds number on the hydraulic diameter [-], above about 2550 in the source.

    Returns
    -------
    float
        Nusselt number [-].

    Notes
    -----
    Kays and Crawford, 0.0158 Re ** 0.8 for air (from memory).

    Examples
    --------
    >>> round(turbulent_kays(3191.49), 2)
    10.04
    """
    nusselt: float = 0.0158 * max(reynolds, 0.0) ** 0.8
    return nusselt


@kernel
def channel_nusselt(reynolds: float, prandtl: float, diameter_over_length: float) -> float:
    """Return the Nusselt number of one wall of a channel at any flow: this package's default.

    Parameters
    ----------
    reynolds : float
        Reynolds number on the hydraulic diameter [-], not negative.
    prandtl : float
        Prandtl number [-], about 0.7.
    diameter_over_length : float
        Hydraulic diameter over heated length [-].

    Returns
    -------
    float
        Nusselt number [-].

    Notes
    -----
    `laminar_developing` to Re 2300, `turbulent_kays` from 10000, linear in Re between those two ends,
    as the VDI heat atlas does for tubes (from memory).

    Examples
    --------
    >>> round(channel_nusselt(6150.0, 0.7, 0.02), 1)
    16.0
    """
    laminar = laminar_developing(min(reynolds, LAMINAR_END), prandtl, diameter_over_length)
    turbulent = turbulent_kays(max(reynolds, TURBULENT_START))
    share = min(max((reynolds - LAMINAR_END) / (TURBULENT_START - LAMINAR_END), 0.0), 1.0)
    return (1.0 - share) * laminar + share * turbulent


@kernel
def reference_channel_nusselt(reynolds: float) -> float:
    """Return the simplest channel relation: fully developed laminar or turbulent, the larger.

    Parameters
    ----------
    reynolds : float
        Reynolds number on the hydraulic diameter [-].

    Returns
    -------
    float
        Nusselt number max(70/13, 0.0158 Re ** 0.8) [-]; for comparison with other codes.

    Examples
    --------
    >>> round(reference_channel_nusselt(500.0), 3)
    5.385
    """
    return max(ONE_WALL_FLUX, turbulent_kays(reynolds))
