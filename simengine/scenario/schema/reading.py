"""What every section and every kind of value in a scenario has in common."""

import copy
import difflib
import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar, Self

from pydantic import BaseModel, ConfigDict, Field, GetCoreSchemaHandler, GetJsonSchemaHandler, model_validator
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from simengine.errors import InputError
from simengine.units import quote

JsonSchema = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Fault:
    """What does not go together in a section, and the key to point at."""

    sentence: str
    at: tuple[str | int, ...] = ()


def fault(wrong: str, accepted: str, *at: str | int) -> Fault:
    """Return a fault: what is wrong, what is accepted, and the key below the section."""
    return Fault(f"{wrong}; accepted: {accepted}", at)


class Section(BaseModel):
    """A table of the scenario file; its docstring is what the user is told, an unknown key is an error."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_default=True, protected_namespaces=())

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together; each section has its own."""
        yield from ()

    @model_validator(mode="after")
    def _goes_together(self) -> Self:
        faults = tuple(self.checks())
        if faults:
            raise PydanticCustomError("faults", "{text}", {"text": faults[0].sentence, "faults": faults})
        return self


def usual(value: Any, description: str) -> Any:
    """Return a field with a default, written the way a person would write it."""
    return Field(value, description=description)


def refuse(wrong: str, accepted: str = "") -> PydanticCustomError:
    """Return the error for one value: what is wrong, and what is accepted."""
    text = f"{wrong}; accepted: {accepted}" if accepted else wrong
    return PydanticCustomError("scenario", "{text}", {"text": text})


@dataclass(frozen=True, slots=True)
class Reader:
    """Base of the annotations: `read` turns raw data into the value or raises.

    What is told of a value is a constant of its class, or a method of it where that hangs on more.
    """

    EXAMPLE: ClassVar[str]
    ACCEPTS: ClassVar[str]
    SCHEMA: ClassVar[JsonSchema]

    def read(self, value: Any) -> Any:
        """Return the checked value of raw data."""
        raise NotImplementedError

    def json(self) -> JsonSchema:
        """Return the JSON schema of what may be written."""
        return copy.deepcopy(self.SCHEMA)

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return self.EXAMPLE

    def accepts(self) -> str:
        """Say in words what may be written."""
        return self.ACCEPTS

    def _guarded(self, value: Any) -> Any:
        try:
            return self.read(value)
        except InputError as error:
            raise refuse(error.problems[0]) from None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self._guarded)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchema:
        return self.json()


def nearest(word: str, known: tuple[str, ...]) -> str:
    """Return a hint at the nearest of the known words, or nothing."""
    near = difflib.get_close_matches(word[:80], known, n=1, cutoff=0.6)
    return f", the nearest is {quote(near[0])}" if near else ""


def describe(value: Any) -> str:
    """Say what kind of thing was written."""
    if value is None:
        return "nothing"
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, list | tuple):
        return "a list"
    return f"{quote(str(value).lower() if isinstance(value, bool) else value)}"


def plain_number_of(value: Any) -> float | None:
    """Return a plain number, or None for anything else."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return None
    try:
        return float(value)
    except OverflowError:
        return math.inf
