"""Every bound that the schema states is held: beyond it, and at nothing finite, a key is refused."""

import copy
import math
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from pydantic import BaseModel

from simengine.errors import ScenarioError
from simengine.scenario import Scenario
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.fields import Many, Of, Pairs
from simengine.scenario.schema.texts import Whole, Words
from simengine.scenario.schema.walk import fields_by_key, holds_list, kinds_of, models_in, reader_of
from simengine.scenario.template import START
from simengine.units import KINDS, parse


@dataclass(frozen=True)
class Place:
    """A key of the schema: the sections above it, outermost first, and what reads it."""

    sections: tuple[tuple[str, type[BaseModel], bool], ...]  # key, section, in a list
    key: str
    reader: Any

    @property
    def name(self) -> str:
        """The dotted key, with the kind of a section that is one of several."""
        above = [
            key + "".join(f"[{kind}]" for kind in kinds_of(model)[:1]) for key, model, _ in self.sections
        ]
        return ".".join([*above, self.key])

    @property
    def dotted(self) -> str:
        """The key as messages name it."""
        above = [f"{key}.1" if listed else key for key, _, listed in self.sections]
        return ".".join([*above, self.key])

    def tables(self, value: Any) -> dict[str, Any]:
        """Return a scenario with a value at this key, whatever else its section would need."""
        tables = copy.deepcopy(START)
        here: dict[str, Any] = tables
        for key, model, listed in self.sections:
            old = here.get(key)
            old = old[0] if isinstance(old, list) else old
            kinds = kinds_of(model)
            tag = {"part" if "part" in fields_by_key(model) else "kind": kinds[0]} if kinds else {}
            fits = isinstance(old, dict) and tag.items() <= old.items()
            inner: dict[str, Any] = old if fits and isinstance(old, dict) else dict(tag)
            here[key] = [inner] if listed else inner
            here = inner
        here[self.key] = value
        return tables


def all_places(model: type[BaseModel] = Inputs, above: tuple[Any, ...] = ()) -> Iterator[Place]:
    """Yield every key of the schema with its reader."""
    for key, field in fields_by_key(model).items():
        inner = models_in(field.annotation)
        if not inner:
            yield Place(above, key, reader_of(field))
        for one in inner:
            yield from all_places(one, (*above, (key, one, holds_list(field.annotation))))


PLACES = list(all_places())


def sizes(reader: Of) -> list[str]:
    """Return what lies outside of the bounds of a quantity."""
    kind = KINDS[reader.kind]
    unit = kind.inside.name
    found = [f"{word} {unit}".strip() for word in ("nan", "inf", "-inf", "1e400")]
    for end, sign in ((reader.low, -1.0), (reader.high, 1.0)):
        if end is not None:
            value = parse(end, reader.kind)
            step = max(abs(value), 1e-3)
            found += [f"{value + sign * step * far!r} {unit}".strip() for far in (1e-4, 0.5, 1e6)]
    if kind.bare:
        found += [math.nan, math.inf, -math.inf]  # type: ignore[list-item]
    return found


def outside(reader: Any) -> list[Any]:
    """Return values that break what a reader states."""
    if isinstance(reader, Whole):
        return [reader.low - 1, reader.high + 1, -(2**70), 2**70, float(reader.low), str(reader.low), True]
    if isinstance(reader, Many):
        good = tomllib.loads(f"x = {reader.each.example()}")["x"]
        bad = sizes(reader.each)
        lists = [[*[good] * (reader.count - 1), one] for one in bad]
        return [*bad, *lists, [good] * (reader.count - 1), [good] * (reader.count + 1), []]
    if isinstance(reader, Pairs):
        good = tomllib.loads(f"x = {reader.example()}")["x"][0]
        first = [[[one, good[1]]] for one in sizes(reader.first)]
        return [*first, *([[good[0], one]] for one in sizes(reader.second)), [[good[0]]], [good[0]]]
    if isinstance(reader, Words):
        return ["x" * (reader.longest + 1), "a\x00b", "a\x1bb", 5]
    return sizes(reader) if isinstance(reader, Of) else []


def inside(reader: Of) -> list[str]:
    """Return the bounds themselves, which are accepted."""
    return [end for end in (reader.low, reader.high) if end is not None]


def refusals(place: Place, value: Any) -> list[str]:
    """Return the lines about the very key."""
    try:
        Scenario.from_dict(place.tables(value))
    except ScenarioError as error:
        marks = (f" {place.dotted}: ", f" {place.dotted.replace('.1.', '.', 1)}: ")
        return [line for line in error.problems if any(mark in f" {line}" for mark in marks)]
    return []


BOUNDED = [place for place in PLACES if outside(place.reader)]


def test_most_keys_state_a_bound() -> None:
    assert len(BOUNDED) > 300
    assert {type(place.reader) for place in BOUNDED} >= {Of, Many, Pairs, Whole, Words}


@pytest.mark.parametrize("section", sorted({place.name.split(".")[0] for place in BOUNDED}))
def test_what_lies_outside_of_a_bound_is_refused_at_its_key(section: str) -> None:
    let_in = [
        f"{place.name} = {str(value)[:80]}"
        for place in BOUNDED
        if place.name.split(".")[0] == section
        for value in outside(place.reader)
        if not refusals(place, value)
    ]
    assert not let_in, "\n".join(let_in)


RANGES = ("below", "above", "finite")


def test_the_bounds_themselves_are_inside() -> None:
    refused = [
        line
        for place in BOUNDED
        if isinstance(place.reader, Of)
        for value in inside(place.reader)
        for line in refusals(place, value)
        if any(f" is {word} " in line for word in RANGES) and "reach" not in line
    ]
    assert not refused, "\n".join(refused)


def test_every_bound_has_its_reason() -> None:
    bare = [
        place.name
        for place in PLACES
        for reader in (getattr(place.reader, "each", place.reader),)
        if isinstance(reader, Of) and (reader.low or reader.high) and not reader.why
    ]
    assert not bare, bare
