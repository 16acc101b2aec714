"""Titles of a log's columns, and the units they are in."""

from dataclasses import dataclass
from typing import Any, ClassVar

from simengine.scenario.schema.reading import JsonSchema, Reader, describe, refuse
from simengine.scenario.schema.texts import Words
from simengine.units import KINDS, quote


@dataclass(frozen=True, slots=True)
class UnitOf(Reader):
    """A unit of one of some kinds, as the program writes it."""

    kinds: tuple[str, ...]

    def read(self, value: Any) -> str:
        """Return the unit's own spelling."""
        if not isinstance(value, str) or not value.strip():
            raise refuse(f"{describe(value)} where a unit is due", self.accepts())
        for kind in self.kinds:
            unit = KINDS[kind].find(value.strip())
            if unit is not None:
                return unit.name
        raise refuse(f"{quote(value)} is no unit of this column", ", ".join(self._names()))

    def _names(self) -> list[str]:
        return [unit.name for kind in self.kinds for unit in KINDS[kind].units if unit.name]

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return f'"{self._names()[0]}"'

    def accepts(self) -> str:
        """Say in words what may be written."""
        return f"one of {', '.join(self._names())}"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        return {"type": "string", "maxLength": 30, "examples": self._names()[:4]}


MOST_TITLES = 30


@dataclass(frozen=True, slots=True)
class Titles(Reader):
    """A column's title, or a list of them."""

    EXAMPLE: ClassVar[str] = '"flow"'
    ACCEPTS: ClassVar[str] = f"the title of a column, or a list of at most {MOST_TITLES} different ones"
    SCHEMA: ClassVar[JsonSchema] = {
        "anyOf": [
            {"type": "string", "maxLength": 80},
            {
                "type": "array",
                "items": {"type": "string", "maxLength": 80},
                "minItems": 1,
                "maxItems": MOST_TITLES,
            },
        ]
    }

    def read(self, value: Any) -> tuple[str, ...]:
        """Return the titles."""
        given = value if isinstance(value, list | tuple) else [value]
        if not 1 <= len(given) <= MOST_TITLES or len(set(map(str, given))) < len(given):
            raise refuse(f"{describe(value)} where titles of columns are due", self.accepts())
        return tuple(Words(80).read(title) for title in given)
