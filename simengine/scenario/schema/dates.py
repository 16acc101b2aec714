"""Days, months and hours of the day in a scenario."""

import datetime
import re
from dataclasses import dataclass
from typing import Any, ClassVar

from simengine.scenario.schema.reading import JsonSchema, Reader, describe, refuse
from simengine.units import quote

_MONTH_DAY = re.compile(r"(\d{1,2})-(\d{1,2})", re.ASCII)
DAYS_IN_MONTH = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)


@dataclass(frozen=True, slots=True)
class Day(Reader):
    """A date."""

    EXAMPLE: ClassVar[str] = "2026-05-01"
    ACCEPTS: ClassVar[str] = "a date"
    SCHEMA: ClassVar[JsonSchema] = {"type": "string", "format": "date"}

    def read(self, value: Any) -> datetime.date:
        """Return the date."""
        if isinstance(value, datetime.date) and not isinstance(value, datetime.datetime):
            return value
        try:
            if isinstance(value, str) and len(value) == 10:
                return datetime.date.fromisoformat(value)
        except ValueError:
            pass
        raise refuse(f"{quote(value)} is no date", "year-month-day, e.g. 2026-05-01")


@dataclass(frozen=True, slots=True)
class MonthDay(Reader):
    """A day of any year, written "04-20"."""

    EXAMPLE: ClassVar[str] = '"04-20"'
    ACCEPTS: ClassVar[str] = "month and day"
    SCHEMA: ClassVar[JsonSchema] = {
        "type": "string",
        "pattern": "^[0-9]{1,2}-[0-9]{1,2}$",
        "examples": ["04-20"],
    }

    def read(self, value: Any) -> int:
        """Return the day of a common year, 1 to 365."""
        match = _MONTH_DAY.fullmatch(value) if isinstance(value, str) else None
        month, day = (int(match[1]), int(match[2])) if match else (0, 0)
        if 1 <= month <= 12 and 1 <= day <= DAYS_IN_MONTH[month - 1]:
            return sum(DAYS_IN_MONTH[: month - 1]) + day
        raise refuse(f"{describe(value)} is no day of the year", 'month and day, e.g. "04-20"')


@dataclass(frozen=True, slots=True)
class Months(Reader):
    """Months of the year by number."""

    EXAMPLE: ClassVar[str] = "[10, 11, 12, 1, 2, 3, 4]"
    ACCEPTS: ClassVar[str] = "different numbers 1 to 12"
    SCHEMA: ClassVar[JsonSchema] = {
        "type": "array",
        "items": {"type": "integer", "minimum": 1, "maximum": 12},
        "minItems": 1,
        "maxItems": 12,
        "uniqueItems": True,
    }

    def read(self, value: Any) -> tuple[int, ...]:
        """Return the months in rising order."""
        fits = isinstance(value, list | tuple) and value
        if (
            not fits
            or any(type(m) is not int or not 1 <= m <= 12 for m in value)
            or len(set(value)) < len(value)
        ):
            raise refuse(
                f"{quote(value)} where months are due",
                "different numbers 1 to 12, e.g. [10, 11, 12, 1, 2, 3, 4]",
            )
        return tuple(sorted(value))


@dataclass(frozen=True, slots=True)
class Windows(Reader):
    """Windows of the day, each from one hour to another."""

    EXAMPLE: ClassVar[str] = "[[7, 9], [16.5, 22]]"
    ACCEPTS: ClassVar[str] = "pairs of hours from 0 to 24"
    SCHEMA: ClassVar[JsonSchema] = {
        "type": "array",
        "items": {
            "type": "array",
            "items": {"type": "number", "minimum": 0, "maximum": 24},
            "minItems": 2,
            "maxItems": 2,
        },
        "maxItems": 24,
    }

    def read(self, value: Any) -> tuple[tuple[float, float], ...]:
        """Return the windows [h]; one that ends before it begins reaches past midnight."""
        windows = value if isinstance(value, list | tuple) else [value]
        if len(windows) > 24 or not all(self._is_window(window) for window in windows):
            raise refuse(
                f"{quote(value)} where windows of the day are due",
                "pairs of different hours from 0 to 24, e.g. [[7, 9], [16.5, 22]]",
            )
        return tuple((float(begin), float(end)) for begin, end in windows)

    @staticmethod
    def _is_window(window: Any) -> bool:
        return (
            isinstance(window, list | tuple)
            and len(window) == 2
            and all(type(hour) in (int, float) and 0.0 <= hour <= 24.0 for hour in window)
            and window[0] != window[1]
        )
