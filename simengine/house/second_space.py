"""A second space beside or below the heated one: its air and its mass during one implicit step.

Both nodes are eliminated: what is left is the second space's air as an affine relation in the room's,
so that room, heater and vent stay one problem with one unknown (`settle_zone`).
"""

from typing import NamedTuple

from simengine.compiled import kernel
from simengine.constants import SPECIFIC_HEAT_AIR, STANDARD_AIR_DENSITY
from simengine.errors import RangeError
from simengine.house.envelope import air_conductance
from simengine.house.network import AIR_TO_SURFACE, SURFACE_TO_MASS
from simengine.house.spec import SecondSpace
from simengine.house.zone import DEMAND_FIELDS, ZONE_ROWS, Array

SURFACE_AREA_RATIO = 4.5
"""All inner surfaces over floor area [-] (ISO 13790:2008 annex C, from memory)."""


class SecondZone(NamedTuple):
    """A basement or a workshop; stored as rows below those of `Zone`, [.., lane]."""

    coupling: float  # [W/K] its air to the room's: floor or wall, and the air that a door lets through
    outdoor: float  # [W/K] its air to outdoors: windows and doors
    airing: float  # [W/K] its air to outdoors: infiltration
    inner: float  # [W/K] its air to its mass
    outer: float  # [W/K] its mass to outdoors
    ground: float  # [W/K] its mass to the ground
    air_capacity: float  # [J/K]
    mass_capacity: float  # [J/K]
    heater: float  # [W] largest heating power; 0: unheated


class SecondDemand(NamedTuple):
    """What it gets and wants during an interval; stored behind the columns of `Demand`."""

    gain: float  # [W] into its air
    setpoint: float  # [K]
    ground: float  # [K] the ground at its mass


class SecondLink(NamedTuple):
    """Its air at the end of a step, T = origin + rise + slope (T_room - origin)."""

    origin: float  # [K]
    rise: float  # [K]
    slope: float  # [-]
    heating: float  # [W]


class SecondAnswer(NamedTuple):
    """Temperatures and heat flows of one stage."""

    air: float  # [K]
    mass: float  # [K]
    heating: float  # [W]
    lost: float  # [W] to outdoors and to the ground
    stored: float  # [W] in air and mass


def second_zone(space: SecondSpace) -> SecondZone:
    """Return the conductances and capacities of a second space.

    Parameters
    ----------
    space : areas, conductances, air change

    Returns
    -------
    SecondZone; what lies behind the inner film is 1/(1/H - 1/H_inner), shared by walls and ground

    Raises
    ------
    RangeError
        Walls and ground lose more than the mass can take up, or a size is not above zero.

    Source: as `network`, with the surfaces merged into the film between air and mass.

    >>> cellar = SecondSpace(60.0, 132.0, 30.0, 0.0, 0.0, 10.0, 40.0, 0.2)
    >>> second_zone(cellar).airing  # 0.33 Wh/m3K x 132 m3 x 0.2 1/h
    8.8
    """
    if min(space.floor_area, space.volume, space.heat_capacity_per_area, space.mass_area_ratio) <= 0.0:
        raise RangeError("second space: floor area, volume and mass must be above zero")
    surfaces = AIR_TO_SURFACE * SURFACE_AREA_RATIO * space.floor_area
    mass = SURFACE_TO_MASS * space.mass_area_ratio * space.floor_area
    inner = surfaces * mass / (surfaces + mass)
    opaque = space.wall_conductance + space.ground_conductance
    if not 0.0 <= opaque < inner:
        raise RangeError(
            f"second space: walls and ground conduct {opaque:.4g} W/K; accepted: below {inner:.4g} W/K, what "
            "the mass of this floor area can take up"
        )
    behind = 1.0 / (1.0 - opaque / inner)
    air = STANDARD_AIR_DENSITY * SPECIFIC_HEAT_AIR
    return SecondZone(
        coupling=space.coupling + air * space.door_flow,
        outdoor=space.window_conductance,
        airing=air_conductance(space.volume, space.air_change),
        inner=inner,
        outer=behind * space.wall_conductance,
        ground=behind * space.ground_conductance,
        air_capacity=space.air_capacity_factor * air * space.volume,
        mass_capacity=space.heat_capacity_per_area * space.floor_area,
        heater=0.0 if space.setpoint is None else space.heating_capacity,
    )


