"""Air that leaks out of or into the collector box, and what it costs."""

import math
from typing import NamedTuple

from simengine.compiled import kernel
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.errors import InputError


class LeakHeat(NamedTuple):
    """Heat taken by a leak; both numbers are positive where heat is lost."""

    from_stream: float  # [W] out of the air stream of the collector
    from_house: float  # [W] out of the heated space, by the outdoor air that takes the place


@kernel
def leak_flow(coefficient: float, exponent: float, box_pressure: float) -> float:
    """Return the mass flow through the cracks of the box.

    Parameters
    ----------
    coefficient : float
        Flow at 1 Pa [kg/s].
    exponent : float
        0.5 (holes) to 1 (hair cracks) [-]; 0.65 is common practice.
    box_pressure : float
        Pressure in the box over outside [Pa].

    Returns
    -------
    float
        Mass flow [kg/s], outward positive.

    Notes
    -----
    Power law of building air-tightness tests (common practice).

    Examples
    --------
    >>> leak_flow(0.001, 0.5, -25.0)
    -0.005
    """
    flow: float = coefficient * abs(box_pressure) ** exponent
    signed: float = math.copysign(flow, box_pressure)
    return signed


def leak_coefficient(mass_flow: float, pressure: float, exponent: float = 0.65) -> float:
    """Return the flow at 1 Pa of a box that was tested at another pressure.

    Parameters
    ----------
    mass_flow : float
        Flow in the test [kg/s].
    pressure : float
        Pressure of the test [Pa], above 0.
    exponent : float
        Exponent of the power law [-].

    Returns
    -------
    float
        Flow at 1 Pa [kg/s].

    Examples
    --------
    >>> round(leak_coefficient(0.01, 100.0, 0.5), 12)
    0.001
    """
    coefficient: float = mass_flow / pressure**exponent
    return coefficient


def box_pressure(before_box: float, box: float, after_box: float, fan_place: str) -> float:
    """Return the mean pressure in the collector box over that of the room.

    Parameters
    ----------
    before_box : float
        Loss of the loop from the room to the box [Pa].
    box : float
        Loss within the box [Pa].
    after_box : float
        Loss of the loop from the box to the room [Pa].
    fan_place : str
        "before" the box (it blows) or "after" it (it draws).

    Returns
    -------
    float
        Pressure [Pa]: above 0 where the fan blows, below where it draws.

    Raises
    ------
    InputError
        The place is not one of the two.

    Examples
    --------
    >>> box_pressure(10.0, 4.0, 20.0, "before"), box_pressure(10.0, 4.0, 20.0, "after")
    (22.0, -12.0)
    """
    places = {"before": after_box + 0.5 * box, "after": -(before_box + 0.5 * box)}
    if fan_place not in places:
        raise InputError(f"fan place: '{fan_place}' is not known; accepted: {', '.join(places)}")
    return places[fan_place]


def leak_heat(flow: float, box: float, room: float, outside: float) -> LeakHeat:
    """Return the heat that a leak takes out of the stream and out of the house.

    Parameters
    ----------
    flow : float
        Mass flow through the cracks [kg/s], outward positive.
    box : float
        Air temperature in the box [K].
    room : float
        Room temperature [K].
    outside : float
        Outdoor temperature [K].

    Returns
    -------
    LeakHeat
        Both numbers [W], counted from room temperature.

    Notes
    -----
    Energy balance. Outward: box air is lost, and as much outdoor air comes into the house in its place:
    m' c_p (T_box - T_outside) in all. Inward: outdoor air mixes into the stream, and as much room air is
    pushed out, which carries nothing counted from room temperature: m' c_p (T_room - T_outside) in all.

    Examples
    --------
    >>> [round(heat, 1) for heat in leak_heat(0.01, 323.0, 293.0, 273.0)]
    [301.8, 201.2]
    >>> [round(heat, 1) for heat in leak_heat(-0.01, 323.0, 293.0, 273.0)]
    [201.2, 0.0]
    """
    rate = abs(flow) * SPECIFIC_HEAT_AIR
    if flow < 0.0:
        return LeakHeat(rate * (room - outside), 0.0)
    return LeakHeat(rate * (box - room), rate * (room - outside))
