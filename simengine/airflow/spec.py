"""The parts of the air loop as plain numbers in SI."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Duct:
    """One run of duct between the room and the collector."""

    length: float  # [m]
    diameter: float  # [m]
    insulation_resistance: float = 0.0  # [m2K/W] added to the films
    surroundings: str = "outside"  # "outside", "unheated" or "inside"


@dataclass(frozen=True, slots=True)
class Fan:
    """A fan that moves a given flow with a given power."""

    mass_flow: float  # [kg/s] at full speed
    electric_power: float  # [W] at full speed
    heat_to_air: float = 1.0  # [-] share of the electric power that ends in the air stream


@dataclass(frozen=True, slots=True)
class PassivePath:
    """The loop as air passes it while the fan rests: warm air rises through it, cold air sinks.

    Its loss is (quadratic + extra) m^2 + blasius m^1.75 + linear m [Pa], m in kg/s; the extra is that of
    the damper in the direction of the flow, infinite where it is shut tight.
    """

    box_height: float  # [m] from inlet to outlet of the collector, along the vertical
    riser: float  # [m] from the collector's outlet up to the mouth in the room; below it, negative
    quadratic: float  # [Pa s2/kg2]
    blasius: float = 0.0  # [Pa (s/kg)^1.75]
    linear: float = 0.0  # [Pa s/kg]
    opening_pressure: float = 0.0  # [Pa] that a damper takes to let air pass the right way
    extra_forward: float = 0.0  # [Pa s2/kg2] of the damper, for air that passes the right way
    extra_reverse: float = 0.0  # [Pa s2/kg2] of the damper, for air that flows back
