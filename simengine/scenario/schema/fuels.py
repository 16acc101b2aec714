"""The user's own fuels, and the reader of a fuel's name that knows them."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import Field, GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from simengine.errors import InputError
from simengine.scenario.schema import choices
from simengine.scenario.schema.dates import Day
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.reading import (
    Fault,
    JsonSchema,
    Reader,
    Section,
    fault,
    nearest,
    refuse,
    usual,
)
from simengine.scenario.schema.texts import Flag, Key, Words
from simengine.units import KINDS, SOLD_BY, quote
from simengine.units.factors import KWH

if TYPE_CHECKING:
    from simengine.economics.fuels import Fuel


Emission = Annotated[float, Of("emission_factor", "0 kg/kWh", "2 kg/kWh", "carbon dioxide per heat content")]
BasisKey = Annotated[str, Key("basis", lambda: ("higher", "lower"))]


def sale_units() -> tuple[str, ...]:
    """Return every unit that a fuel may be sold in."""
    return tuple(dict.fromkeys(unit.name for kind in SOLD_BY for unit in KINDS[kind].units))


def own_names(data: Any) -> tuple[str, ...]:
    """Return the names of the fuels that a raw scenario describes itself."""
    listed = data.get("fuels") if isinstance(data, dict) else None
    items = listed if isinstance(listed, list) else []
    return tuple(str(item["name"]) for item in items if isinstance(item, dict) and "name" in item)


@dataclass(frozen=True, slots=True)
class FuelKey(Reader):
    """A fuel of the table, or one of the scenario's own."""

    def read(self, value: Any, own: tuple[str, ...] = ()) -> str:
        """Return the name."""
        names = (*choices.fuel_keys(), *own)
        if not isinstance(value, str) or value not in names:
            raise refuse(f"{quote(value)} is no fuel{nearest(str(value), names)}", ", ".join(names))
        return value

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return f'"{next(iter(choices.fuel_keys()))}"'

    def accepts(self) -> str:
        """Say in words what may be written."""
        return f"one of {', '.join(choices.fuel_keys())}; or the name of one of `[[fuels]]`"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        return {
            "anyOf": [
                {"type": "string", "enum": list(choices.fuel_keys())},
                {"type": "string", "maxLength": 40},
            ]
        }

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        def read(value: Any, info: core_schema.ValidationInfo) -> str:
            try:
                return self.read(value, tuple((info.context or {}).get("fuels", ())))
            except InputError as error:
                raise refuse(error.problems[0]) from None

        return core_schema.with_info_plain_validator_function(read)


class OwnFuel(Section):
    """A fuel that is not in the table; repeat for each. Its price stands with the heater."""

    name: Annotated[str, Words(40)] = Field(description="what heaters call it")
    unit: Annotated[str, Key("unit of sale", sale_units)] = Field(description="that it is sold in")
    heat_content: Annotated[float, Of("energy", "0.01 kWh", "20 MWh", "one unit of a fuel", "4.1 kWh")] = (
        Field(description="of one unit")
    )
    basis: BasisKey = usual("higher", description="heating value that the heat content is")
    lower_to_higher: Annotated[float, Of("fraction", "0.6", "1", "water in the flue gas")] | None = Field(
        None, description="lower over higher heating value; due where a heater counts on the other one"
    )
    emission_factor: Emission | None = Field(None, description="carbon dioxide, on the basis of heat_content")
    biogenic: Annotated[bool, Flag()] = usual(False, description="its carbon was taken from the air")
    source: Annotated[str, Words(300)] = Field(description="where these figures are from")
    date: Annotated[Any, Day()] = Field(description="of that source")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.name in choices.fuel_keys():
            yield fault(f"{quote(self.name)} is a fuel of the table already", "another name", "name")
        if not self.source.strip():
            yield fault("a heat content without a source says little", "where it is from", "source")

    def as_fuel(self) -> "Fuel":
        """Return it as a line of the fuel table."""
        from simengine.economics.fuels import Fuel

        ratio = 1.0 if self.lower_to_higher is None else self.lower_to_higher
        to_higher = 1.0 if self.basis == "higher" else 1.0 / ratio
        kind = next(kind for kind in SOLD_BY if self.unit in KINDS[kind].by_name)
        units = KINDS[kind].by_name
        others = {name: unit.factor / units[self.unit].factor for name, unit in units.items()}
        emitted = None if self.emission_factor is None else self.emission_factor * KWH / to_higher
        return Fuel(
            key=self.name,
            name=self.name,
            unit=self.unit,
            heat_content=self.heat_content / KWH * to_higher,
            lower_to_higher=ratio,
            emission_factor=emitted,
            source=self.source,
            date=str(self.date),
            other_units=tuple((name, size) for name, size in others.items() if name not in ("", self.unit)),
            biogenic=self.biogenic,
        )
