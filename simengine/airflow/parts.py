"""The parts that air passes on its way round the loop, as plain numbers in SI.

Every part names the air temperature in it, so that warm and cold sides keep their own density.
"""

import math
from dataclasses import dataclass

ROOM_TEMPERATURE = 293.15
"""Air temperature of a part that is not told otherwise [K]."""

GALVANISED_STEEL = 0.09e-3
"""Roughness of galvanised duct with its seams [m] (the trade's medium-smooth class, from memory)."""

STRETCHED_FLEX = 2.0e-3
"""Roughness of flexible duct at its full length [m]; published values run from 1.0 to 4.6 mm."""


class _Round:
    __slots__ = ()
    diameter: float

    @property
    def area(self) -> float:
        """Cross-section [m2]."""
        return _circle(self.diameter)

    @property
    def hydraulic_diameter(self) -> float:
        """Hydraulic diameter [m]."""
        return self.diameter


class _Face:
    __slots__ = ()
    area: float

    @property
    def hydraulic_diameter(self) -> float:
        """Diameter of a circle of that area [m]."""
        return math.sqrt(4.0 * self.area / math.pi)


@dataclass(frozen=True, slots=True)
class RoundDuct(_Round):
    """A straight run of round duct."""

    name: str
    length: float  # [m]
    diameter: float  # [m]
    roughness: float = GALVANISED_STEEL  # [m]
    temperature: float = ROOM_TEMPERATURE  # [K]


@dataclass(frozen=True, slots=True)
class FlexibleDuct(_Round):
    """A run of flexible duct, laid at a share of the length that it has when pulled straight."""

    name: str
    length: float  # [m] as laid
    diameter: float  # [m]
    stretch: float = 0.96  # [-] length as laid over length when pulled straight, 0.7 to 1
    roughness: float = STRETCHED_FLEX  # [m] at full length
    temperature: float = ROOM_TEMPERATURE  # [K]


@dataclass(frozen=True, slots=True)
class RectangularDuct:
    """A straight run of rectangular duct, such as the space between two studs."""

    name: str
    length: float  # [m]
    width: float  # [m]
    height: float  # [m]
    roughness: float = GALVANISED_STEEL  # [m]
    temperature: float = ROOM_TEMPERATURE  # [K]

    @property
    def area(self) -> float:
        """Cross-section [m2]."""
        return self.width * self.height

    @property
    def hydraulic_diameter(self) -> float:
        """Four times the area over the wetted rim [m]."""
        return 2.0 * self.area / (self.width + self.height)


@dataclass(frozen=True, slots=True)
class Channel:
    """The wide flat air space of a collector, along the flow."""

    name: str
    length: float  # [m]
    width: float  # [m]
    depth: float  # [m]
    roughness: float = 0.0  # [m]
    temperature: float = 313.15  # [K]

    @property
    def area(self) -> float:
        """Cross-section [m2]."""
        return self.width * self.depth

    @property
    def hydraulic_diameter(self) -> float:
        """Twice the depth [m]."""
        return 2.0 * self.depth


@dataclass(frozen=True, slots=True)
class Bend(_Round):
    """A bend of round duct; a radius of 0 is a mitred elbow."""

    name: str
    diameter: float  # [m]
    angle: float = 90.0  # [deg]
    radius: float = 1.5  # [-] of the centre line, in diameters
    roughness: float = GALVANISED_STEEL  # [m]
    temperature: float = ROOM_TEMPERATURE  # [K]


@dataclass(frozen=True, slots=True)
class Reducer:
    """A sudden change of diameter, narrower or wider along the flow."""

    name: str
    diameter_before: float  # [m]
    diameter_after: float  # [m]
    temperature: float = ROOM_TEMPERATURE  # [K]

    @property
    def area(self) -> float:
        """Cross-section of the narrow side, whose velocity the loss counts on [m2]."""
        return _circle(self.hydraulic_diameter)

    @property
    def hydraulic_diameter(self) -> float:
        """Diameter of the narrow side [m]."""
        return min(self.diameter_before, self.diameter_after)


@dataclass(frozen=True, slots=True)
class Grille(_Face):
    """A grille or louvre of thin bars."""

    name: str
    area: float  # [m2] face
    free_share: float = 0.6  # [-] open area over face area
    temperature: float = ROOM_TEMPERATURE  # [K]


@dataclass(frozen=True, slots=True)
class Fitting(_Face):
    """Anything with a loss coefficient of its own: a port, a hood, a turn in a plenum, a damper."""

    name: str
    area: float  # [m2] whose velocity the coefficient counts on
    loss_coefficient: float  # [-]
    temperature: float = ROOM_TEMPERATURE  # [K]


@dataclass(frozen=True, slots=True)
class PerforatedSheet:
    """An absorber with small holes that the air is drawn through."""

    name: str
    area: float  # [m2]
    hole_diameter: float  # [m]
    porosity: float  # [-] open share, below 0.05
    temperature: float = 308.15  # [K]

    @property
    def hydraulic_diameter(self) -> float:
        """Length that makes the Reynolds number of the face that of the holes [m]."""
        return self.hole_diameter / self.porosity


@dataclass(frozen=True, slots=True)
class Filter(_Face):
    """An air filter, rated at one velocity."""

    name: str
    area: float  # [m2] face
    rated_velocity: float  # [m/s] over the face
    rated_pressure: float  # [Pa] clean or, better, half loaded
    exponent: float = 1.3  # [-] 1 for dense fleece, towards 2 for open mesh
    temperature: float = ROOM_TEMPERATURE  # [K]


Part = (
    RoundDuct
    | FlexibleDuct
    | RectangularDuct
    | Channel
    | Bend
    | Reducer
    | Grille
    | Fitting
    | PerforatedSheet
    | Filter
)


def inlet_port(name: str, diameter: float, temperature: float = ROOM_TEMPERATURE) -> Fitting:
    """Return a sharp-edged opening that draws air from a room or plenum.

    Parameters
    ----------
    name : str
        What the results call it.
    diameter : float
        Diameter of the opening [m].
    temperature : float
        Air temperature in it [K].

    Returns
    -------
    Fitting
        Loss coefficient 0.5 (handbooks of fluid flow, from memory).

    Examples
    --------
    >>> inlet_port("intake", 0.15).loss_coefficient
    0.5
    """
    return Fitting(name, _circle(diameter), 0.5, temperature)


def outlet_port(name: str, diameter: float, temperature: float = ROOM_TEMPERATURE) -> Fitting:
    """Return an opening that blows air into a room or plenum: the velocity is lost whole.

    Parameters
    ----------
    name : str
        What the results call it.
    diameter : float
        Diameter of the opening [m].
    temperature : float
        Air temperature in it [K].

    Returns
    -------
    Fitting
        Loss coefficient 1.0 (momentum balance of a sudden enlargement).

    Examples
    --------
    >>> outlet_port("supply", 0.15).loss_coefficient
    1.0
    """
    return Fitting(name, _circle(diameter), 1.0, temperature)


def _circle(diameter: float) -> float:
    return math.pi / 4.0 * diameter * diameter
