"""Writes a checked value as text in both unit systems, by the reader that its key has."""

import datetime
from collections.abc import Mapping
from typing import Any

from pydantic.fields import FieldInfo

from simengine.scenario.schema.dates import DAYS_IN_MONTH, MonthDay
from simengine.scenario.schema.drawn import Drawn
from simengine.scenario.schema.fan_points import FanPoints
from simengine.scenario.schema.fields import Many, Of, Pairs
from simengine.scenario.schema.walk import reader_of
from simengine.units import Amount, Price, Quantity, format_price, format_si, plain_number

LONGEST = 100  # characters of free text in a listing


def both(value: Any, info: FieldInfo) -> tuple[str, str]:
    """Return a value as text in both unit systems."""
    if isinstance(value, Price):
        return format_price(value, "si"), format_price(value, "us")
    if isinstance(value, Amount):
        return (f"{plain_number(value.value)} {value.currency}",) * 2
    if isinstance(value, Quantity):
        return format_si(value.value, value.kind, "si"), format_si(value.value, value.kind, "us")
    reader = reader_of(info)
    if isinstance(reader, Of):
        return reader.show(value, "si"), reader.show(value, "us")
    if isinstance(reader, Many):
        return _list(reader, value, "si"), _list(reader, value, "us")
    if isinstance(reader, Pairs):
        return _pairs(reader, value, "si"), _pairs(reader, value, "us")
    if isinstance(reader, FanPoints):
        return reader.show(value, "si"), reader.show(value, "us")
    if isinstance(reader, MonthDay):
        return (_month_day(value),) * 2
    return (_plain(value),) * 2


def _month_day(day: int) -> str:
    month = 1
    for length in DAYS_IN_MONTH:
        if day <= length:
            break
        day, month = day - length, month + 1
    return f"{month:02d}-{day:02d}"


def _list(reader: Many, value: tuple[float, ...], system: Any) -> str:
    shown = value[:1] if len(set(value)) == 1 else value
    return ", ".join(reader.each.show(item, system) for item in shown)


def _pairs(reader: Pairs, value: tuple[tuple[float, float], ...], system: Any) -> str:
    return "; ".join(f"{reader.first.show(a, system)}: {reader.second.show(b, system)}" for a, b in value)


def _plain(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, Drawn):
        return "; ".join(
            (value.kind, f"by {value.by}", *(f"{name} {_plain(term)}" for name, term in value.terms))
        )
    if isinstance(value, tuple | list):
        return ", ".join(_plain(item) for item in value)
    if isinstance(value, Mapping):
        return "; ".join(f"{key}: {_plain(text)}" for key, text in value.items())
    text = " ".join(str(value).split())
    return text if len(text) <= LONGEST else f"{text[: LONGEST - 1]}…"
