"""The shape of one row of the tables of constructions."""

from dataclasses import dataclass
from typing import Generic, TypeVar

Part = TypeVar("Part")


@dataclass(frozen=True, slots=True)
class Entry(Generic[Part]):
    """A typical part, where its figures come from, and what to know before using it."""

    part: Part
    source: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Lining:
    """The inner face of the back, as the absorber sees it."""

    name: str
    emittance: float  # [-] long-wave
    heat_capacity: float  # [J/m2K] of the skin that follows the air within minutes
    material: str  # key of the temperature limit
