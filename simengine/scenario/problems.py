"""Turns what the schema refused into lines: where, which key, what is wrong, what is accepted."""

import difflib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from simengine.scenario.schema import Inputs
from simengine.scenario.schema.reading import describe, nearest
from simengine.scenario.schema.walk import example_line, fields_by_key, kinds_of, models_in, tag_of
from simengine.units import quote

Path = tuple[str | int, ...]
MOST = 200
"""Most problems that are written out."""
LOOKED_AT = 1000
"""Most problems that a sentence is found for; a file with more is no scenario."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault: the path of the key and the sentence about it."""

    path: Path
    sentence: str


def problems_of(error: ValidationError, data: Mapping[str, Any]) -> tuple[list[Problem], int]:
    """Return the problems of a refused scenario in the order of the schema, and how many are left out.

    Parameters
    ----------
    error
        What the schema raised for `data`.
    data
        The raw tables.

    Returns
    -------
    list of Problem
        Paths as they stand in the data.
    int
        Problems beyond the first `LOOKED_AT`.
    """
    every = error.errors(include_url=False)
    items = every[:LOOKED_AT]
    strangers: dict[Path, list[str]] = {}
    for item in items:
        if item["type"] == "extra_forbidden":
            strangers.setdefault(tuple(item["loc"][:-1]), []).append(str(item["loc"][-1]))
    told = [item for item in items if not _is_echo(item, strangers, data)]
    return [problem for item in told for problem in _each(item, data)], len(every) - len(items)


def key_text(path: Path) -> str:
    """Return a path as a dotted key; list items count from 1.

    Examples
    --------
    >>> key_text(("collector", "cover", 0, "gap"))
    'collector.cover.1.gap'
    """
    parts = [str(part + 1) if isinstance(part, int) else quote(part, 40)[1:-1] for part in path]
    return ".".join(parts)


def _in_data(location: Sequence[str | int], data: Any) -> Path:
    """Drop from a location the parts that name a choice of section, not a key."""
    path: list[str | int] = []
    here = data
    models: list[type[BaseModel]] = [Inputs]
    for part in location:
        chosen = _chosen(models, here) if len(models) > 1 else []
        lone = isinstance(here, Mapping) and isinstance(part, int)  # one table in the place of a list
        marks_key = part == "[key]" and not (isinstance(here, Mapping) and part in here)
        if chosen and part in kinds_of(chosen[0]):
            models = chosen
        elif not lone and not marks_key:
            path.append(part)
            here = _step(here, part)
            models = models if isinstance(part, int) else _below(chosen or models, part)
    return tuple(path)


def _chosen(models: list[type[BaseModel]], table: Any) -> list[type[BaseModel]]:
    """Return the one of several sections that a table says it is, nothing where it says none of them."""
    if not isinstance(table, Mapping):
        return []
    return [model for model in models if table.get(tag_of(model)) in kinds_of(model)]


def _below(models: list[type[BaseModel]], key: str) -> list[type[BaseModel]]:
    return [inner for model in models for inner in models_in(_annotation(model, key))]


def _is_echo(item: Any, strangers: Mapping[Path, list[str]], data: Mapping[str, Any]) -> bool:
    """Whether a problem only follows from another one, such as a misspelt key, that has its own line."""
    place = tuple(item["loc"])
    if item["type"] == "too_short" and item["input"]:
        return True  # its items are at fault, each by itself
    if item["type"] != "missing":
        return False
    known = _keys_of_section(_in_data(place, data)[:-1], data)
    return any(
        place[-1] in difflib.get_close_matches(word[:80], known, n=1, cutoff=0.6)
        for word in strangers.get(place[:-1], ())
    )


def _each(item: Any, data: Mapping[str, Any]) -> Iterator[Problem]:
    path, value, kind = _in_data(item["loc"], data), item["input"], item["type"]
    if kind == "faults":
        for fault in item["ctx"]["faults"]:
            yield Problem(_in_data((*path, *fault.at), data), fault.sentence)
    elif kind == "scenario":
        yield Problem(path, item["msg"])
    elif kind in _SENTENCES:
        yield Problem(path, _SENTENCES[kind](value, path, data))
    else:
        yield Problem(path, f"{quote(item['msg'])[1:-1]}; accepted: see `simengine schema`")


