"""Words, dates, counts, switches and file names in a scenario."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

from simengine.scenario.schema.reading import JsonSchema, Reader, describe, nearest, refuse
from simengine.units import quote


@dataclass(frozen=True, slots=True)
class Key(Reader):
    """A name out of a table that another room keeps; read when it is first needed."""

    what: str
    table: Callable[[], Mapping[str, Any] | tuple[str, ...]]

    def read(self, value: Any) -> str:
        """Return the name."""
        names = tuple(self.table())
        if not isinstance(value, str) or value not in names:
            raise refuse(f"{quote(value)} is no {self.what}{nearest(str(value), names)}", ", ".join(names))
        return value

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return f'"{next(iter(self.table()))}"'

    def accepts(self) -> str:
        """Say in words what may be written."""
        return f"one of {', '.join(self.table())}"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        return {"type": "string", "enum": list(self.table())}


@dataclass(frozen=True, slots=True)
class Words(Reader):
    """Free text of limited length."""

    longest: int = 200

    def read(self, value: Any) -> str:
        """Return the text."""
        if not isinstance(value, str):
            raise refuse(f"{describe(value)} where text is due", 'text in quotes, e.g. "south wall"')
        if len(value) > self.longest:
            raise refuse(f"text of {len(value)} characters", f"at most {self.longest}")
        if any(not (c.isprintable() or c in "\n\t") for c in value):
            raise refuse(f"{quote(value)} holds control characters", "plain text")
        return value

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return '"your words"'

    def accepts(self) -> str:
        """Say in words what may be written."""
        return f"text of at most {self.longest} characters"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        return {"type": "string", "maxLength": self.longest}


@dataclass(frozen=True, slots=True)
class LocalPath(Reader):
    """A file near the scenario, or a built-in one; never something on a network."""

    EXAMPLE: ClassVar[str] = '"my_year.csv"'
    ACCEPTS: ClassVar[str] = '"builtin:NAME", or a path relative to the scenario file'
    SCHEMA: ClassVar[JsonSchema] = {
        "type": "string",
        "maxLength": 1000,
        "examples": ["builtin:greensboro", "my_year.csv"],
    }

    def read(self, value: Any) -> str:
        """Return the text as written."""
        accepted = '"builtin:NAME", or a path relative to the scenario file'
        if not isinstance(value, str) or not value.strip():
            raise refuse(f"{describe(value)} where a file is due", accepted)
        if len(value) > 1000 or any(not c.isprintable() for c in value):
            raise refuse(f"{quote(value)} is no file name", accepted)
        head = value.partition(":")[0]
        if (
            "://" in value
            or value.startswith(("//", "\\\\"))
            or (":" in value and head != "builtin" and len(head) > 1)
        ):
            raise refuse(f"{quote(value)} is remote, and nothing is fetched from there", accepted)
        return value


@dataclass(frozen=True, slots=True)
class LocalPaths(LocalPath):
    """One such file, or several."""

    most: int = 60

    def read(self, value: Any) -> Any:
        """Return the text as written, or a tuple of several."""
        if not isinstance(value, list | tuple):
            return LocalPath.read(self, value)
        if not 1 <= len(value) <= self.most:
            raise refuse(f"a list of {len(value)} files", f"1 to {self.most} files")
        return tuple(LocalPath.read(self, item) for item in value)

    def accepts(self) -> str:
        """Say in words what may be written."""
        return f"{LocalPath.accepts(self)}; or a list of them"

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        one = LocalPath.json(self)
        return {"anyOf": [one, {"type": "array", "items": one, "minItems": 1, "maxItems": self.most}]}


@dataclass(frozen=True, slots=True)
class Whole(Reader):
    """A whole number within bounds."""

    low: int
    high: int
    why: str = ""

    def read(self, value: Any) -> int:
        """Return the number."""
        reason = f" ({self.why})" if self.why else ""
        accepted = f"{self.low} to {self.high}{reason}" if self.low < self.high else f"{self.low}{reason}"
        if isinstance(value, bool) or not isinstance(value, int):
            raise refuse(f"{describe(value)} where a whole number is due", accepted)
        if not self.low <= value <= self.high:
            raise refuse(f"{quote(value)} is out of range", accepted)
        return value

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return str(self.low)

    def accepts(self) -> str:
        """Say in words what may be written."""
        return f"a whole number, {self.low} to {self.high}" if self.low < self.high else str(self.low)

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


@dataclass(frozen=True, slots=True)
class Flag(Reader):
    """Yes or no."""

    EXAMPLE: ClassVar[str] = "true"
    ACCEPTS: ClassVar[str] = "true or false"
    SCHEMA: ClassVar[JsonSchema] = {"type": "boolean"}

    def read(self, value: Any) -> bool:
        """Return the switch."""
        if not isinstance(value, bool):
            raise refuse(f"{describe(value)} where yes or no is due", "true or false, without quotes")
        return value
