"""Money in a scenario: a sum with its currency, and a price per unit."""

from dataclasses import dataclass
from typing import Any, ClassVar

from simengine.scenario.schema.reading import JsonSchema, Reader, describe, refuse
from simengine.units import Amount, Price, parse_money, parse_price, quote


@dataclass(frozen=True, slots=True)
class Sum(Reader):
    """Money with its currency."""

    low: float = 0.0

    EXAMPLE: ClassVar[str] = '"2400 USD"'
    ACCEPTS: ClassVar[str] = "money with its currency"
    SCHEMA: ClassVar[JsonSchema] = {"type": "string", "maxLength": 64, "examples": ["2400 USD"]}

    def read(self, value: Any) -> Amount:
        """Return an `Amount`."""
        if not isinstance(value, str):
            raise refuse(f"{describe(value)} where money is due", 'a sum with its currency, e.g. "2400 USD"')
        amount = parse_money(value)
        if amount.value < self.low:
            raise refuse(f"{quote(value)} is below zero", "zero or more")
        return amount


@dataclass(frozen=True, slots=True)
class PerUnit(Reader):
    """A price per unit of energy, volume or mass."""

    EXAMPLE: ClassVar[str] = '"2.79 USD/gal"'
    ACCEPTS: ClassVar[str] = "a price per unit of energy, volume or mass"
    SCHEMA: ClassVar[JsonSchema] = {"type": "string", "maxLength": 64, "examples": ["2.79 USD/gal"]}

    def read(self, value: Any) -> Price:
        """Return a `Price`."""
        if not isinstance(value, str):
            raise refuse(f"{describe(value)} where a price is due", 'a price per unit, e.g. "2.79 USD/gal"')
        price = parse_price(value)
        if price.value < 0.0:
            raise refuse(f"{quote(value)} is below zero", "zero or more")
        return price
