"""What a house is, as the plain numbers that the hourly network of ISO 13790 needs."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Window:
    """A group of windows that look the same way."""

    azimuth: float  # [deg] clockwise from north
    area: float  # [m2] with frame
    solar_factor: float  # [-] total solar energy transmittance g, normal incidence
    frame_share: float = 0.3  # [-]
    shading_factor: float = 0.9  # [-] fixed shading and dirt
    tilt: float = 90.0  # [deg]


@dataclass(frozen=True, slots=True)
class Leakage:
    """Leaks of a house, for the air that wind and stack drive in."""

    area: float  # [m2] effective leakage area at 4 Pa, discharge coefficient 1
    storeys: int = 2  # [-] 1 to 3
    shelter_class: int = 4  # [-] 1: open country, 3: a street in a suburb, 5: close in on all sides


@dataclass(frozen=True, slots=True)
class Ground:
    """The ground round a basement."""

    depth: float = 1.5  # [m] at which its temperature counts
    diffusivity: float = 0.6e-6  # [m2/s] moist soil, common practice
    temperature: float | None = None  # [K] all year, instead


@dataclass(frozen=True, slots=True)
class SecondSpace:
    """A basement, garage or workshop beside the heated space, with its own air and mass."""

    floor_area: float  # [m2]
    volume: float  # [m3] of its air
    coupling: float  # [W/K] floor or wall to the heated space
    door_flow: float  # [m3/s] air that it and the heated space exchange through doors and stairs
    wall_conductance: float  # [W/K] heavy parts to outdoors, films included
    window_conductance: float  # [W/K] windows and doors to outdoors
    ground_conductance: float  # [W/K] walls and floor to the ground, inner film included
    air_change: float  # [1/h] with outdoors
    internal_gain: tuple[float, ...] = (0.0,) * 24  # [W] by the hour of the day
    setpoint: tuple[float, ...] | None = None  # [K] by the hour of the day; None: unheated
    heating_capacity: float = 1.0e9  # [W]
    heat_capacity_per_area: float = 260_000.0  # [J/m2K] of floor area, ISO 13790 "heavy"
    mass_area_ratio: float = 3.0  # [-] ISO 13790 "heavy"
    ground: Ground = Ground()
    air_capacity_factor: float = 5.0  # [-] air and light furnishings over air alone


@dataclass(frozen=True, slots=True)
class House:
    """A heated house as five conductances and one capacity, with its gains and its schedule."""

    name: str
    floor_area: float  # [m2]
    volume: float  # [m3] heated air
    opaque_conductance: float  # [W/K] H_op: walls, roof, floor, thermal bridges
    window_conductance: float  # [W/K] H_w: windows and doors
    ventilation_conductance: float  # [W/K] H_ve: infiltration and ventilation after heat recovery
    windows: tuple[Window, ...]
    internal_gain: tuple[float, ...]  # [W] 24 values, by the hour of the day
    setpoint: tuple[float, ...]  # [K] 24 values, by the hour of the day
    heating_capacity: float = 1.0e9  # [W]
    vent_limit: float = 299.15  # [K] windows are opened above this
    heat_capacity_per_area: float = 165_000.0  # [J/m2K] C_m / A_f, ISO 13790 "medium"
    mass_area_ratio: float = 2.5  # [-] A_m / A_f, ISO 13790 "medium"
    surface_area_ratio: float = 4.5  # [-] A_t / A_f
    air_capacity_factor: float = 5.0  # [-] C_air = factor * rho V c_p: air and light furnishings
    source: str = ""
    recovered_conductance: float = 0.0  # [W/K] what heat recovery keeps of the ventilation air
    leakage: Leakage | None = None  # then H_ve is without infiltration, which follows wind and stack
    second_space: SecondSpace | None = None
    heating_months: tuple[int, ...] = tuple(range(1, 13))  # 1 to 12, in which the heating may run


@dataclass(frozen=True, slots=True)
class EnvelopeLayer:
    """One layer of a wall, roof or floor."""

    thickness: float  # [m]
    conductivity: float  # [W/mK]


@dataclass(frozen=True, slots=True)
class Element:
    """A part of the envelope with one U-value."""

    name: str
    area: float  # [m2]
    u_value: float  # [W/m2K]
    temperature_factor: float = 1.0  # [-] b: share of the indoor-outdoor difference that it sees


@dataclass(frozen=True, slots=True)
class Ventilation:
    """How outdoor air gets in, in air changes of the heated volume."""

    infiltration: float  # [1/h] through leaks
    airing: float = 0.0  # [1/h] through opened windows or a fan, no heat kept
    mechanical: float = 0.0  # [1/h] through the heat exchanger
    heat_recovery: float = 0.0  # [-] share of the heat that the exchanger keeps


@dataclass(frozen=True, slots=True)
class Envelope:
    """A house as its parts, before they are summed into three conductances."""

    volume: float  # [m3] heated air
    opaque: tuple[Element, ...]
    light: tuple[Element, ...]  # windows and doors
    ventilation: Ventilation
    thermal_bridge: float = 0.0  # [W/m2K] surcharge on every outer area
    air_heat_capacity: float = 1200.0  # [J/m3K] rho c_p of the air, ISO 13790's value
