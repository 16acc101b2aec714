"""Finds what a dotted key of a checked scenario holds, and how such a value is read and written."""

from dataclasses import dataclass
from typing import Any

from pydantic_core import PydanticCustomError

from simengine.errors import InputError
from simengine.scenario.schema.fields import Many, Of, OneOf
from simengine.scenario.schema.reading import Reader, Section
from simengine.scenario.schema.sums import PerUnit, Sum
from simengine.scenario.schema.walk import fields_by_key, reader_of
from simengine.units import KINDS, parse


@dataclass(frozen=True, slots=True)
class Written:
    """A number together with the unit that is written after it; "" for a plain number."""

    number: float
    unit: str

    @property
    def raw(self) -> Any:
        """The value as a scenario file would hold it."""
        return self.number if self.unit == "" else f"{self.number:.12g} {self.unit}"


@dataclass(frozen=True, slots=True)
class AtKey:
    """What a scenario holds at a key: the reader of the key and the checked value."""

    reader: Reader
    value: Any

    @property
    def kind(self) -> str:
        """Kind of quantity of the unit table; "" for money and for what is no quantity."""
        each = self.reader.each if isinstance(self.reader, Many) else self.reader
        return each.kind if isinstance(each, Of) else ""

    @property
    def bounds(self) -> tuple[float | None, float | None]:
        """Least and greatest accepted value in SI."""
        each = self.reader.each if isinstance(self.reader, Many) else self.reader
        if not isinstance(each, Of):
            return 0.0, None
        ends = (None if end is None else parse(end, each.kind) for end in (each.low, each.high))
        low, high = ends
        return low, high

    def read(self, raw: Any) -> Written:
        """Return a raw value of this key as number and unit; InputError where it is none."""
        each = self.reader.each if isinstance(self.reader, Many) else self.reader
        try:
            return _written(each, each.read(raw))
        except PydanticCustomError as refused:
            raise InputError(refused.message()) from None

    def levels(self) -> tuple[Written, ...]:
        """Return what the scenario holds here as numbers, several where it goes by hour or month."""
        if self.value is None:
            raise InputError(
                "the scenario gives no value that could be changed; accepted: a key with a value"
            )
        if isinstance(self.reader, Many):
            return tuple(_written(self.reader.each, one) for one in self.value)
        return (_written(self.reader, self.value),)

    @property
    def is_quantity(self) -> bool:
        """Whether values between two values make sense here."""
        return isinstance(self.reader, Of | OneOf | Many | PerUnit | Sum)


def at_key(inputs: Section, key: str) -> AtKey:
    """Return what a scenario holds at a dotted key; items of lists by name or by number from 1.

    Parameters
    ----------
    inputs
        The checked scenario, or a section of it.
    key
        E.g. "collector.tilt", "ducts.supply.length".

    Returns
    -------
    AtKey

    Raises
    ------
    InputError
        If this scenario has nothing there.
    """
    parts = key.split(".")
    here: Any = inputs
    for number, part in enumerate(parts):
        last = number == len(parts) - 1
        if isinstance(here, tuple) and not _is_only_table(here, part):
            here = _item(here, part)
            continue
        here = here[0] if isinstance(here, tuple) else here
        fields = fields_by_key(type(here)) if isinstance(here, Section) else {}
        if part not in fields:
            raise InputError(f'this scenario has no "{part}" there; accepted: a key of a section that it has')
        reader = reader_of(fields[part])
        name = next(name for name, field in type(here).model_fields.items() if field is fields[part])
        here = getattr(here, name)
        if last and reader is not None:
            return AtKey(reader, here)
    raise InputError("is a section, not a value; accepted: a key with a value")


def _is_only_table(items: tuple[Any, ...], part: str) -> bool:
    """Whether a list was written as the one table that it may be, such as [heating], and the key goes on."""
    return len(items) == 1 and isinstance(items[0], Section) and part in fields_by_key(type(items[0]))


def _item(items: tuple[Any, ...], part: str) -> Any:
    for number, item in enumerate(items, start=1):
        if part in (str(number), getattr(item, "name", None)):
            return item
    raise InputError(f'this scenario has no item "{part}" there; accepted: a number from 1, or a name')


def _written(reader: Reader, value: Any) -> Written:
    if isinstance(reader, Of):
        unit = "" if KINDS[reader.kind].bare else KINDS[reader.kind].inside.name
        return Written(float(value), unit)
    if isinstance(reader, OneOf):
        return Written(float(value.value), KINDS[value.kind].inside.name)
    if isinstance(reader, PerUnit):
        return Written(float(value.value), f"{value.currency}/{value.unit}")
    if isinstance(reader, Sum):
        return Written(float(value.value), value.currency)
    raise InputError("is no quantity, so nothing lies between two of its values; accepted: a list of values")
