"""What the money side of a scenario is made of: fuel, price, first cost and rates as plain numbers."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simengine.economics.bill_of_materials import Part
from simengine.economics.fuels import BASES, Fuel, fuel_named
from simengine.errors import InputError

Array = NDArray[np.float64]

MONEY_BASES = ("real", "nominal")
LARGEST = 1.0e12  # of any price, sum or heat: a typing error lies beyond


@dataclass(frozen=True, slots=True)
class Line:
    """A line through points: linear between them, held at the ends."""

    x: tuple[float, ...]
    y: tuple[float, ...]

    def __post_init__(self) -> None:
        """Refuse points that make no function.

        Raises
        ------
        InputError
            Fewer than one point, unequal lengths, or x not rising.
        """
        rising = all(a < b for a, b in zip(self.x, self.x[1:], strict=False))
        if not self.x or len(self.x) != len(self.y) or not rising:
            raise InputError("line: the points do not make a function; accepted: pairs with rising x")
        _need(all(value > 0.0 for value in self.y), "line: an efficiency or COP must be above zero")

    def at(self, x: Array) -> Array:
        """Return y at each x."""
        return np.interp(x, self.x, self.y)


@dataclass(frozen=True, slots=True)
class FuelUse:
    """One heater: its fuel, how well it turns that into useful heat, and what the fuel costs.

    `efficiency` and `basis` belong together: a US rating counts on the higher heating value, a
    European one on the lower (and may pass 1 for a condensing boiler). For a heat pump the fuel is
    "electricity" and the efficiency its seasonal COP, or give `cop_by_outdoor_temperature`. With an
    `idle_share` the efficiency is that at full load, and the heater burns that share of its full fuel
    also while it only keeps itself warm: a kWh less of heat then saves less fuel than 1 / efficiency.
    """

    fuel: str  # key of the fuel table, or name of `own_fuel`
    efficiency: float  # [-] seasonal; useful heat / heat content
    price: float | None = None  # [currency/unit]; None: not known
    unit: str = ""  # unit that the fuel is sold in; "" is the fuel's usual one
    basis: str = "higher"  # heating value that the efficiency counts on: "higher" or "lower"
    currency: str = "USD"
    price_date: str = ""
    price_place: str = ""
    invented: bool = False  # the price is made up for an example
    share: float = 1.0  # [-] of the useful heat that this heater makes
    price_by_hour: tuple[float, ...] | None = None  # [currency/unit] 24, or 288 month by month; over `price`
    cop_by_outdoor_temperature: Line | None = None  # [K] -> [-]; overrides `efficiency`
    efficiency_by_load: Line | None = None  # load / full load [-] -> [-]; overrides `efficiency`
    full_load: float | None = None  # [W] for `efficiency_by_load`; None: the largest need of the year
    emission_factor: float | None = None  # [kg/kWh] CO2 per heat content (higher); None: the table's
    own_fuel: Fuel | None = None  # a fuel that is not in the table
    idle_share: float = 0.0  # [-] of the full-load fuel that burns without any load
    escalation: float | None = None  # [1/a] of this price; None: the money's, by kind of fuel
    name: str = ""  # what the user calls the heater

    def __post_init__(self) -> None:
        """Check what one use can know about itself.

        Raises
        ------
        InputError
            A number or a word outside what is accepted; the line says which.
        """
        where = f"fuel use '{self.fuel}'"
        right = 0.0 < self.efficiency < 100.0
        _need(right, f"{where}: efficiency {self.efficiency:g} must be above zero; 0.8 is 80 %")
        _need(self.basis in BASES, f"{where}: basis '{self.basis}'; accepted: {', '.join(BASES)}")
        _need(0.0 <= self.share <= 1.0, f"{where}: share {self.share:g}; accepted: 0 to 1")
        prices = (self.price or 0.0, *(self.price_by_hour or ()))
        _need(all(0.0 <= price < LARGEST for price in prices), f"{where}: a price must not be below zero")
        _need(len(prices) in (1, 25, 289), f"{where}: a tariff by hour needs 24 values, or 12 x 24")
        full = self.full_load is None or self.full_load > 0.0
        _need(full, f"{where}: the full load must be above zero")
        _need(
            0.0 <= self.idle_share < 1.0, f"{where}: idle share {self.idle_share:g}; accepted: 0 to below 1"
        )

    @property
    def sold(self) -> Fuel:
        """The fuel itself, the user's own or the table's."""
        return fuel_named(self.fuel) if self.own_fuel is None else self.own_fuel

    @property
    def steady(self) -> bool:
        """Whether one efficiency and one price serve every hour."""
        return not (self.price_by_hour or self.cop_by_outdoor_temperature or self.efficiency_by_load)

    @property
    def priced(self) -> bool:
        """Whether a price is given, so that the currency means something."""
        return self.price is not None or self.price_by_hour is not None


@dataclass(frozen=True, slots=True)
class Money:
    """First cost, lives and rates. Cash flows fall at year end; prices are those of the base date.

    With basis "real" every rate is above inflation and `inflation` stays 0; with "nominal" the
    discount rate and the escalations contain inflation, and upkeep and replacements grow with it.
    """

    first_cost: float | None = None  # [currency]; None: not known; 0 is allowed
    study_period: int = 20  # [a]
    life: int = 20  # [a] of the collector; savings end with it
    discount_rate: float = 0.03  # [1/a]
    basis: str = "real"
    fuel_escalation: float = 0.0  # [1/a]
    electricity_escalation: float = 0.0  # [1/a]
    inflation: float = 0.0  # [1/a] only for basis "nominal"
    upkeep: float = 0.0  # [currency/a] at base-date prices
    grant: float = 0.0  # [currency] received with the first cost
    fan_life: int = 10  # [a]
    fan_cost: float = 0.0  # [currency] of one replacement, at base-date prices
    replacements: tuple[tuple[int, float], ...] = ()  # [a], [currency] other parts bought again
    residual_value: float = 0.0  # [currency] at the end of the study, at base-date prices
    currency: str = "USD"
    first_cost_reason: str = ""  # why it is not known, where it is not
    parts: tuple[Part, ...] = ()  # what the first cost is made of

    def __post_init__(self) -> None:
        """Check lives, rates and words.

        Raises
        ------
        InputError
            A number or a word outside what is accepted; the line says which.
        """
        for name in ("study_period", "life", "fan_life"):
            value = getattr(self, name)
            whole = value >= 1 and float(value).is_integer()
            _need(whole, f"money: {name} {value:g}; accepted: whole years, at least 1")
        for name in ("discount_rate", "fuel_escalation", "electricity_escalation", "inflation"):
            value = getattr(self, name)
            _need(-0.5 < value < 1.0, f"money: {name} {value:g} a year; accepted: -0.5 to 1 (0.03 is 3 %)")
        for name in ("first_cost", "upkeep", "grant", "fan_cost"):
            value = getattr(self, name)
            _need(0.0 <= (value or 0.0) < LARGEST, f"money: {name} must not be below zero")
        _need(abs(self.residual_value) < LARGEST, "money: residual_value must be a finite sum")
        _need(self.basis in MONEY_BASES, f"money: basis '{self.basis}'; accepted: real, nominal")
        later = all(year >= 1 and 0.0 <= cost < LARGEST for year, cost in self.replacements)
        _need(later, "money: replacements; accepted: pairs of a year, 1 or later, and a cost of 0 or more")
        real = self.basis == "real"
        _need(not real or self.inflation == 0.0, "money: inflation belongs to the nominal basis only")

    @property
    def priced(self) -> bool:
        """Whether any sum is given, so that the currency means something."""
        sums = (self.upkeep, self.grant, self.fan_cost, self.residual_value)
        return self.first_cost is not None or any(sums) or bool(self.replacements)

    @property
    def years(self) -> int:
        """Number of years with savings [a]."""
        return int(min(self.study_period, self.life))


@dataclass(frozen=True, slots=True)
class HourlyHeat:
    """The record by intervals, for heaters and tariffs that depend on the hour. All arrays [interval]."""

    heating_without: Array  # [kWh] useful heat needed without the collector
    heating_with: Array  # [kWh] useful heat still needed with it
    fan: Array  # [kWh] fan electricity
    outdoor_temperature: Array  # [K]
    hour_of_day: NDArray[np.int64]  # 0 to 23, local standard time
    interval: float = 3600.0  # [s]
    month: NDArray[np.int64] | None = None  # 0 to 11, for a tariff that hangs on it

    @property
    def price_slot(self) -> NDArray[np.int64]:
        """Place of each interval in a tariff of 12 x 24 prices."""
        if self.month is None:
            raise InputError("tariff: prices month by month need the months of the year")
        return self.month * 24 + self.hour_of_day


@dataclass(frozen=True, slots=True)
class HeatSaved:
    """What a year of the collector changed, as the money side needs it."""

    offset_kwh: float  # [kWh] useful heat no longer needed; may be negative
    fan_kwh: float  # [kWh] fan electricity used
    hours: HourlyHeat | None = None
    years: float = 1.0  # [a] that the hours hold

    def __post_init__(self) -> None:
        """Refuse numbers that are no numbers.

        Raises
        ------
        InputError
            NaN or infinity.
        """
        finite = abs(self.offset_kwh) < LARGEST and abs(self.fan_kwh) < LARGEST
        _need(finite, "heat saved: offset_kwh and fan_kwh must be finite numbers")


def _need(condition: bool, problem: str) -> None:
    if not condition:
        raise InputError(problem)
