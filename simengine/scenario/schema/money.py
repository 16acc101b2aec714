"""First cost, lives and rates."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.heating import Rate
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.sums import Sum
from simengine.scenario.schema.texts import Key
from simengine.units import Amount

Years = Annotated[
    float,
    Of(
        "years",
        "1 years",
        "60 years",
        "whole years",
        usual=("3 years", "40 years"),
        beyond="a box of wood and glass lasts 10 to 30 years",
    ),
]
Money = Annotated[Amount, Sum()]


class Economics(Section):
    """First cost, lives and rates. Cash flows fall at the end of each year."""

    first_cost: Money | None = Field(
        None, description="of the collector, built and working; or list its parts in [[parts]]"
    )
    grant: Money | None = Field(None, description="received with the first cost")
    upkeep: Money | None = Field(None, description="per year")
    fan_cost: Money | None = Field(
        None, description="of one replacement of the fan; or give the fan in [[parts]] a life"
    )
    residual_value: Money | None = Field(None, description="at the end of the study")
    life: Years = usual("20 years", description="of the collector")
    fan_life: Years = usual("10 years", description="of the fan")
    study_period: Years = usual("20 years", description="over which costs and savings are counted")
    discount_rate: Rate = usual("3 %", description="what money is worth a year later")
    basis: Annotated[str, Key("basis", lambda: ("real", "nominal"))] = usual(
        "real", description="real: rates above inflation; nominal: rates that contain it"
    )
    inflation: Rate = usual("0 %", description="for basis nominal only")
    fuel_escalation: Rate = usual("0 %", description="yearly rise of fuel prices but electricity's")
    electricity_escalation: Rate = usual(
        "0 %", description="yearly rise of the electricity price, also for electric heat"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        for name in ("life", "fan_life", "study_period"):
            if not float(getattr(self, name)).is_integer():
                yield fault("is no whole number of years", 'e.g. "20 years"', name)
        if self.basis == "real" and self.inflation != 0.0:
            yield fault(
                "inflation belongs to the nominal basis only", 'inflation with basis = "nominal"', "inflation"
            )
