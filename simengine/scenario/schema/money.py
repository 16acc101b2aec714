"""Fuel, prices and rates."""

import datetime
from collections.abc import Iterator
from typing import Annotated, ClassVar

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.fields import Of, Pairs, PerUnit, Sum
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Day, Flag, Key, Words
from simengine.units import KINDS, Amount, Price, Quantity

Rate = Annotated[float, Of("percent_per_year", "-20 %", "50 %", "a yearly rate; 3 % is 0.03")]
Years = Annotated[float, Of("years", "1 years", "60 years", "whole years")]
Money = Annotated[Amount, Sum()]
Tariff = Annotated[Price, PerUnit()]
Emission = Annotated[float, Of("emission_factor", "0 kg/kWh", "2 kg/kWh", "carbon dioxide per heat content")]
Efficiency = Annotated[
    float, Of("fraction", "0.05", "8", "stove to heat pump; above 1.1 for a heat pump only")
]

_COP = Pairs(Of("temperature", "-60 degC", "50 degC", "outdoors"), Of("fraction", "0.5", "10", "a heat pump"))


def unit_of_sale(amount: Quantity, fuel: str) -> str | None:
    """Return a unit in which the fuel is sold and that measures the same kind as an amount."""
    sold = choices.fuel_keys()[fuel].units()
    return next((name for name in KINDS[amount.kind].by_name if name in sold), None)


class Heating(Section):
    """What heats the house now."""

    about: ClassVar[str] = "What heats the house now, and what its fuel costs."
    fuel: Annotated[str, Key("fuel", choices.fuel_keys)] = Field(description="key of the fuel table")
    efficiency: Efficiency = Field(
        description="useful heat over heat content, a season's mean; a heat pump's COP"
    )
    basis: Annotated[str, Key("basis", lambda: ("higher", "lower"))] = usual(
        "higher", description="heating value that the efficiency counts on: higher in the US, lower in Europe"
    )
    price: Tariff | None = Field(None, description="per unit sold")
    price_date: Annotated[datetime.date, Day()] | None = Field(None, description="when that price held")
    price_place: Annotated[str, Words(100)] = usual("", description="where that price held")
    invented: Annotated[bool, Flag()] = usual(False, description="the price is made up for an example")
    emission_factor: Emission | None = Field(None, description="where it differs from the fuel table's")
    cop_by_outdoor_temperature: Annotated[tuple[tuple[float, float], ...], _COP] | None = Field(
        None, description="a heat pump's COP as pairs of outdoor temperature and COP; replaces efficiency"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.price is not None and self.price_date is None:
            yield fault("a price without a date says little", "price with price_date = 2026-05-01", "price")
        if self.price is not None and self.price.unit not in choices.fuel_keys()[self.fuel].units():
            units = ", ".join(choices.fuel_keys()[self.fuel].units())
            yield fault(f"{self.fuel} is not sold by the {self.price.unit}", f"a price per {units}", "price")
        if self.efficiency > 1.1 and self.fuel != "electricity":
            yield fault(
                f"an efficiency of {self.efficiency:g} for {self.fuel}", "up to 1.1; more is a heat pump's"
            )
        if self.cop_by_outdoor_temperature is not None:
            steps = [temperature for temperature, _ in self.cop_by_outdoor_temperature]
            if not steps or steps != sorted(set(steps)) or self.fuel != "electricity":
                yield fault(
                    "the COP pairs make no curve",
                    "rising temperatures, with fuel electricity",
                    "cop_by_outdoor_temperature",
                )


class Electricity(Section):
    """What the fan's electricity costs."""

    about: ClassVar[str] = "What electricity for the fan costs."
    price: Tariff | None = Field(None, description="per kWh")
    price_date: Annotated[datetime.date, Day()] | None = Field(None, description="when that price held")
    price_place: Annotated[str, Words(100)] = usual("", description="where that price held")
    invented: Annotated[bool, Flag()] = usual(False, description="the price is made up for an example")
    emission_factor: Emission | None = Field(None, description="of the local grid")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        units = choices.fuel_keys()["electricity"].units()
        if self.price is not None and self.price.unit not in units:
            yield fault(
                f"electricity is not sold by the {self.price.unit}", f"a price per {', '.join(units)}"
            )
        if self.price is not None and self.price_date is None:
            yield fault("a price without a date says little", "price with price_date = 2026-05-01", "price")


class Economics(Section):
    """First cost, lives and rates."""

    about: ClassVar[str] = "First cost, lives and rates. Cash flows fall at the end of each year."
    first_cost: Money | None = Field(None, description="of the collector, built and working")
    grant: Money | None = Field(None, description="received with the first cost")
    upkeep: Money | None = Field(None, description="per year")
    fan_cost: Money | None = Field(None, description="of one replacement of the fan")
    residual_value: Money | None = Field(None, description="at the end of the study")
    life: Years = usual("20 years", description="of the collector")
    fan_life: Years = usual("10 years", description="of the fan")
    study_period: Years = usual("20 years", description="over which costs and savings are counted")
    discount_rate: Rate = usual("3 %", description="what money is worth a year later")
    basis: Annotated[str, Key("basis", lambda: ("real", "nominal"))] = usual(
        "real", description="real: rates above inflation; nominal: rates that contain it"
    )
    inflation: Rate = usual("0 %", description="for basis nominal only")
    fuel_escalation: Rate = usual("0 %", description="yearly rise of the fuel price")
    electricity_escalation: Rate = usual("0 %", description="yearly rise of the electricity price")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        for name in ("life", "fan_life", "study_period"):
            if not float(getattr(self, name)).is_integer():
                yield fault("is no whole number of years", 'e.g. "20 years"', name)
        if self.basis == "real" and self.inflation != 0.0:
            yield fault(
                "inflation belongs to the nominal basis only", 'inflation with basis = "nominal"', "inflation"
            )
