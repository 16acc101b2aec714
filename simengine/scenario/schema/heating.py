"""What heats the house: one heater or several, each with its fuel and its price."""

import datetime
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema

from simengine.scenario.schema import choices
from simengine.scenario.schema.dates import Day
from simengine.scenario.schema.fields import Of, Pairs
from simengine.scenario.schema.fuels import BasisKey, Emission, FuelKey
from simengine.scenario.schema.reading import Fault, JsonSchema, Section, fault, usual
from simengine.scenario.schema.sums import PerUnit
from simengine.scenario.schema.texts import Flag, Words
from simengine.units import Price

Rate = Annotated[
    float,
    Of(
        "percent_per_year",
        "-20 %",
        "50 %",
        "a yearly rate; 3 % is 0.03",
        usual=("-3 %", "12 %"),
        beyond="over twenty years it makes costs vanish or explode",
    ),
]
Tariff = Annotated[Price, PerUnit()]
Efficiency = Annotated[
    float,
    Of(
        "fraction",
        "0.05",
        "8",
        "stove to heat pump; above 1.1 for a heat pump only",
        usual=("0.3", "5"),
        beyond="an open fire to a good heat pump lie between",
    ),
]

_COP = Pairs(Of("temperature", "-60 degC", "50 degC", "outdoors"), Of("fraction", "0.5", "10", "a heat pump"))
_LOAD = Pairs(Of("fraction", "0", "1", "of full load"), Of("fraction", "0.05", "1.2", "a boiler"))
_MOST = 1.1  # efficiency on the lower heating value of a condensing boiler


class Heating(Section):
    """What heats the house now, and what its fuel costs: one [heating] table, or [[heating]] for each of
    several heaters that share the heat."""

    name: Annotated[str, Words(40)] = usual("", description="what you call it")
    fuel: Annotated[str, FuelKey()] = Field(description="key of the fuel table, or of your own fuels")
    share: Annotated[float, Of("fraction", "0", "1", "of the useful heat")] | None = Field(
        None, description="of the useful heat, the same in every hour; left out at one heater: the rest"
    )
    efficiency: Efficiency | None = Field(
        None, description="useful heat over heat content, a season's mean; a heat pump's COP"
    )
    basis: BasisKey = usual(
        "higher", description="heating value that the efficiency counts on: higher in the US, lower in Europe"
    )
    price: Tariff | None = Field(
        None, description="per unit sold; electric heat without one pays what [electricity] says"
    )
    price_date: Annotated[datetime.date, Day()] | None = Field(None, description="when that price held")
    price_place: Annotated[str, Words(100)] = usual("", description="where that price held")
    invented: Annotated[bool, Flag()] = usual(False, description="the price is made up for an example")
    escalation: Rate | None = Field(
        None, description="yearly rise of this price, in the place of the one in [economics]"
    )
    emission_factor: Emission | None = Field(None, description="where it differs from the fuel table's")
    cop_by_outdoor_temperature: Annotated[tuple[tuple[float, float], ...], _COP] | None = Field(
        None,
        description="a heat pump's COP as pairs of outdoor temperature and COP, hour by hour: straight lines "
        "between the points, held beyond them; replaces efficiency",
    )
    efficiency_by_load: Annotated[tuple[tuple[float, float], ...], _LOAD] | None = Field(
        None, description="pairs of load over full load, and efficiency there; replaces efficiency"
    )
    full_load: Annotated[float, Of("power", "500 W", "1000 kW", "a heater")] | None = Field(
        None, description="useful output that load 1 means; left out, the largest need of the year"
    )
    idle_share: Annotated[float, Of("fraction", "0", "0.5", "of a warm boiler")] = usual(
        0.0,
        "share of its full-load fuel that a warm boiler burns without any load; efficiency is then that at "
        "full load",
    )

    @property
    def line(self) -> str:
        """Name of the line that takes the place of the efficiency, empty where there is none."""
        lines = ("cop_by_outdoor_temperature", "efficiency_by_load")
        return next((name for name in lines if getattr(self, name) is not None), "")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.price is not None and self.price_date is None:
            yield fault("a price without a date says little", "price with price_date = 2026-05-01", "price")
        known = choices.fuel_keys().get(self.fuel)
        if self.price is not None and known is not None and self.price.unit not in known.units():
            yield unsold(self.fuel, self.price.unit, known.units())
        if (self.efficiency or 0.0) > _MOST and self.fuel != "electricity":
            yield fault(
                f"an efficiency of {self.efficiency:g} for {self.fuel}", "up to 1.1; more is a heat pump's"
            )
        if self.efficiency is None and not self.line:
            wrong = "is missing; how much of the fuel becomes heat is not known"
            yield fault(wrong, "efficiency = 0.8, or a COP or efficiency as pairs", "efficiency")
        yield from self._lines()

    def _lines(self) -> Iterator[Fault]:
        cop, load = self.cop_by_outdoor_temperature, self.efficiency_by_load
        if cop is not None and (not _rising(cop) or self.fuel != "electricity"):
            yield fault(
                "the COP pairs make no curve",
                "rising temperatures, with fuel electricity",
                "cop_by_outdoor_temperature",
            )
        if load is not None and (not _rising(load) or cop is not None or self.idle_share > 0.0):
            accepted = "rising loads, without cop_by_outdoor_temperature and idle_share"
            yield fault("the efficiencies by load make no curve", accepted, "efficiency_by_load")
        if self.full_load is not None and load is None:
            yield fault("serves efficiency_by_load alone", "efficiency_by_load besides", "full_load")


def unsold(fuel: str, unit: str, units: tuple[str, ...]) -> Fault:
    """Return the fault of a price in a unit that the fuel is not sold by.

    Parameters
    ----------
    fuel : its key
    unit : the unit that was written
    units : those that it is sold by
    """
    return fault(f"{fuel} is not sold by the {unit}", f"a price per {', '.join(units)}", "price")


def _rising(pairs: tuple[tuple[float, float], ...]) -> bool:
    steps = [step for step, _ in pairs]
    return bool(steps) and steps == sorted(set(steps))


@dataclass(frozen=True, slots=True)
class OneOrMore:
    """Lets a list of tables be written as one table."""

    one_table: bool = True

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def listed(value: Any) -> Any:
            return [value] if isinstance(value, dict) else value

        return core_schema.no_info_before_validator_function(listed, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchema:
        several = handler(schema)
        return {"anyOf": [several["items"], several]}
