"""From saved heat to fuel, money and payback."""

from simengine.economics.bill_of_materials import Bill, Part, bill_of_materials
from simengine.economics.fuels import FUELS, Fuel, fuel_named, heat_per_unit
from simengine.economics.money import money_ledger
from simengine.economics.payback_table import payback_table
from simengine.economics.spec import FuelUse, HeatSaved, HourlyHeat, Line, Money

__all__ = [
    "FUELS",
    "Bill",
    "Fuel",
    "FuelUse",
    "HeatSaved",
    "HourlyHeat",
    "Line",
    "Money",
    "Part",
    "bill_of_materials",
    "fuel_named",
    "heat_per_unit",
    "money_ledger",
    "payback_table",
]
