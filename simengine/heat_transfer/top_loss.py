"""Klein's closed form for the heat that a flat plate loses through its covers: a quick estimate.

The march never uses it; it serves to compare with other work and as a check of the networks.
"""

from simengine.constants import STEFAN_BOLTZMANN


def klein_top_loss(
    plate_temperature: float,
    ambient_temperature: float,
    covers: int,
    wind_coefficient: float,
    plate_emittance: float,
    cover_emittance: float = 0.88,
    tilt: float = 45.0,
) -> float:
    """Return the top loss coefficient of a flat plate under clear glass covers.

    Parameters
    ----------
    plate_temperature : float
        Mean plate temperature [K], 320 to 420, above the ambient.
    ambient_temperature : float
        Ambient and sky temperature [K].
    covers : int
        Number of covers [-], 1 to 3.
    wind_coefficient : float
        Coefficient from the outer cover to the wind [W/m2K], 5 to 45.
    plate_emittance : float
        Emittance of the plate [-], 0.1 to 0.95.
    cover_emittance : float
        Emittance of the covers [-].
    tilt : float
        Slope [deg], 0 to 70; held at 70 above.

    Returns
    -------
    float
        Top loss coefficient [W/m2K]. The source claims 0.3 W/m2K; selective plates and weak wind can
        be off by up to 30 %.

    Notes
    -----
    Klein 1979, as solar-engineering texts give it (from memory); gaps of 25 mm.

    Examples
    --------
    >>> round(klein_top_loss(373.15, 283.15, 1, 10.0, 0.95), 2)
    6.64
    """
    n = float(covers)
    t_p, t_a = plate_temperature, ambient_temperature
    f = (1.0 + 0.089 * wind_coefficient - 0.1166 * wind_coefficient * plate_emittance) * (1.0 + 0.07866 * n)
    c = 520.0 * (1.0 - 0.000051 * min(tilt, 70.0) ** 2)
    e = 0.430 * (1.0 - 100.0 / t_p)
    convection = 1.0 / (n / (c / t_p * ((t_p - t_a) / (n + f)) ** e) + 1.0 / wind_coefficient)
    faces = 1.0 / (plate_emittance + 0.00591 * n * wind_coefficient)
    faces += (2.0 * n + f - 1.0 + 0.133 * plate_emittance) / cover_emittance - n
    radiation = STEFAN_BOLTZMANN * (t_p + t_a) * (t_p * t_p + t_a * t_a) / faces
    return float(convection + radiation)
