"""What a build is made of, and what its parts cost."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import Field

from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.reading import (
    Fault,
    JsonSchema,
    Reader,
    Section,
    describe,
    fault,
    plain_number_of,
    refuse,
    usual,
)
from simengine.scenario.schema.sums import Sum
from simengine.scenario.schema.texts import Words
from simengine.units import Amount

MOST = 1.0e6


@dataclass(frozen=True, slots=True)
class Count(Reader):
    """How many of something: a plain number of 0 or more."""

    EXAMPLE: ClassVar[str] = "2"
    ACCEPTS: ClassVar[str] = "a plain number, 0 or more"
    SCHEMA: ClassVar[JsonSchema] = {"type": "number", "minimum": 0, "maximum": MOST}

    def read(self, value: Any) -> float:
        """Return the number."""
        number = plain_number_of(value)
        if number is None or not 0.0 <= number <= MOST:
            raise refuse(f"{describe(value)} where a count is due", "a plain number, 0 to 1000000, e.g. 2.5")
        return number


class Part(Section):
    """A part of the build; repeat for each. Together they make the first cost, instead of first_cost. A part
    at hand has the price 0."""

    name: Annotated[str, Words(80)] = Field(description="what it is")
    quantity: Annotated[float, Count()] = usual(1, description="how many units")
    unit: Annotated[str, Words(20)] = usual("piece", description="what one of them is: piece, m2, ft")
    price: Annotated[Amount, Sum()] | None = Field(
        None, description="of one unit; left out, it is not known, and neither is the first cost"
    )
    life: Annotated[float, Of("years", "1 years", "60 years", "whole years")] | None = Field(
        None, description="after which it is bought again; left out, as long as the collector"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.life is not None and not float(self.life).is_integer():
            yield fault("is no whole number of years", 'e.g. "20 years"', "life")
