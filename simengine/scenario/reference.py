"""Writes the reference of the scenario file as Markdown, out of the schema itself."""

from collections.abc import Iterator

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from simengine.scenario.schema import Inputs
from simengine.scenario.schema.walk import (
    about,
    example_line,
    example_of,
    fields_by_key,
    kinds_of,
    models_in,
    reader_of,
    toml,
)
from simengine.scenario.template import REPEATS
from simengine.units import KINDS


def reference() -> str:
    """Return a Markdown section for every section of the file: keys, what they take, default, meaning.

    Returns
    -------
    str
        Markdown.

    Examples
    --------
    >>> reference().splitlines()[0]
    '### The head of the file'
    """
    return "\n".join([*_section(Inputs, "### The head of the file", (), {}), *_units()])


def _section(
    model: type[BaseModel], heading: str, path: tuple[str, ...], told: dict[type[BaseModel], str]
) -> Iterator[str]:
    """Yield a section; one that a candidate place repeats is told once, where it stands first."""
    kinds = kinds_of(model)
    yield f"{heading}, kind {kinds[0]}" if kinds else heading
    yield ""
    yield about(model)
    yield ""
    yield "| key | takes | default | example | meaning |"
    yield "|---|---|---|---|---|"
    fields = fields_by_key(model)
    for key, field in fields.items():
        if not models_in(field.annotation):
            example = example_of(".".join((*path, key)), field)
            yield f"| `{key}` | {_takes(field)} | {_default(field)} | `{example}` | {field.description} |"
    yield ""
    for key, field in fields.items():
        for inner in models_in(field.annotation):
            title = example_line(key, field, ".".join(path))
            if path[:1] == (REPEATS,) and inner in told:
                yield from (f"### `{title}`", "", f"The keys are those of `{told[inner]}`.", "")
                continue
            told[inner] = title
            yield from _section(inner, f"### `{title}`", (*path, key), told)


def _takes(field: FieldInfo) -> str:
    reader = reader_of(field)
    return "its own name" if reader is None else reader.accepts().replace("|", "/")


def _default(field: FieldInfo) -> str:
    if field.is_required():
        return "required"
    if field.default in (None, PydanticUndefined, "", ()):
        return "-"
    return f"`{toml(field.default)}`"


def _units() -> Iterator[str]:
    yield "## Units"
    yield ""
    yield "Each quantity takes these units alone; spellings such as `°F`, `W/(m² K)`, `feet` are read."
    yield ""
    yield "| quantity | units | shown in metric | shown in US |"
    yield "|---|---|---|---|"
    for kind in KINDS.values():
        names = ", ".join(f"`{unit.name}`" for unit in kind.units if unit.name)
        plain = "a plain number, " if kind.bare else ""
        shown = [", ".join(name or "a plain number" for name, _ in steps) for steps in (kind.si, kind.us)]
        yield f"| {kind.words} | {plain}{names} | {shown[0]} | {shown[1]} |"
