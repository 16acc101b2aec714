"""Turns holes, wires or a measured effectiveness of a scenario into those of an absorber."""

import math

from simengine.collector import spec
from simengine.constants import SPECIFIC_HEAT_AIR, ZERO_CELSIUS
from simengine.scenario.schema import absorber as sheets

HOLES = {"triangular": math.pi / (2.0 * math.sqrt(3.0)), "square": math.pi / 4.0}
"""Open share of a sheet of holes over (diameter/pitch)^2 [-] (geometry)."""

AIR = ZERO_CELSIUS + 35.0
"""Air that passes a screen [K] (common practice)."""

MOST_OF_WIRES = 0.75
"""No layer of screen that is known by its wires alone counts for more [-]: the relation holds for air that
meets every wire evenly, measured screens and vented sheets stand around 0.6 to 0.85 (common practice)."""

STEP = 1.1
"""Ratio of two flows between which the exponent of a screen is taken [-]."""


def perforation(given: sheets.Perforation, flux: float, pressure: float) -> spec.Perforation:
    """Return how air passes an absorber.

    Parameters
    ----------
    given
        As the scenario describes it; a measured effectiveness goes before wires, and both before holes.
    flux
        Mass flow over the aperture at full speed [kg/s m2].
    pressure
        Of the site's air [Pa].

    Returns
    -------
    simengine.collector.spec.Perforation
        Wires become the effectiveness that they have at that flow, but no more than `MOST_OF_WIRES`, with the
        exponent that it has there.
    """
    effectiveness, exponent = given.effectiveness, given.exponent
    rated = None if given.rated_flow is None else given.rated_flow.value
    if effectiveness is None and given.wire_diameter is not None and given.wire_pitch is not None:
        by_relation, exponent = screen(given.wire_diameter, given.wire_pitch, flux, pressure)
        effectiveness, rated = min(by_relation, MOST_OF_WIRES), flux
    return spec.Perforation(
        porosity=_open_share(given),
        hole_diameter=given.hole_diameter,
        pitch=given.pitch,
        layout=given.layout,
        effectiveness=effectiveness,
        rated_flow=rated,
        exponent=exponent,
        layers=given.layers,
    )


def screen(wire_diameter: float, pitch: float, flux: float, pressure: float) -> tuple[float, float]:
    """Return the effectiveness of a layer of screen by the relation for wires, and how it hangs on the flow.

    Parameters
    ----------
    wire_diameter, pitch
        Of the wires, the same both ways [m].
    flux
        Mass flow over the screen [kg/s m2].
    pressure
        Of the air [Pa].

    Returns
    -------
    tuple of float
        Effectiveness [-] and n in NTU ~ flow^-n [-], both at that flow.

    Examples
    --------
    >>> effectiveness, exponent = screen(0.28e-3, 1.5e-3, 0.02, 101325.0)
    >>> round(effectiveness, 2), round(exponent, 2)
    (0.97, 0.74)
    """
    from simengine.air.properties import density, dynamic_viscosity, thermal_conductivity
    from simengine.heat_transfer.screen import screen_effectiveness

    air = density(AIR, pressure)
    kinematic = dynamic_viscosity(AIR) / air
    diffusivity = thermal_conductivity(AIR) / (air * SPECIFIC_HEAT_AIR)

    def units(ratio: float) -> float:
        share = screen_effectiveness(wire_diameter, pitch, ratio * flux / air, kinematic, diffusivity)
        return -math.log(max(1.0 - share, 1e-12))

    exponent = math.log(units(1.0 / STEP) / units(STEP)) / (2.0 * math.log(STEP))
    return min(1.0 - math.exp(-units(1.0)), MOST), min(max(exponent, 0.0), 1.0)


MOST = 0.999
"""No effectiveness above this [-]: all the heat that the relation promises, and a finite NTU."""


def _open_share(given: sheets.Perforation) -> float:
    if given.porosity is not None:
        return given.porosity
    if given.wire_diameter is not None and given.wire_pitch is not None:
        return (1.0 - given.wire_diameter / given.wire_pitch) ** 2
    return (
        HOLES[given.layout] * ((given.hole_diameter or 0.0) / (given.pitch or 1.0)) ** 2
    )  # the schema knows them
