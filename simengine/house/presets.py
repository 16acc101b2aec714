"""Two houses to compare with: a standard older detached one and a low-energy one, from stated data.

Both are the same box with the same glass area; only what the years changed differs. Their ratio of
heat per floor area is a result and was not tuned.
"""

from dataclasses import dataclass
from typing import Final

from simengine.errors import RangeError
from simengine.house.envelope import conductances, infiltration_from_test, recovered
from simengine.house.gains import internal_profile
from simengine.house.spec import Element, Envelope, House, Ventilation, Window

FLOOR_AREAS: Final = (40.0, 500.0)
"""Range of heated floor area that a detached box of this shape stands for [m2]."""

STOREY_HEIGHT_AIR: Final = 2.5  # [m] clear
STOREY_HEIGHT_WALL: Final = 2.8  # [m] with the floor, on the outside
PLAN_RATIO: Final = 1.4  # [-] length over width of the plan
WINDOW_SHARE: Final = 0.18  # [-] window area over floor area; 0.15 to 0.20 is common practice
DOOR_AREA: Final = 2.0  # [m2]
GROUND_FACTOR: Final = 0.6  # [-] floor over ground or cellar; common practice
SETPOINT: Final = 293.15  # [K] 20 degC, day and night


@dataclass(frozen=True, slots=True)
class PresetData:
    """What differs between the two houses."""

    name: str
    wall: float  # [W/m2K]
    roof: float  # [W/m2K]
    floor: float  # [W/m2K]
    window: float  # [W/m2K] with frame
    door: float  # [W/m2K]
    thermal_bridge: float  # [W/m2K] of all outer areas
    solar_factor: float  # [-]
    shading_factor: float  # [-] reveals, neighbours, dirt
    ventilation: Ventilation
    internal_gain: float  # [W/m2] mean
    orientation: tuple[tuple[float, float], ...]  # azimuth [deg], share of the window area [-]
    source: str


STANDARD_DATA: Final = PresetData(
    name="standard",
    wall=0.55,
    roof=0.40,
    floor=0.50,
    window=2.8,
    door=2.5,
    thermal_bridge=0.05,
    solar_factor=0.75,
    shading_factor=0.75,
    ventilation=Ventilation(infiltration=infiltration_from_test(10.0), airing=0.15),
    internal_gain=3.0,
    orientation=((0.0, 0.25), (90.0, 0.25), (180.0, 0.25), (270.0, 0.25)),
    source="detached house of the 1970s, common practice: 5 to 8 cm of insulation in walls, 10 cm in the "
    "roof, clear double panes, 10 air changes at 50 Pa over 20, some airing, 3 W/m2 of internal gains",
)
"""A standard older detached house."""

LOW_ENERGY_DATA: Final = PresetData(
    name="low_energy",
    wall=0.12,
    roof=0.10,
    floor=0.15,
    window=0.80,
    door=0.80,
    thermal_bridge=0.01,
    solar_factor=0.50,
    shading_factor=0.75,
    ventilation=Ventilation(infiltration=infiltration_from_test(0.6), mechanical=0.40, heat_recovery=0.82),
    internal_gain=2.1,
    orientation=((0.0, 0.15), (90.0, 0.20), (180.0, 0.45), (270.0, 0.20)),
    source="low-energy house by the usual criteria (published): at most 0.6 air changes at 50 Pa, heat "
    "recovery 75 % or better, windows 0.8 W/m2K; 30 cm of insulation, triple panes, most glass to the south "
    "and 2.1 W/m2 of internal gains are common practice",
)
"""A low-energy house; with windows to the south, as they are built."""


def standard(floor_area: float, storeys: int = 2, over_space: bool = False) -> House:
    """Return the standard older detached house.

    Parameters
    ----------
    floor_area : heated, all storeys [m2]
    storeys : number of storeys [-]
    over_space : a second space lies below: its floor loses nothing to the ground

    Returns
    -------
    the house, its source in words

    Raises
    ------
    RangeError
        Floor area or storeys outside what the box stands for.

    Source: see `STANDARD_DATA`.

    >>> house = standard(140.0)
    >>> round(house.window_conductance, 1)  # 25.2 m2 x 2.8 and a door of 2 m2 x 2.5
    75.6
    """
    return build(STANDARD_DATA, floor_area, storeys, over_space)


