"""Walks the sections of the schema by key."""

import datetime
import json
import types
import typing
from functools import lru_cache
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from simengine.scenario.schema.examples import EXAMPLES
from simengine.scenario.schema.reading import Reader


def toml(value: Any) -> str:
    """Return a plain value as it stands in a TOML file."""
    if isinstance(value, datetime.date):
        return value.isoformat()
    if isinstance(value, list):
        return f"[{', '.join(toml(item) for item in value)}]"
    if isinstance(value, dict):
        return f"{{ {', '.join(f'{json.dumps(key)} = {toml(item)}' for key, item in value.items())} }}"
    return json.dumps(value)


def models_in(annotation: Any) -> list[type[BaseModel]]:
    """Return the sections that an annotation can hold."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return [annotation]
    if isinstance(annotation, types.GenericAlias | types.UnionType) or typing.get_args(annotation):
        return [model for argument in typing.get_args(annotation) for model in models_in(argument)]
    return []


def about(model: type[BaseModel]) -> str:
    """Return what a section is for, as its docstring says it, on one line."""
    return " ".join((model.__doc__ or "").split())


def fields_by_key(model: type[BaseModel]) -> dict[str, FieldInfo]:
    """Return a section's fields by the key that the file uses."""
    return {field.alias or name: field for name, field in model.model_fields.items()}


def reader_of(field: FieldInfo) -> Reader | None:
    """Return what reads a field's value, wherever pydantic keeps it; None for a section."""
    found = [item for item in field.metadata if isinstance(item, Reader)]
    waiting = [field.annotation]
    while waiting and not found:
        annotation: Any = waiting.pop()
        found = [item for item in getattr(annotation, "__metadata__", ()) if isinstance(item, Reader)]
        waiting.extend(getattr(annotation, "__args__", ()))
    return found[0] if found else None


def example_of(dotted: str, field: FieldInfo) -> str:
    """Return a value of a key as it would stand in the file: its own, its default, or one of its reader."""
    if dotted in EXAMPLES:
        return toml(EXAMPLES[dotted])
    reader, default = reader_of(field), field.default
    if reader is None:  # a word that stands for itself
        return toml(typing.get_args(field.annotation)[0])
    plain = isinstance(default, str | float | int) and not isinstance(default, bool) and default != ""
    return toml(default) if plain and not getattr(reader, "such_as", "") else reader.example()


def example_line(key: str, field: FieldInfo, above: str = "") -> str:
    """Return a line of TOML that sets a key, or opens a section.

    Parameters
    ----------
    key : of the field in its section
    field : the field
    above : dotted key of the section
    """
    if models_in(field.annotation):
        path = f"{above}.{key}" if above else key
        return f"[[{path}]]" if holds_list(field.annotation) else f"[{path}]"
    return f"{key} = {example_of(f'{above}.{key}' if above else key, field)}"


def tag_of(model: type[BaseModel]) -> str:
    """Return the key that tells which of several sections one is, empty where it is the only one."""
    for name in ("part", "kind"):
        field = model.model_fields.get(name)
        if field is not None and typing.get_origin(field.annotation) is typing.Literal:
            return name
    return ""


def kinds_of(model: type[BaseModel]) -> tuple[str, ...]:
    """Return the kinds that a section stands for, where it is one of several."""
    tag = tag_of(model)
    return typing.get_args(model.model_fields[tag].annotation) if tag else ()


def holds_list(annotation: Any) -> bool:
    """Whether an annotation is a list of sections."""
    return typing.get_origin(annotation) is tuple and bool(models_in(annotation))


def takes_one_table(field: FieldInfo) -> bool:
    """Whether one table may be written in the place of the list."""
    return holds_list(field.annotation) and any(getattr(item, "one_table", False) for item in field.metadata)


@lru_cache(1024)
def keys_of_one_table(root: type[BaseModel], parts: tuple[str, ...]) -> frozenset[str]:
    """Return the keys of the one table that may be written in the place of a list; none for another key.

    Parameters
    ----------
    root : the section to start from
    parts : the list's dotted key, in its parts
    """
    models, lone = [root], False
    for part in parts:
        fields = [fields_by_key(model)[part] for model in models if part in fields_by_key(model)]
        lone = any(takes_one_table(field) for field in fields)
        models = [inner for field in fields for inner in models_in(field.annotation)]
    return frozenset(key for model in models for key in fields_by_key(model)) if lone else frozenset()


def key_exists(root: type[BaseModel], key: str) -> bool:
    """Whether a dotted key leads somewhere; items of lists by any name or number."""
    models, item_due, lone = [root], False, False
    for part in key.split("."):
        fields = [fields_by_key(model)[part] for model in models if part in fields_by_key(model)]
        if item_due and not (lone and fields):  # a name or number; one table may stand for the list
            item_due = False
            continue
        if not fields:
            return False
        models = [inner for field in fields for inner in models_in(field.annotation)]
        item_due = any(holds_list(field.annotation) for field in fields)
        lone = item_due and any(takes_one_table(field) for field in fields)
    return not lone or item_due or key.rpartition(".")[2].isdecimal()


def all_keys(root: type[BaseModel], above: str = "") -> list[str]:
    """Return every dotted key below a section, list items left out."""
    keys = []
    for key, field in fields_by_key(root).items():
        keys.append(above + key)
        for inner in models_in(field.annotation):
            keys.extend(all_keys(inner, f"{above}{key}."))
    return keys
