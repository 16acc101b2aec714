"""Long-wave radiation between grey faces as coefficients to multiply with a temperature difference."""

import math

from simengine.compiled import kernel
from simengine.constants import STEFAN_BOLTZMANN


@kernel
def radiative_coefficient(temperature_1: float, temperature_2: float, exchange: float) -> float:
    """Return the exact coefficient of the exchange between two faces.

    Parameters
    ----------
    temperature_1 : float
        Temperature of one face [K].
    temperature_2 : float
        Temperature of the other face [K].
    exchange : float
        Emittance of the pair [-], such as `plate_exchange`, or emittance x view factor.

    Returns
    -------
    float
        sigma e (T1^2 + T2^2)(T1 + T2) [W/m2K]; times T1 - T2 it is the net flux.

    Examples
    --------
    >>> round(radiative_coefficient(300.0, 300.0, 1.0), 2)
    6.12
    """
    squares = temperature_1 * temperature_1 + temperature_2 * temperature_2
    return STEFAN_BOLTZMANN * exchange * squares * (temperature_1 + temperature_2)


@kernel
def plate_exchange(emittance_1: float, emittance_2: float) -> float:
    """Return the emittance of two large parallel plates that face each other.

    Parameters
    ----------
    emittance_1 : float
        Emittance of one face [-], above 0.
    emittance_2 : float
        Emittance of the other face [-], above 0.

    Returns
    -------
    float
        1 / (1/e1 + 1/e2 - 1) [-].

    Examples
    --------
    >>> round(plate_exchange(0.95, 0.88), 4)
    0.841
    """
    return 1.0 / (1.0 / emittance_1 + 1.0 / emittance_2 - 1.0)


@kernel
def between_plates(
    temperature_1: float, temperature_2: float, emittance_1: float, emittance_2: float
) -> float:
    """Return the radiative coefficient between two large parallel plates.

    Parameters
    ----------
    temperature_1 : float
        Temperature of one plate [K].
    temperature_2 : float
        Temperature of the other plate [K].
    emittance_1 : float
        Emittance of the first plate [-], above 0.
    emittance_2 : float
        Emittance of the second plate [-], above 0.

    Returns
    -------
    float
        Coefficient [W/m2K].

    Examples
    --------
    >>> round(between_plates(373.15, 321.52, 0.95, 0.88), 2)
    8.04
    """
    return radiative_coefficient(temperature_1, temperature_2, plate_exchange(emittance_1, emittance_2))


@kernel
def sky_view(tilt: float) -> float:
    """Return the view factor of a plane to the sky.

    Parameters
    ----------
    tilt : float
        Slope from horizontal [deg].

    Returns
    -------
    float
        (1 + cos b) / 2 [-].

    Examples
    --------
    >>> round(sky_view(60.0), 6)
    0.75
    """
    return 0.5 * (1.0 + math.cos(math.radians(tilt)))


@kernel
def ground_view(tilt: float) -> float:
    """Return the view factor of a plane to the ground before it.

    Parameters
    ----------
    tilt : float
        Slope from horizontal [deg].

    Returns
    -------
    float
        (1 - cos b) / 2 [-].

    Examples
    --------
    >>> round(ground_view(60.0), 6)
    0.25
    """
    return 0.5 * (1.0 - math.cos(math.radians(tilt)))


@kernel
def to_sky(temperature: float, sky_temperature: float, emittance: float, tilt: float) -> float:
    """Return the radiative coefficient of a face towards the sky, per area of the face.

    Parameters
    ----------
    temperature : float
        Temperature of the face [K].
    sky_temperature : float
        Sky temperature [K].
    emittance : float
        Emittance of the face [-].
    tilt : float
        Slope from horizontal [deg].

    Returns
    -------
    float
        Coefficient on (T - T_sky) [W/m2K].

    Examples
    --------
    >>> round(to_sky(300.0, 280.0, 0.9, 0.0), 2)
    4.98
    """
    return radiative_coefficient(temperature, sky_temperature, emittance * sky_view(tilt))


@kernel
def to_ground(temperature: float, ground_temperature: float, emittance: float, tilt: float) -> float:
    """Return the radiative coefficient of a face towards the ground, per area of the face.

    Parameters
    ----------
    temperature : float
        Temperature of the face [K].
    ground_temperature : float
        Temperature of the ground [K], usually taken as that of the air.
    emittance : float
        Emittance of the face [-].
    tilt : float
        Slope from horizontal [deg].

    Returns
    -------
    float
        Coefficient on (T - T_ground) [W/m2K].

    Examples
    --------
    >>> to_ground(300.0, 280.0, 0.9, 0.0)
    0.0
    """
    return radiative_coefficient(temperature, ground_temperature, emittance * ground_view(tilt))
