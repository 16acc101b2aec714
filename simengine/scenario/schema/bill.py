"""A year's fuel bill, which the user's own house is scaled to."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema.fields import Of, OneOf
from simengine.scenario.schema.fuels import BasisKey, FuelKey
from simengine.scenario.schema.heating import Efficiency
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Words
from simengine.units import Quantity

FuelAmount = Annotated[Quantity, OneOf(("volume", "energy", "mass"), "an amount of fuel")]
HotWater = Annotated[float, Of("fraction", "0", "0.9", "of the useful heat")]


class Bill(Section):
    """A year's fuel bill of your house: its losses are scaled until a year in this weather needs it."""

    amount: FuelAmount = Field(description="fuel used in a year")
    fuel: Annotated[str, FuelKey()] | None = Field(None, description="left out: that of the main heater")
    efficiency: Efficiency | None = Field(
        None, description="of the burner, a year's mean; left out: that of the heater with this fuel"
    )
    basis: BasisKey | None = Field(None, description="of that efficiency; left out: that of the heater")
    hot_water: FuelAmount | None = Field(None, description="part of the amount that makes hot water")
    hot_water_share: HotWater | None = Field(None, description="the same as a share of the amount")
    source: Annotated[str, Words(200)] = usual("", description="which year, whose bill")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        water = self.hot_water
        if water is not None and self.hot_water_share is not None:
            yield fault("the hot water is given twice", "hot_water or hot_water_share", "hot_water_share")
        if water is not None and water.kind != self.amount.kind:
            yield fault(f"is a {water.kind}, but the amount is a {self.amount.kind}", "the same", "hot_water")
        elif water is not None and water.value > 0.9 * self.amount.value:
            yield fault("hot water takes nearly all of the amount", "at most 0.9 of it", "hot_water")
        if self.basis is not None and self.efficiency is None:
            yield fault("belongs to an efficiency", "efficiency besides", "basis")
