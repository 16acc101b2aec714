"""What a collector is made of: plain numbers in SI, before any of them is turned into physics."""

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class RatedOptics:
    """Solar figures of a coated or tinted pane at normal incidence, as its maker rates them [-]."""

    transmittance: float
    reflectance_outside: float
    reflectance_inside: float


@dataclass(frozen=True, slots=True)
class AngleTable:
    """Solar figures of a sheet by angle of incidence, the same for light from either side.

    Angles rise from 0; between them the figures run in straight lines, and at 90 deg all is reflected.
    """

    angles: tuple[float, ...]  # [deg]
    transmittance: tuple[float, ...]  # [-]
    reflectance: tuple[float, ...]  # [-]


@dataclass(frozen=True, slots=True)
class Pane:
    """One sheet of the cover. Heat capacity is thickness x density x specific heat.

    With `rated`, index and extinction give only the angular shape; with `angle_table` neither counts.
    """

    name: str
    thickness: float  # [m]
    refractive_index: float = 1.526  # [-]
    extinction: float = 25.0  # [1/m]
    density: float = 2500.0  # [kg/m3]
    specific_heat: float = 750.0  # [J/kgK]
    conductivity: float = 1.0  # [W/mK]
    emittance_outside: float = 0.84  # [-] long-wave, face towards the sky
    emittance_inside: float = 0.84  # [-] long-wave, face towards the absorber
    rated: RatedOptics | None = None
    material: str = "glass"  # key of the temperature limit
    angle_table: AngleTable | None = None


@dataclass(frozen=True, slots=True)
class SealedGap:
    """The still space between two panes."""

    depth: float  # [m]
    gas: str = "air"
    fill_share: float = 1.0  # [-] by volume of `gas`; the rest is air


@dataclass(frozen=True, slots=True)
class AirSpace:
    """The space before or behind the absorber; it may narrow or widen along the flow."""

    depth_inlet: float  # [m] at the end where air enters the collector
    depth_outlet: float  # [m] at the end where air leaves it


@dataclass(frozen=True, slots=True)
class Perforation:
    """How air passes through the absorber: holes by size, or an effectiveness that was measured."""

    porosity: float  # [-] open share
    hole_diameter: float | None = None  # [m]
    pitch: float | None = None  # [m]
    layout: str = "triangular"
    effectiveness: float | None = None  # [-] at `rated_flow`
    rated_flow: float | None = None  # [kg/s m2] where the effectiveness holds
    exponent: float = 0.5  # [-] NTU ~ flow ** -exponent
    layers: int = 1  # [-] sheets or screens one behind the other
    exchange: float = 1.0  # [-] factor on the exchange (NTU) that a test has found


@dataclass(frozen=True, slots=True)
class Tubes:
    """A bank of parallel tubes that is the absorber and carries the air."""

    diameter: float  # [m] inside
    pitch: float  # [m] from tube to tube, across the flow
    exchange: float = 1.0  # [-] factor on the exchange (NTU) that a test has found


@dataclass(frozen=True, slots=True)
class Leak:
    """Cracks of the box, and the pressure in it while the fan runs at full speed."""

    coefficient: float  # [kg/s Pa^n] flow at 1 Pa
    exponent: float = 0.65  # [-]
    box_pressure: float = 0.0  # [Pa] above outdoors; below zero the box draws air in


@dataclass(frozen=True, slots=True)
class Absorber:
    """The dark sheet (or screen) that takes up the sun."""

    name: str
    absorptance: float = 0.94  # [-] solar, normal incidence
    emittance_front: float = 0.92  # [-]
    emittance_back: float = 0.92  # [-]
    heat_capacity: float = 1350.0  # [J/m2K]
    angular: bool = True  # fall-off of the absorptance with the angle of incidence
    perforation: Perforation | None = None
    material: str = "steel"
    fall_off: str = "flat_black_seventh_order"  # relation by name, used when `angular`
    front_area: float = 1.0  # [-] surface offered to the air in front, over the sheet's own (ribs, fins)
    rear_area: float = 1.0  # [-] the same behind it
    tubes: Tubes | None = None


@dataclass(frozen=True, slots=True)
class Layer:
    """One layer of the back, from the inside outwards."""

    name: str
    thickness: float  # [m]
    conductivity: float  # [W/mK]
    density: float  # [kg/m3]
    specific_heat: float  # [J/kgK]
    material: str


@dataclass(frozen=True, slots=True)
class Back:
    """Everything behind the rear air space."""

    layers: tuple[Layer, ...]
    emittance: float = 0.9  # [-] of the face towards the absorber
    lining_heat_capacity: float = 1000.0  # [J/m2K] of the inner face
    outside_film: float = 0.04  # [m2K/W] ISO 6946 surface resistance where the back faces outdoors
    wall_resistance: float | None = None  # [m2K/W] house wall behind it; None: faces outdoors


@dataclass(frozen=True, slots=True)
class Collector:
    """A glazed box that heats room air."""

    width: float  # [m] of the aperture, across the flow
    length: float  # [m] of the aperture, along the flow
    tilt: float  # [deg] from horizontal
    azimuth: float  # [deg] clockwise from north
    arrangement: str  # a key of `build.ARRANGEMENTS`
    panes: tuple[Pane, ...]
    pane_gaps: tuple[SealedGap, ...]  # one fewer than panes
    front: AirSpace
    absorber: Absorber
    rear: AirSpace
    back: Back
    edge_conductance: float = 0.0  # [W/K] of all edges, absorber to ambient
    box_heat_capacity: float = 8000.0  # [J/m2K] frame and outer skin, per aperture area
    dirt_factor: float = 0.98  # [-] share of the sun that dirt and frame let pass
    segments: int = 3
    wind_relation: str = "watmuff"
    leak: Leak | None = None
    tags: dict[str, str] = field(default_factory=dict)

    @property
    def aperture(self) -> float:
        """Aperture area A [m2]."""
        return self.width * self.length
