"""The single angles at which diffuse light behaves, on average, like a beam."""

from simengine.errors import RangeError


def sky_diffuse_angle(tilt: float) -> float:
    """Return the effective incidence angle of the diffuse light of the sky.

    Parameters
    ----------
    tilt : of the collector from horizontal [deg], 0 to 90

    Returns
    -------
    incidence angle from the normal [deg]

    Raises RangeError outside 0 to 90. Fitted for glass covers under an isotropic sky.
    Source: Brandemuehl and Beckman, Solar Energy 24 (1980) (from memory).

    >>> round(sky_diffuse_angle(45.0), 1)
    56.5
    """
    _check(tilt)
    return 59.7 - 0.1388 * tilt + 0.001497 * tilt * tilt


def ground_diffuse_angle(tilt: float) -> float:
    """Return the effective incidence angle of the light reflected by the ground.

    Parameters
    ----------
    tilt : of the collector from horizontal [deg], 0 to 90

    Returns
    -------
    incidence angle from the normal [deg]; 90 for a flat collector, which sees no ground

    Raises RangeError outside 0 to 90. Fitted for glass covers over an evenly lit ground.
    Source: Brandemuehl and Beckman, Solar Energy 24 (1980) (from memory).

    >>> round(ground_diffuse_angle(45.0), 1)
    69.4
    """
    _check(tilt)
    return 90.0 - 0.5788 * tilt + 0.002693 * tilt * tilt


def _check(tilt: float) -> None:
    if not 0.0 <= tilt <= 90.0:
        raise RangeError(f"collector tilt: {tilt:g} deg is outside the fit; 0 to 90 deg is accepted")
