"""Forced convection in a round tube, at any flow."""

from simengine.compiled import kernel
from simengine.heat_transfer.forced_convection import LAMINAR_END, TURBULENT_START


@kernel
def tube_nusselt(reynolds: float, prandtl: float, diameter_over_length: float) -> float:
    """Return the mean Nusselt number in a tube whose wall has one temperature.

    Parameters
    ----------
    reynolds : float
        Reynolds number on the diameter [-], not negative.
    prandtl : float
        Prandtl number [-].
    diameter_over_length : float
        Diameter over heated length [-].

    Returns
    -------
    float
        Nusselt number [-].

    Notes
    -----
    Hausen's developing laminar flow to Re 2300, Dittus-Boelter 0.023 Re^0.8 Pr^0.4 from 10000, linear in
    Re between those ends as for the flat channel (all from memory).

    Examples
    --------
    >>> round(tube_nusselt(1.0e-6, 0.7, 0.02), 3), round(tube_nusselt(1.0e4, 0.7, 0.02), 1)
    (3.66, 31.6)
    """
    x = min(reynolds, LAMINAR_END) * prandtl * diameter_over_length
    laminar = 3.66 + 0.0668 * x / (1.0 + 0.04 * x ** (2.0 / 3.0))
    turbulent = 0.023 * max(reynolds, TURBULENT_START) ** 0.8 * prandtl**0.4
    share = min(max((reynolds - LAMINAR_END) / (TURBULENT_START - LAMINAR_END), 0.0), 1.0)
    nusselt: float = (1.0 - share) * laminar + share * turbulent
    return nusselt