def _unknown_key(value: Any, path: Path, data: Any) -> str:
    word, known = str(path[-1]), _keys_of_section(path[:-1], data)
    hint = nearest(word, known) or _elsewhere(word)
    return f"unknown key {quote(word)}{hint}; accepted: {', '.join(known)}"


def _missing(value: Any, path: Path, data: Any) -> str:
    field = _section(path[:-1], data)[str(path[-1])]
    above = ".".join(str(part) for part in path[:-1] if isinstance(part, str))
    return f"is missing; accepted: {example_line(str(path[-1]), field, above)} ({field.description})"


def _no_table(value: Any, path: Path, data: Any) -> str:
    keys = ", ".join(_keys_of_section(path, data))
    return f"{describe(value)} where a table is due; accepted: a table" + (f" of {keys}" if keys else "")


def _no_list(value: Any, path: Path, data: Any) -> str:
    return f"{describe(value)} where a list is due; accepted: a list, or [[{key_text(path)}]]"


def _too_short(value: Any, path: Path, data: Any) -> str:
    return "is empty; accepted: at least one item"


def _too_long(value: Any, path: Path, data: Any) -> str:
    return f"has {len(value)} items, which is more than is read; accepted: a shorter list"


def _no_kind(value: Any, path: Path, data: Any) -> str:
    tag, kinds = _tags(path)
    given = value.get(tag) if isinstance(value, Mapping) else value
    wrong = f"{tag} is missing" if given is None else f"{tag} {describe(given)} is not known"
    hint = nearest(str(given), kinds) if isinstance(given, str) else ""
    return f"{wrong}{hint}; accepted: {', '.join(kinds)}"


_SENTENCES: dict[str, Callable[[Any, Path, Any], str]] = {
    "extra_forbidden": _unknown_key,
    "missing": _missing,
    "model_type": _no_table,
    "model_attributes_type": _no_table,
    "dict_type": _no_table,
    "tuple_type": _no_list,
    "too_short": _too_short,
    "too_long": _too_long,
    "union_tag_invalid": _no_kind,
    "union_tag_not_found": _no_kind,
}
"""What to say for each kind of refusal of the validation library."""


def _tags(path: Path) -> tuple[str, tuple[str, ...]]:
    """Return the key that tells the kind of a section, and the kinds that there are."""
    sections = _models(path)
    return tag_of(sections[0]), tuple(kind for model in sections for kind in kinds_of(model))


def _models(path: Path, data: Any = None) -> list[type[BaseModel]]:
    models: list[type[BaseModel]] = [Inputs]
    here = data
    for part in path:
        here = _step(here, part)
        models = models if isinstance(part, int) else _below(models, part)
        if len(models) > 1:
            models = _chosen(models, here) or models
    return models


def _step(here: Any, part: str | int) -> Any:
    try:
        return here[part]
    except (KeyError, IndexError, TypeError):
        return None


def _annotation(model: type[BaseModel], key: str) -> Any:
    field = fields_by_key(model).get(key)
    return field.annotation if field is not None else None


def _section(path: Path, data: Any) -> dict[str, FieldInfo]:
    return {key: field for model in _models(path, data) for key, field in fields_by_key(model).items()}


def _keys_of_section(path: Path, data: Any) -> tuple[str, ...]:
    return tuple(_section(path, data))


def _elsewhere(word: str, model: type[BaseModel] = Inputs, above: tuple[str, ...] = ()) -> str:
    """Return a hint at the section that has this very key."""
    for key, field in fields_by_key(model).items():
        if key == word and above:
            return f", it belongs in [{'.'.join(above)}]"
        for inner in models_in(field.annotation):
            if hint := _elsewhere(word, inner, (*above, key)):
                return hint
    return ""
