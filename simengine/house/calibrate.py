"""A house scaled until it burns what the fuel bill says."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final

from simengine.errors import InputError, RangeError
from simengine.house.spec import House

FACTORS: Final = (0.05, 10.0)
"""Range in which one factor may scale a house [-]; beyond, it is another house."""


@dataclass(frozen=True, slots=True)
class FuelBill:
    """A year's fuel as heat: what a practitioner knows of a house."""

    fuel_heat: float  # [kWh/a] heat content of the fuel bought, on the basis of the efficiency
    efficiency: float  # [-] seasonal, of the heater
    hot_water_share: float = 0.0  # [-] of the useful heat that goes into hot water
    heating_share: float = 1.0  # [-] of the rooms' heat that this fuel makes, beside other heaters
    words: str = ""  # what fuel it is

    def __post_init__(self) -> None:
        """Check the numbers.

        Raises
        ------
        InputError
            A number outside what is accepted.
        """
        if self.fuel_heat <= 0.0 or self.efficiency <= 0.0 or not 0.0 <= self.hot_water_share < 1.0:
            raise InputError(
                "fuel bill: fuel and efficiency must be above zero, the hot water share from 0 to below 1"
            )
        if not 0.0 < self.heating_share <= 1.0:
            raise InputError("fuel bill: this fuel heats nothing; accepted: a share above 0, up to 1")

    @property
    def space_heat(self) -> float:
        """Useful heat for the rooms [kWh/a]."""
        return self.fuel_heat * self.efficiency * (1.0 - self.hot_water_share) / self.heating_share


@dataclass(frozen=True, slots=True)
class Calibration:
    """The scaled house, and what was taken for granted."""

    house: House
    factor: float  # [-] on the opaque, window and ventilation conductances
    need: float  # [kWh/a] of the scaled house
    target: float  # [kWh/a] space heat of the bill
    runs: int  # years simulated
    assumptions: tuple[str, ...]


def scaled(house: House, factor: float) -> House:
    """Return a house that loses more or less heat by one factor.

    Parameters
    ----------
    house : the house to start from
    factor : on the opaque, window and ventilation conductances [-]

    Returns
    -------
    the house; areas, gains, mass, setpoints and a second space stay

    >>> from simengine.house.presets import standard
    >>> house = standard(140.0)
    >>> scaled(house, 2.0).ventilation_conductance / house.ventilation_conductance
    2.0
    """
    leaks = house.leakage
    return replace(
        house,
        opaque_conductance=house.opaque_conductance * factor,
        window_conductance=house.window_conductance * factor,
        ventilation_conductance=house.ventilation_conductance * factor,
        recovered_conductance=house.recovered_conductance * factor,
        leakage=leaks and replace(leaks, area=leaks.area * factor),
    )


def calibrate(
    house: House, bill: FuelBill, annual_need: Callable[[House], float], tolerance: float = 2e-5
) -> Calibration:
    """Return the house whose simulated need equals the bill.

    Parameters
    ----------
    house : the house to start from
    bill : the fuel of a year
    annual_need : a year's heating need of a house in this climate [kWh]
    tolerance : on the need, relative [-]

    Returns
    -------
    Calibration

    Raises
    ------
    InputError
        No factor in the accepted range gives the bill; the line says what the ends give.

    Source: root finding on a need that rises with the losses; bracketed, so it cannot run away.

    >>> from simengine.house.presets import standard
    >>> bill = FuelBill(20_000.0, efficiency=0.8, hot_water_share=0.2)
    >>> found = calibrate(standard(140.0), bill, lambda h: 50.0 * h.window_conductance)
    >>> round(found.need), round(found.target)
    (12800, 12800)
    """
    target = bill.space_heat
    runs = 0

    def excess(factor: float) -> float:
        nonlocal runs
        runs += 1
        return annual_need(scaled(house, factor)) / target - 1.0

    factor, last = find_root(excess, *_bracket(house, excess, target), tolerance)
    return Calibration(
        scaled(house, factor), factor, (last + 1.0) * target, target, runs, _assumptions(house, bill, factor)
    )


def find_root(
    function: Callable[[float], float],
    low: tuple[float, float],
    high: tuple[float, float],
    tolerance: float,
) -> tuple[float, float]:
    """Return where a function that changes sign is zero.

    Parameters
    ----------
    function : continuous, of one number
    low : a point below the root and the value there
    high : a point above the root and the value there
    tolerance : size of the value at which to stop

    Returns
    -------
    the point and the value there

    Raises
    ------
    RangeError
        The two ends have the same sign.

    Source: regula falsi with the Illinois change, from memory of Dowell and Jarratt 1971; the root
    stays bracketed. Every fourth step halves the bracket.

    >>> x, _ = find_root(lambda x: x * x - 2.0, (0.0, -2.0), (4.0, 14.0), 1e-9)
    >>> round(x, 6)
    1.414214
    """
    (a, value_a), (b, value_b) = low, high
    if value_a * value_b > 0.0:
        raise RangeError("root: the function has the same sign at both ends")
    best = min(low, high, key=lambda point: abs(point[1]))
    for step in range(1, 101):
        if abs(best[1]) <= tolerance or a == b:
            break
        middle = 0.5 * (a + b) if step % 4 == 0 else (a * value_b - b * value_a) / (value_b - value_a)
        value = function(middle)
        best = min(best, (middle, value), key=lambda point: abs(point[1]))
        if value * value_b < 0.0:
            a, value_a = b, value_b
        else:
            value_a *= 0.5
        b, value_b = middle, value
    return best


def _bracket(
    house: House, excess: Callable[[float], float], target: float
) -> tuple[tuple[float, float], tuple[float, float]]:
    low = high = (1.0, excess(1.0))
    while low[1] > 0.0 and low[0] > FACTORS[0]:
        high, low = low, _point(excess, max(low[0] / 2.0, FACTORS[0]))
    while high[1] < 0.0 and high[0] < FACTORS[1]:
        low, high = high, _point(excess, min(high[0] * 2.0, FACTORS[1]))
    if low[1] > 0.0 or high[1] < 0.0:
        end, value = low if low[1] > 0.0 else high
        raise InputError(
            f"fuel bill: {target:.0f} kWh/a of space heat; house '{house.name:.80}' needs "
            f"{(value + 1.0) * target:.0f} kWh/a even with its losses times {end:g}; accepted: a bill that "
            f"a factor from {FACTORS[0]:g} to {FACTORS[1]:g} can meet (is the floor area right?)"
        )
    return low, high


def _point(function: Callable[[float], float], factor: float) -> tuple[float, float]:
    return factor, function(factor)


def _assumptions(house: House, bill: FuelBill, factor: float) -> tuple[str, ...]:
    fuel = f" ({bill.words})" if bill.words else ""
    beside: tuple[str, ...] = ()
    if bill.heating_share < 1.0:
        beside = (f"this fuel makes {bill.heating_share:.0%} of the rooms' heat, other heaters the rest",)
    return (
        f"fuel of {bill.fuel_heat:.0f} kWh a year{fuel}, burnt at {bill.efficiency:.0%}",
        f"{bill.hot_water_share:.0%} of the useful heat is hot water, with and without the collector",
        *beside,
        f"one factor, {factor:.3f}, on walls, roof, floor, windows and air change of house '{house.name}'",
        "floor area, mass, windows' sun, internal gains and setpoints stay as they were",
        "the year of the bill was like the weather file's year",
    )
