"""Screens and sheets outside every correlation: a measured effectiveness, or a grid of wires."""

import math

from simengine.compiled import kernel


@kernel
def scaled_effectiveness(effectiveness: float, flow: float, rated_flow: float, exponent: float) -> float:
    """Return a measured effectiveness at another flow.

    Parameters
    ----------
    effectiveness : float
        Effectiveness at the rated flow [-], 0 to below 1.
    flow : float
        Mass flow over the area of the sheet [kg/s m2].
    rated_flow : float
        Flow at which the effectiveness holds [kg/s m2].
    exponent : float
        n in NTU ~ flow ** -n [-]; 0.5 for laminar boundary layers, common practice.

    Returns
    -------
    float
        Effectiveness [-]; towards 1 at no flow.

    Examples
    --------
    >>> round(scaled_effectiveness(0.7, 0.02, 0.02, 0.5), 12)
    0.7
    >>> round(scaled_effectiveness(0.7, 0.04, 0.02, 0.5), 3)
    0.573
    """
    units = -math.log(1.0 - effectiveness)
    return 1.0 - math.exp(-units * max(flow / rated_flow, 1e-9) ** -exponent)


@kernel
def screen_effectiveness(
    wire_diameter: float,
    pitch: float,
    suction_velocity: float,
    kinematic_viscosity: float,
    thermal_diffusivity: float,
) -> float:
    """Return the effectiveness of a woven wire screen as a grid of cylinders in cross flow.

    Parameters
    ----------
    wire_diameter : float
        Wire diameter [m], below half the pitch.
    pitch : float
        Distance between neighbouring wires, the same both ways [m].
    suction_velocity : float
        Volume flow over the area of the screen [m/s], above 0.
    kinematic_viscosity : float
        Kinematic viscosity of the air [m2/s].
    thermal_diffusivity : float
        Thermal diffusivity of the air [m2/s].

    Returns
    -------
    float
        Effectiveness [-]: an upper bound, reached if the flow spreads evenly. Measured screens and
        vented sheets in collectors stand around 0.6 to 0.85 (common practice).

    Notes
    -----
    Churchill and Bernstein 1977 for one cylinder at the velocity between the wires (from memory);
    wire surface 2 pi d / pitch per area of the screen.

    Examples
    --------
    >>> round(screen_effectiveness(0.28e-3, 1.5e-3, 0.15, 1.57e-5, 2.22e-5), 2)
    0.55
    """
    prandtl = kinematic_viscosity / thermal_diffusivity
    gap = 1.0 - wire_diameter / pitch
    reynolds = suction_velocity / (gap * gap) * wire_diameter / kinematic_viscosity
    shape = (1.0 + (0.4 / prandtl) ** (2.0 / 3.0)) ** 0.25
    turbulence = (1.0 + (reynolds / 282000.0) ** 0.625) ** 0.8
    nusselt = 0.3 + 0.62 * math.sqrt(reynolds) * prandtl ** (1.0 / 3.0) / shape * turbulence
    units = nusselt * thermal_diffusivity / wire_diameter * 2.0 * math.pi * wire_diameter / pitch
    return 1.0 - math.exp(-units / suction_velocity)
