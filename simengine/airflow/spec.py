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