@kernel
def read_second(rows: Array, lane: int) -> SecondZone:
    """Return the `SecondZone` of one lane."""
    return SecondZone(
        rows[ZONE_ROWS, lane],
        rows[ZONE_ROWS + 1, lane],
        rows[ZONE_ROWS + 2, lane],
        rows[ZONE_ROWS + 3, lane],
        rows[ZONE_ROWS + 4, lane],
        rows[ZONE_ROWS + 5, lane],
        rows[ZONE_ROWS + 6, lane],
        rows[ZONE_ROWS + 7, lane],
        rows[ZONE_ROWS + 8, lane],
    )


@kernel
def read_second_demand(rows: Array, interval: int, lane: int) -> SecondDemand:
    """Return the `SecondDemand` of one interval and lane."""
    return SecondDemand(
        rows[interval, DEMAND_FIELDS, lane],
        rows[interval, DEMAND_FIELDS + 1, lane],
        rows[interval, DEMAND_FIELDS + 2, lane],
    )


@kernel
def link_second(
    space: SecondZone,
    demand: SecondDemand,
    ambient: float,
    start: tuple[float, float],
    room_start: float,
    per_second: float,
    heat: tuple[float, float, float],
) -> SecondLink:
    """Return the second space's air at the end of an implicit step, affine in the room's.

    Parameters
    ----------
    space, demand : the second space, its gains and wanted temperature
    ambient : outdoor temperature [K]
    start : its air and mass from which the step starts [K]
    room_start : room air from which the step starts [K]; by it its heater settles, so that the room
        stays the only unknown
    per_second : one over the length of the step [1/s]
    heat : heat brought to its air is heat[0] + heat[1] T + heat[2] T_room [W], [W/K], [W/K]

    Returns
    -------
    SecondLink

    Source: two nodes, implicit, eliminated by hand; counted from its start, so that no digits are lost.
    """
    origin = start[0]
    outdoors = ambient - origin
    mass_storage = space.mass_capacity * per_second
    per_mass = 1.0 / (mass_storage + space.inner + space.outer + space.ground)
    mass_source = (
        mass_storage * (start[1] - origin) + space.outer * outdoors + space.ground * (demand.ground - origin)
    )
    to_mass = space.inner * (1.0 - space.inner * per_mass)
    to_outdoors = space.outdoor + space.airing
    total = space.air_capacity * per_second + space.coupling + to_outdoors + to_mass - heat[1]
    source = (
        to_outdoors * outdoors
        + demand.gain
        + space.inner * mass_source * per_mass
        + (heat[0] + (heat[1] + heat[2]) * origin)
    )
    cross = space.coupling + heat[2]
    wanted = total * (demand.setpoint - origin) - source - cross * (room_start - origin)
    heating = min(max(wanted, 0.0), space.heater)
    return SecondLink(origin, (source + heating) / total, cross / total, heating)


@kernel
def settle_second(
    space: SecondZone,
    demand: SecondDemand,
    ambient: float,
    start: tuple[float, float],
    per_second: float,
    link: SecondLink,
    room: float,
) -> SecondAnswer:
    """Return the second space at the end of the step, once the room is known.

    Parameters
    ----------
    space, demand, ambient, start, per_second : as for `link_second`
    link : what that returned
    room : room air at the end of the step [K]

    Returns
    -------
    SecondAnswer

    Source: back substitution.
    """
    origin = link.origin
    outdoors, ground = ambient - origin, demand.ground - origin
    mass_storage = space.mass_capacity * per_second
    before = start[1] - origin
    air = link.rise + link.slope * (room - origin)
    mass_source = mass_storage * before + space.outer * outdoors + space.ground * ground
    mass = (space.inner * air + mass_source) / (mass_storage + space.inner + space.outer + space.ground)
    lost = (
        (space.outdoor + space.airing) * (air - outdoors)
        + space.outer * (mass - outdoors)
        + space.ground * (mass - ground)
    )
    stored = space.air_capacity * per_second * air + mass_storage * (mass - before)
    return SecondAnswer(air + origin, mass + origin, link.heating, lost, stored)
