"""Quantities in a scenario: each reads what a person writes, checks it, and says why it is refused."""

import math
from dataclasses import dataclass
from typing import Any

from simengine.scenario.schema.reading import JsonSchema, Reader, describe, plain_number_of, refuse
from simengine.units import (
    KINDS,
    Quantity,
    format_si,
    parse,
    parse_one_of,
    quote,
)


@dataclass(frozen=True, slots=True)
class Of(Reader):
    """A quantity of one kind within physical bounds, with the reason for them."""

    kind: str
    low: str | None = None
    high: str | None = None
    why: str = ""
    such_as: str = ""  # an example that suits the key better than the kind's own
    usual: tuple[str, str] | None = None  # band inside the bounds; what lies outside of it gets a note
    beyond: str = ""  # why a value outside of the band deserves a second look

    def read(self, value: Any) -> float:
        """Return the SI value."""
        kind = KINDS[self.kind]
        number = plain_number_of(value)
        if isinstance(value, str):
            number = parse(value, self.kind)
        elif number is None:
            raise refuse(f"{describe(value)} where {kind.words} is due", f"e.g. {self.example()}")
        elif not kind.bare:
            raise refuse(f"{quote(value)} has no unit", kind.accepted().removeprefix("accepted: "))
        if not math.isfinite(number):
            raise refuse(f"{quote(value)} is no finite number", f"e.g. {self.example()}")
        self._within(number, value)
        return number

    def _within(self, number: float, value: Any) -> None:
        if side := self._outside(number):
            raise refuse(f"{quote(value)} is {side}", self.range_text())

    def _outside(self, number: float) -> str:
        """Say on which side of the bounds a number lies, or nothing."""
        slack = 1e-9 * max(abs(number), 1e-9)
        if self.low is not None and number < parse(self.low, self.kind) - slack:
            return f"below {self.low}"
        if self.high is not None and number > parse(self.high, self.kind) + slack:
            return f"above {self.high}"
        return ""

    def unusual(self, number: float) -> str:
        """Say why an accepted number deserves a second look, or nothing."""
        if self.usual is None:
            return ""
        low, high = (parse(end, self.kind) for end in self.usual)
        slack = 1e-9 * max(abs(number), 1e-9)
        if low - slack <= number <= high + slack:
            return ""
        return f"usual is {self.usual[0]} to {self.usual[1]}: {self.beyond}"

    def range_text(self) -> str:
        """What is accepted, in words, with the reason."""
        low, high = self.low, self.high
        span = f"{low} to {high}" if low and high else f"at least {low}" if low else f"at most {high}"
        return f"{span} ({self.why})" if self.why else span

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        usual = self.such_as or KINDS[self.kind].example
        fits = not self._outside(parse(usual, self.kind))
        return f'"{usual if fits else self.high or self.low}"'

    def accepts(self) -> str:
        """Say in words what may be written."""
        words = KINDS[self.kind].words
        band = f"; usual {self.usual[0]} to {self.usual[1]}" if self.usual else ""
        return f"{words}, {self.range_text()}{band}" if self.low or self.high else words

    def json(self) -> JsonSchema:
        """Return the JSON schema: text with a unit, or also a number where that is meaningful."""
        kind = KINDS[self.kind]
        note = self.accepts()
        text: JsonSchema = {"type": "string", "maxLength": 64, "examples": [self.example()[1:-1]]}
        return (
            {"anyOf": [{"type": "number"}, text], "$comment": note}
            if kind.bare
            else {**text, "$comment": note}
        )

    def show(self, value: float, system: Any) -> str:
        """Return the value as text in one of the two unit systems."""
        return format_si(value, self.kind, system)


@dataclass(frozen=True, slots=True)
class OneOf(Reader):
    """A quantity that may be of several kinds: a flow as volume or mass, whole or per area."""

    kinds: tuple[str, ...]
    words: str

    def read(self, value: Any) -> Quantity:
        """Return the SI value and its kind."""
        examples = ", ".join(f'"{KINDS[kind].example}"' for kind in self.kinds)
        if not isinstance(value, str):
            wrong = f"{quote(value)} has no unit" if plain_number_of(value) is not None else describe(value)
            raise refuse(f"{wrong} where {self.words} is due", f"e.g. {examples}")
        quantity = parse_one_of(value, self.kinds)
        if not quantity.value > 0.0:
            raise refuse(f"{quote(value)} is not above zero", f"{self.words}, e.g. {examples}")
        return quantity

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return f'"{KINDS[self.kinds[0]].example}"'

    def accepts(self) -> str:
        """Say in words what may be written."""
        return f"{self.words}, e.g. {', '.join(KINDS[kind].example for kind in self.kinds)}"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        return {"type": "string", "maxLength": 64, "examples": [KINDS[kind].example for kind in self.kinds]}


@dataclass(frozen=True, slots=True)
class Many(Reader):
    """One value for all, or a list with one for each hour or month."""

    each: Of
    count: int
    what: str  # "hours" or "months"

    def read(self, value: Any) -> tuple[float, ...]:
        """Return `count` values."""
        if not isinstance(value, list | tuple):
            return (self.each.read(value),) * self.count
        if len(value) != self.count:
            raise refuse(
                f"a list of {len(value)} values",
                f"one value, or {self.count}: one for each of the {self.what}",
            )
        return tuple(self.each.read(item) for item in value)

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return self.each.example()

    def accepts(self) -> str:
        """Say in words what may be written."""
        return f"{self.each.accepts()}; or a list of {self.count}, one for each of the {self.what}"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        each = self.each.json()
        return {
            "anyOf": [each, {"type": "array", "items": each, "minItems": self.count, "maxItems": self.count}]
        }


@dataclass(frozen=True, slots=True)
class Pairs(Reader):
    """A list of pairs, such as the points of a horizon or of a curve."""

    first: Of
    second: Of
    plain_degrees: bool = False  # plain numbers are degrees

    def read(self, value: Any) -> tuple[tuple[float, float], ...]:
        """Return the pairs in SI."""
        if not isinstance(value, list | tuple) or not all(
            isinstance(p, list | tuple) and len(p) == 2 for p in value
        ):
            raise refuse(f"{describe(value)} where pairs are due", f"a list of pairs, e.g. {self.example()}")
        return tuple((self._one(self.first, a), self._one(self.second, b)) for a, b in value)

    def _one(self, reader: Of, value: Any) -> float:
        plain = plain_number_of(value) if self.plain_degrees else None
        return reader.read(value if plain is None else f"{value} deg")

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        if self.plain_degrees:
            return "[[90, 5], [180, 12]]"
        return f"[[{self.first.example()}, {self.second.example()}]]"

    def accepts(self) -> str:
        """Say in words what may be written."""
        return f"pairs of {self.first.accepts()} and {self.second.accepts()}"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        item = {"anyOf": [{"type": "number"}, {"type": "string", "maxLength": 64}]}
        return {"type": "array", "items": {"type": "array", "items": item, "minItems": 2, "maxItems": 2}}
