"""What a scenario turns into: the parts of every room as plain numbers in SI."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

from simengine.airflow.spec import Duct, Fan, PassivePath
from simengine.collector.spec import Collector
from simengine.control.spec import ControlRule
from simengine.economics.spec import FuelUse, Money
from simengine.house.calibrate import FuelBill
from simengine.house.spec import House, SecondSpace, Window
from simengine.scenario.air_path import AirPath
from simengine.scenario.assemble_fitted import TestedOn

if TYPE_CHECKING:
    from simengine.airflow.fan_curve import FanCurve


@dataclass(frozen=True, slots=True)
class Tree:
    """A crown that shades the collector."""

    bearing: float  # [deg] clockwise from north
    distance: float  # [m]
    height: float  # [m] of its top
    base_height: float  # [m] of its lower end
    crown_width: float  # [m]
    in_leaf: float  # [-] share of the light that passes
    bare: float  # [-]
    leaf_out: int  # day of the year, 1 to 365
    leaf_fall: int


@dataclass(frozen=True, slots=True)
class Strip:
    """An overhang ("above") or a fin ("left", "right") beside the collector."""

    side: str
    depth: float  # [m]
    gap: float  # [m]


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall across from the collector."""

    bearing: float  # [deg]
    distance: float  # [m]
    height: float  # [m] above the collector's lower edge
    left: float  # [m]
    right: float  # [m]


@dataclass(frozen=True, slots=True)
class Site:
    """Where the collector stands."""

    elevation: float | None  # [m]; None: the weather station's
    terrain: str
    collector_height: float  # [m] above ground
    wind_shelter: float  # [-]
    ground_reflectance: tuple[float, ...]  # [-] 12 values, January to December
    snow: bool
    horizon: tuple[tuple[float, float], ...]  # (bearing, elevation) [deg]
    trees: tuple[Tree, ...] = ()
    strips: tuple[Strip, ...] = ()
    walls: tuple[Wall, ...] = ()


@dataclass(frozen=True, slots=True)
class WindowPanel:
    """A panel in a window opening, and the window that it takes the place of."""

    area: float  # [m2]
    u_value: float  # [W/m2K] of the panel with its films
    window_u_value: float  # [W/m2K]
    window: Window


@dataclass(frozen=True, slots=True)
class MoneyInputs:
    """The money side; None or empty where the scenario says nothing."""

    heating: tuple[FuelUse, ...]  # one a heater, with its share
    electricity: FuelUse | None  # of the fan
    economics: Money | None


@dataclass(frozen=True, slots=True)
class RunSettings:
    """How the year is calculated."""

    step: float  # [s] mean step while the sun can drive the collector
    sky: str
    clear_sky: str


@dataclass(frozen=True, slots=True)
class Spaces:
    """Which spaces the air passes, and what the second one is."""

    intake: str = "room"  # one of the schema's INTAKES
    supply: str = "room"
    second: SecondSpace | None = None  # its coupling is 0 where `coupling` says so
    below: bool = True  # it takes the place of the ground under the built-in houses
    coupling: bool = True  # it is given; else it is that of each built-in house's floor


@dataclass(frozen=True, slots=True)
class Assembly:
    """Everything that a run needs besides the weather and the two built-in houses."""

    collector: Collector
    fan: Fan
    supply_ducts: tuple[Duct, ...]  # collector to room
    return_ducts: tuple[Duct, ...]  # room to collector
    control: ControlRule
    site: Site
    house: House | None
    bill: FuelBill | None  # a year's fuel of that house
    builtin_floor_area: float  # [m2] of the standard and the low-energy house
    builtin_storeys: int
    money: MoneyInputs
    run: RunSettings
    fan_volume_flow: float  # [m3/s] at the density of the air at the fan
    fan_inlet_temperature: float  # [K]
    air_path: AirPath  # what the air passes from where it is taken to where it is given
    room_humidity: float  # [-] of the room air at 20 degC, where it meets the cover
    sealed_gaps: tuple[bool, ...] = ()  # which spaces between panes are factory-sealed units
    lining_material: str | None = None  # of the inner face of the back
    spaces: Spaces = Spaces()
    builtin_shelter: int | None = None  # class, where wind and stack drive air into the built-in houses
    fan_notes: tuple[str, ...] = ()  # what was noticed where the fan meets the loop
    fan_place: str = "room_side"
    passive: PassivePath | None = None  # None: no air moves while the fan rests
    fan_curve: "FanCurve | None" = None  # at full speed; None where the flow is given
    window_panel: WindowPanel | None = None
    builtin_loss_factor: float = 1.0  # [-] on the heat loss of the standard and the low-energy house
    tested: TestedOn | None = None  # the field test that the parts are fitted to