def low_energy(floor_area: float, storeys: int = 2, over_space: bool = False) -> House:
    """Return the low-energy house.

    Parameters
    ----------
    floor_area : heated, all storeys [m2]
    storeys : number of storeys [-]
    over_space : a second space lies below: its floor loses nothing to the ground

    Returns
    -------
    the house, its source in words

    Raises
    ------
    RangeError
        Floor area or storeys outside what the box stands for.

    Source: see `LOW_ENERGY_DATA`.

    >>> round(low_energy(140.0).ventilation_conductance, 2)  # 350 m3, 0.03 + 0.4 (1 - 0.82) 1/h
    11.9
    """
    return build(LOW_ENERGY_DATA, floor_area, storeys, over_space)


PRESETS: Final = {function.__name__: function for function in (standard, low_energy)}
"""The preset houses by name."""

DATA: Final = {data.name: data for data in (STANDARD_DATA, LOW_ENERGY_DATA)}
"""What they are made from."""


def envelope(data: PresetData, floor_area: float, storeys: int = 2, over_space: bool = False) -> Envelope:
    """Return the parts of a preset house.

    Parameters
    ----------
    data : U-values and air change
    floor_area : heated, all storeys [m2]
    storeys : number of storeys [-]
    over_space : a second space lies below: its floor loses nothing to the ground

    Returns
    -------
    areas with their U-values

    Raises
    ------
    RangeError
        Floor area or storeys outside what the box stands for.

    >>> [round(part.area, 1) for part in envelope(STANDARD_DATA, 140.0).opaque]
    [162.9, 70.0, 70.0]
    """
    low, high = FLOOR_AREAS
    if not low <= floor_area <= high or storeys not in (1, 2, 3):
        raise RangeError(
            f"preset house: {floor_area:g} m2 on {storeys} storeys; accepted: {low:g} to {high:g} m2, 1 to 3"
        )
    plan = floor_area / storeys
    perimeter = 2.0 * (1.0 + PLAN_RATIO) * (plan / PLAN_RATIO) ** 0.5
    windows = WINDOW_SHARE * floor_area
    wall = perimeter * STOREY_HEIGHT_WALL * storeys - windows - DOOR_AREA
    return Envelope(
        volume=STOREY_HEIGHT_AIR * floor_area,
        opaque=(
            Element("walls", wall, data.wall),
            Element("roof", plan, data.roof),
            Element("floor", plan, data.floor, temperature_factor=0.0 if over_space else GROUND_FACTOR),
        ),
        light=(Element("windows", windows, data.window), Element("door", DOOR_AREA, data.door)),
        ventilation=data.ventilation,
        thermal_bridge=data.thermal_bridge,
    )


def build(data: PresetData, floor_area: float, storeys: int = 2, over_space: bool = False) -> House:
    """Return a house of the presets' shape from its data.

    Parameters
    ----------
    data : U-values, air change, gains and windows
    floor_area : heated, all storeys [m2]
    storeys : number of storeys [-]
    over_space : a second space lies below: its floor loses nothing to the ground

    Returns
    -------
    the house

    Raises
    ------
    RangeError
        Floor area or storeys outside what the box stands for.

    >>> build(LOW_ENERGY_DATA, 120.0).volume
    300.0
    """
    parts = envelope(data, floor_area, storeys, over_space)
    total = conductances(parts)
    return House(
        name=data.name,
        floor_area=floor_area,
        volume=parts.volume,
        opaque_conductance=total.opaque,
        window_conductance=total.light,
        ventilation_conductance=total.ventilation,
        windows=_windows(data, WINDOW_SHARE * floor_area),
        internal_gain=internal_profile(data.internal_gain * floor_area),
        setpoint=(SETPOINT,) * 24,
        source=data.source,
        recovered_conductance=recovered(parts.volume, data.ventilation),
    )


def _windows(data: PresetData, area: float) -> tuple[Window, ...]:
    return tuple(
        Window(azimuth, share * area, data.solar_factor, shading_factor=data.shading_factor)
        for azimuth, share in data.orientation
    )
