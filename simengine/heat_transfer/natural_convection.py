"""Heat transfer across a still gap between two parallel plates.

Every relation takes (rayleigh, tilt, aspect). Tilt is counted at the hotter face: the slope b of the
gap when the lower face is hotter, 180 - b when the upper one is; so 0 is heated from below, 90 is
vertical and 180 is heated from above. Aspect is the length up the slope over the depth.
"""

from simengine.air.properties import kinematic_viscosity, prandtl
from simengine.compiled import kernel
from simengine.constants import GRAVITY
from simengine.heat_transfer.inclined_gap import buchberg, hollands
from simengine.heat_transfer.steep_gap import (
    beyond_vertical,
    el_sherbiny,
    iso_15099,
    iso_vertical,
    macgregor_emery,
    sixty_degrees,
)


@kernel
def rayleigh_from_properties(
    difference: float, depth: float, mean_temperature: float, viscosity: float, prandtl_number: float
) -> float:
    """Return the Rayleigh number of a gas-filled gap.

    Parameters
    ----------
    difference : float
        Temperature difference between the faces [K]; its sign is dropped.
    depth : float
        Distance between the faces [m].
    mean_temperature : float
        Mean of the face temperatures [K].
    viscosity : float
        Kinematic viscosity of the gas [m2/s].
    prandtl_number : float
        Prandtl number of the gas [-].

    Returns
    -------
    float
        Rayleigh number g dT L^3 Pr / (T nu^2) [-].

    Examples
    --------
    >>> round(rayleigh_from_properties(40.0, 0.025, 333.0, 1.896e-5, 0.7202))
    36875
    """
    expansion = abs(difference) / mean_temperature
    return GRAVITY * expansion * depth * depth * depth * prandtl_number / (viscosity * viscosity)


@kernel
def rayleigh(hot: float, cold: float, depth: float, pressure: float) -> float:
    """Return the Rayleigh number of an air gap.

    Parameters
    ----------
    hot : float
        Temperature of one face [K].
    cold : float
        Temperature of the other face [K].
    depth : float
        Distance between the faces [m].
    pressure : float
        Air pressure [Pa].

    Returns
    -------
    float
        Rayleigh number [-], properties at the mean of the two temperatures.

    Examples
    --------
    >>> round(rayleigh(353.15, 313.15, 0.025, 101325.0), -2)
    36100.0
    """
    mean = 0.5 * (hot + cold)
    return rayleigh_from_properties(
        hot - cold, depth, mean, kinematic_viscosity(mean, pressure), prandtl(mean)
    )


@kernel
def gap_nusselt(rayleigh: float, tilt: float, aspect: float) -> float:
    """Return the Nusselt number of a gap at any tilt: this package's default, without steps.

    Parameters
    ----------
    rayleigh : float
        Rayleigh number [-]; data reach to about 2e7, beyond that the relations go on.
    tilt : float
        Tilt at the hotter face [deg], 0 to 180.
    aspect : float
        Length over depth [-], 5 to 110 in the sources.

    Returns
    -------
    float
        Nusselt number [-], at least 1.

    Notes
    -----
    Hollands 1976 to 50 deg, linear from there into El Sherbiny's relation at 60 deg, linear from
    there into the vertical relation of ISO 15099 at 90 deg, 1 + (Nu_90 - 1) sin(tilt) above
    (all from memory). Respected vertical relations differ by 38 %: this one is ISO 15099's.

    Examples
    --------
    >>> [round(gap_nusselt(36887.7, tilt, 80.0), 2) for tilt in (0.0, 55.0, 90.0, 180.0)]
    [3.22, 2.65, 2.18, 1.0]
    """
    inclined = sixty_degrees(rayleigh, aspect)
    vertical = iso_vertical(rayleigh, aspect)
    first = min(max((tilt - 50.0) / 10.0, 0.0), 1.0)
    second = min(max((tilt - 60.0) / 30.0, 0.0), 1.0)
    flat = (1.0 - first) * hollands(rayleigh, tilt, aspect) + first * inclined
    steep = (1.0 - second) * flat + second * vertical
    return max(steep if tilt <= 90.0 else beyond_vertical(vertical, tilt), 1.0)


GAP_RELATIONS = {
    relation.__name__: relation
    for relation in (gap_nusselt, hollands, buchberg, el_sherbiny, iso_15099, macgregor_emery)
}
"""Every gap relation by its name."""
