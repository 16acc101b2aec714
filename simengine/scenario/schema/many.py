"""Questions over many years: a sweep over keys, and candidate places."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.reading import (
    Fault,
    JsonSchema,
    Reader,
    Section,
    describe,
    fault,
    refuse,
    usual,
)
from simengine.scenario.schema.site import Declination, Fin, Overhang, Skyline, Tree, Wall
from simengine.scenario.schema.texts import Key as Chosen
from simengine.scenario.schema.texts import LocalPath, Whole, Words

MOST_VALUES = 10_000


@dataclass(frozen=True, slots=True)
class Range:
    """Everything between two values, as texts with units or plain numbers."""

    low: Any
    high: Any


@dataclass(frozen=True, slots=True)
class Values(Reader):
    """A list of values to try, or a range."""

    def read(self, value: Any) -> Any:
        """Return a tuple of raw values or a `Range`."""
        accepted = 'a list such as ["45 deg", "60 deg"], or { from = "1 m", to = "3 m" }'
        if isinstance(value, dict) and set(value) == {"from", "to"} and all(map(_single, value.values())):
            return Range(value["from"], value["to"])
        if (
            not isinstance(value, list | tuple)
            or not 1 <= len(value) <= MOST_VALUES
            or not all(map(_single, value))
        ):
            raise refuse(f"{describe(value)} where values to try are due", accepted)
        return tuple(value)

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return '["45 deg", "60 deg"]'

    def accepts(self) -> str:
        """Say in words what may be written."""
        return "a list of values, or { from = ..., to = ... }"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        single = {"type": ["string", "number", "boolean"]}
        ends = {"type": "object", "properties": {"from": single, "to": single}, "required": ["from", "to"]}
        return {
            "anyOf": [
                {"type": "array", "items": single, "minItems": 1},
                {**ends, "additionalProperties": False},
            ]
        }


@dataclass(frozen=True, slots=True)
class Single(Reader):
    """One raw value."""

    def read(self, value: Any) -> Any:
        """Return it as it is."""
        if not _single(value) and not isinstance(value, list):
            raise refuse(
                f"{describe(value)} where one value is due", 'text with a unit, or a number, e.g. "200 deg"'
            )
        return value

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return '"200 deg"'

    def accepts(self) -> str:
        """Say in words what may be written."""
        return "a value as that key takes it"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        return {"type": ["string", "number", "boolean", "array"]}


Key = Annotated[str, Words(200)]


class Sweep(Section):
    """Many scenarios."""

    about: ClassVar[str] = (
        "Values to try for `simengine sweep`: every combination of lists, or samples of ranges."
    )
    vary: dict[Key, Annotated[Any, Values()]] = Field(
        min_length=1, max_length=30, description="dotted key to a list of values, or to a range"
    )
    samples: Annotated[int, Whole(1, 10_000_000)] | None = Field(
        None, description="how many scenarios are drawn; needed where a range is given"
    )
    seed: Annotated[int, Whole(0, 2**31 - 1)] = usual(1, "start of the random numbers")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.samples is None and any(isinstance(values, Range) for values in self.vary.values()):
            yield fault("a range has no end of values", "samples = 500, or lists alone", "samples")


class Spot(Section):
    """A candidate place."""

    about: ClassVar[str] = (
        "A candidate place for `simengine spots`: what is different there; repeat for each. What it does not "
        "name is as in the rest of the file."
    )
    name: Annotated[str, Words(80)] = Field(description="what you call it")
    tilt: Annotated[float, Of("angle", "0 deg", "90 deg", "from horizontal")] | None = Field(
        None, description="of the collector there"
    )
    azimuth: Annotated[float, Of("angle", "0 deg", "360 deg", "180 is south", "180 deg")] | None = Field(
        None, description="where it looks there, clockwise from true north"
    )
    mounting: Annotated[str, Chosen("mounting", lambda: choices.MOUNTINGS)] | None = Field(
        None, description="what its back faces there; open takes the wall away from behind it"
    )
    duct_length: Annotated[float, Of("length", "0 m", "100 m", "a house")] | None = Field(
        None, description="of every duct there, each"
    )
    horizon: Skyline = Field((), description="skyline there")
    horizon_file: Annotated[str, LocalPath()] | None = Field(
        None, description="skyline there, as a table of compass and inclinometer readings"
    )
    declination: Declination | None = Field(None, description="of that compass")
    trees: tuple[Tree, ...] = Field((), max_length=200, description="tree crowns there; [] for none")
    overhang: Overhang | None = Field(None, description="a strip above it there")
    fins: tuple[Fin, ...] = Field((), max_length=10, description="strips beside it there")
    walls: tuple[Wall, ...] = Field((), max_length=50, description="walls across from it there")
    changes: dict[Key, Annotated[Any, Single()]] = Field(
        default_factory=dict, max_length=60, description="any other dotted key to the value it has there"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.horizon and self.horizon_file is not None:
            yield fault("the skyline is there twice", "horizon or horizon_file", "horizon_file")


def _single(value: Any) -> bool:
    return isinstance(value, str | int | float | bool)
