"""Units at the door: text with a unit becomes one SI number, and an SI number becomes text again."""

from simengine.units.kinds import Kind, Unit, quote
from simengine.units.money import CURRENCIES, SOLD_BY, Amount, Price, format_price, parse_money, parse_price
from simengine.units.parse import Quantity, parse, parse_one_of
from simengine.units.show import System, format_si, plain_number, shown_unit, to_unit
from simengine.units.table import KINDS

__all__ = [
    "CURRENCIES",
    "KINDS",
    "SOLD_BY",
    "Amount",
    "Kind",
    "Price",
    "Quantity",
    "System",
    "Unit",
    "format_price",
    "format_si",
    "parse",
    "parse_money",
    "parse_one_of",
    "parse_price",
    "plain_number",
    "quote",
    "shown_unit",
    "to_unit",
]
