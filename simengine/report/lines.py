"""The lines of the year's table, once for the screen and for the page."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from simengine.nomenclature import QUANTITIES
from simengine.report import shown
from simengine.report.money_notes import money_notes
from simengine.report.shown import Shown
from simengine.report.words import house_name, printable, sentence
from simengine.results.settle import reason_key

House = Mapping[str, Any]
MISSING = "–"


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the table: what it is called, and how a house's number is written."""

    group: str
    label: str
    block: str  # "" for the house itself, else "fuel" or "economics"
    key: str
    write: Callable[[float, House, Shown], str]
    always: bool = True  # else it is left out where it is zero or missing in every house
    screen: bool = True  # else it is on the page alone, so that the screen holds the rest

    @property
    def meaning(self) -> str:
        """What the nomenclature says about this number."""
        quantity = QUANTITIES.get(self.key)
        return quantity.long_name if quantity else ""

    def number(self, house: House) -> float | None:
        """Return the number of a house, None where it could not be had."""
        value = self._block(house).get(self.key)
        return None if value is None else float(value)

    def cell(self, house: House, units: Shown) -> str:
        """Return the text of a house's cell."""
        value = self.number(house)
        return MISSING if value is None else printable(self.write(value, house, units))

    def reason(self, house: House) -> str:
        """Return why a number is missing; empty where it is there."""
        if self.number(house) is not None:
            return ""
        block = self._block(house)
        said = block.get(reason_key(self.key)) or block.get(f"{self.key}_reason") or "not known"
        return printable(str(said))

    def _block(self, house: House) -> House:
        block = house.get(self.block) if self.block else house
        return block if isinstance(block, Mapping) else {}


def _heat(value: float, _: House, units: Shown) -> str:
    return units.heat(value)


def _yield(value: float, _: House, units: Shown) -> str:
    return units.per_area(value)


def _temperature(value: float, _: House, units: Shown) -> str:
    return units.temperature(value)


def _mass(value: float, _: House, units: Shown) -> str:
    return units.mass(value)


def _share(value: float, _: House, __: Shown) -> str:
    return shown.share(value)


def _hours(value: float, _: House, __: Shown) -> str:
    return f"{shown.whole(value)} h"


def _years(value: float, _: House, __: Shown) -> str:
    return shown.years(value)


def _electricity(value: float, _: House, units: Shown) -> str:
    return units.electricity(value)


def _count(value: float, _: House, __: Shown) -> str:
    return shown.whole(value)


def _fuel(value: float, house: House, _: Shown) -> str:
    return shown.amount(value, str(house["fuel"].get("unit") or ""))


def _money(value: float, house: House, _: Shown) -> str:
    return shown.money(value, currency(house))


def _ratio(value: float, _: House, __: Shown) -> str:
    return f"{value:.2f}"


def currency(house: House) -> str:
    """Return the currency of a house's money, empty where none is known."""
    fuel = house.get("fuel")
    return str(fuel.get("currency") or "") if isinstance(fuel, Mapping) else ""


LINES = (
    Line("Heat in a year", "Sun on the aperture", "", "incident_kwh", _heat),
    Line("Heat in a year", "Brought in by warm air", "", "delivered_kwh", _heat),
    Line("Heat in a year", "  per area of the opening", "", "delivered_kwh_m2", _yield),
    Line(
        "Heat in a year", "Own ventilation loss replaced", "", "ventilation_replaced_kwh", _heat, always=False
    ),
    Line("Heat in a year", "Need without collector", "", "heating_without_kwh", _heat),
    Line("Heat in a year", "  per floor area", "", "heating_without_kwh_m2", _yield),
    Line("Heat in a year", "Heating saved", "", "offset_kwh", _heat),
    Line("Heat in a year", "  share of the need", "", "solar_fraction", _share),
    Line("Heat in a year", "  share of what came in", "", "useful_share", _share),
    Line("How it ran", "Efficiency", "", "efficiency", _share),
    Line("How it ran", "Fan runs", "", "fan_hours", _hours),
    Line("How it ran", "Air moves by itself", "", "passive_hours", _hours, always=False),
    Line("How it ran", "Fan electricity", "", "fan_kwh", _electricity),
    Line("How it ran", "Fan starts", "", "fan_starts", _count),
    Line("How it ran", "Warmest supply air", "", "peak_supply_c", _temperature),
    Line("How it ran", "Lost at night through the loop", "", "night_loss_kwh", _heat),
    Line("How it ran", "Opening and wall (- is a gain)", "", "opening_loss_kwh", _heat),
    Line("How it ran", "More hours too warm", "", "overheating_hours_added", _hours),
    Line("How it ran", "  vented for it", "", "vented_added_kwh", _heat, screen=False),
    Line("How it ran", "Kept out by limit or season", "", "held_back_kwh", _heat, screen=False),
    Line("Money", "Fuel saved", "fuel", "saved", _fuel),
    Line("Money", "Saved a year, fan paid", "fuel", "net_saving", _money),
    Line("Money", "First cost", "economics", "first_cost", _money),
    Line("Money", "Simple payback", "economics", "simple_payback_a", _years),
    Line("Money", "Discounted payback", "economics", "discounted_payback_a", _years),
    Line("Money", "Net present value", "economics", "npv", _money),
    Line("Money", "Saving to investment", "economics", "saving_to_investment", _ratio, screen=False),
    Line("Money", "Internal rate of return", "economics", "irr", _share, screen=False),
    Line("Money", "Cost of a kWh of saved heat", "economics", "levelised_heat_cost", _money, screen=False),
    Line("Money", "Break-even fuel price", "economics", "break_even_price", _money, screen=False),
    Line("Money", "CO2 saved a year", "", "co2_saved_kg", _mass),
)
"""Every line of the table, in its order."""


def lines_of(houses: Iterable[House], screen: bool = False) -> list[Line]:
    """Return the lines that have something to say about these houses, on the page or on the screen."""
    seen, lines = list(houses), [line for line in LINES if line.screen or not screen]
    return [line for line in lines if line.always or any(line.number(house) for house in seen)]


def reasons(houses: Mapping[str, House], screen: bool = False) -> list[str]:
    """Return one sentence for every number of the table that could not be had, houses put together."""
    told: dict[tuple[str, str], list[str]] = {}
    for line in lines_of(houses.values(), screen):
        for name, house in houses.items():
            if reason := line.reason(house):
                told.setdefault((line.label.strip(), reason), []).append(house_name(name))
    return [sentence(f"{label} ({', '.join(names)}): {reason}") for (label, reason), names in told.items()]


def notes(houses: Mapping[str, House]) -> list[str]:
    """Return what has to be known about the money, each note once: fuel, price, date, and more."""
    return [sentence(printable(note)) for note in money_notes(houses)]
