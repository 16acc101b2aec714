"""Accepted values that deserve a second look: inside the bounds, but outside of what is usual."""

from collections.abc import Iterator
from typing import Any

from simengine.scenario.problems import key_text
from simengine.scenario.schema.fields import Many, Of
from simengine.scenario.schema.reading import Section
from simengine.scenario.schema.walk import fields_by_key, reader_of

MOST = 20
"""Most values that are told one by one."""


def unusual(section: Section, system: str) -> list[str]:
    """Return a sentence for every value of a checked scenario that is outside of its usual band.

    Parameters
    ----------
    section
        The scenario, or a section of it.
    system
        "si" or "us": the units of the values.

    Returns
    -------
    list of str
        Key, value, band and reason; at most `MOST`, and how many more there are.
    """
    found = list(_values(section, (), system))
    more = [f"{len(found) - MOST} more values are unusual."] if len(found) > MOST else []
    return [*found[:MOST], *more]


def _values(section: Section, above: tuple[str | int, ...], system: str) -> Iterator[str]:
    names = {field.alias or name: name for name, field in type(section).model_fields.items()}
    for key, field in fields_by_key(type(section)).items():
        value, path = getattr(section, names[key], None), (*above, key)
        if isinstance(value, Section):
            yield from _values(value, path, system)
        elif isinstance(value, tuple) and value and isinstance(value[0], Section):
            for number, item in enumerate(value):
                yield from _values(item, (*path, number), system)
        else:
            yield from _one(reader_of(field), value, key_text(path), system)


def _one(reader: Any, value: Any, key: str, system: str) -> Iterator[str]:
    each = reader.each if isinstance(reader, Many) else reader
    if not isinstance(each, Of) or value is None:
        return
    for number in value if isinstance(reader, Many) else (value,):
        if why := each.unusual(number):
            yield f"{key}: {each.show(number, system)} is unusual; {why}."
            return
