"""The page's tables about money: what the build is made of, each fuel, payback against price and cost."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from simengine.report import shown
from simengine.report.words import house_name, printable, sentence
from simengine.units import plain_number

House = Mapping[str, Any]
Rows = list[list[str]]


@dataclass(frozen=True, slots=True)
class Table:
    """One table of text."""

    title: str
    heads: list[str]
    rows: Rows
    remark: str = ""


def money_tables(houses: Mapping[str, House]) -> list[Table]:
    """Return the tables of a run, none where nothing is known.

    Parameters
    ----------
    houses : the summary's blocks by house
    """
    tables = [table for house in list(houses.values())[:1] for table in _parts(house)]
    for name, house in houses.items():
        tables += _fuels(name, house)
    for name, house in houses.items():
        tables += _paybacks(name, house)
    return tables


def _parts(house: House) -> list[Table]:
    parts = (house.get("economics") or {}).get("parts")
    if not parts:
        return []
    currency = str(house["fuel"].get("currency") or "")
    rows = [
        [
            printable(str(part["name"])),
            _count(part["quantity"], str(part["unit"])),
            _sum(part["unit_price"], currency),
            _sum(part["cost"], currency),
            "as the collector" if part["life"] is None else f"{part['life']} years",
        ]
        for part in parts
    ]
    whole = house["economics"].get("first_cost")
    rows.append(["together", "", "", _sum(whole, currency), ""])
    return [Table("What the build is made of", ["Part", "Quantity", "Each", "Cost", "Lasts"], rows)]


def _count(quantity: float, unit: str) -> str:
    number = plain_number(quantity)
    return number if unit == "piece" else f"{number} {printable(unit)}"


def _fuels(name: str, house: House) -> list[Table]:
    fuels = house.get("fuels") or []
    if len(fuels) < 2:
        return []
    rows = [
        [
            printable(str(fuel["heater"])),
            shown.share(fuel["share"]),
            shown.amount(fuel["saved"], str(fuel["unit"])),
            _sum(fuel["money_saved"], str(house["fuel"]["currency"])),
        ]
        for fuel in fuels
    ]
    title = f"Saved by each heater: {house_name(name)}"
    return [Table(title, ["Heater", "Share of the heat", "Saved a year", "Money"], rows)]


def _paybacks(name: str, house: House) -> list[Table]:
    table = (house.get("economics") or {}).get("payback_table")
    if not table:
        return []
    currency, unit = str(house["fuel"]["currency"]), str(table["price_unit"])
    rows = [
        [f"{price:.4g} {unit}", *("never" if years is None else shown.years(years) for years in cells)]
        for price, cells in zip(table["price"], table["simple_payback_a"], strict=True)
    ]
    heads = ["Fuel price", *(shown.money(cost, currency) for cost in table["first_cost"])]
    remark = "Simple payback; the other figures of the run stay. Never: the first year saves nothing."
    return [Table(f"Payback against fuel price and first cost: {house_name(name)}", heads, rows, remark)]


def _sum(value: float | None, currency: str) -> str:
    if value is None:
        return "not known"
    return "nothing" if value == 0.0 else sentence(shown.money(value, currency))
