"""Writes a commented scenario to start from, out of the schema itself."""

from collections.abc import Iterator, Mapping
from typing import Any

from pydantic import BaseModel
from pydantic.fields import FieldInfo
from pydantic_core import PydanticUndefined

from simengine.scenario.overrides import apply
from simengine.scenario.scenario import Scenario
from simengine.scenario.schema import SCHEMA, Inputs
from simengine.scenario.schema.walk import about, example_line, fields_by_key, kinds_of, models_in, toml

START: dict[str, Any] = {
    "schema": SCHEMA,
    "title": "My collector",
    "site": {"weather": "builtin:greensboro"},
    "collector": {
        "width": "4 ft",
        "height": "8 ft",
        "tilt": "90 deg",
        "azimuth": "180 deg",
        "arrangement": "behind",
        "cover": [{"construction": "clear_tempered_4mm"}],
        "absorber": {"construction": "flat_black_aluminium_sheet"},
        "front_gap": {"depth": "1 in"},
        "rear_gap": {"depth": "1 1/2 in"},
        "back": {"layers": [{"construction": "mineral_wool_board", "thickness": "2 in"}]},
        "edge": {"conductance": "1 W/K"},
    },
    "fan": {"flow": "3 cfm/ft2", "power": "25 W"},
    "control": {"kind": "differential", "start": "9 K", "stop": "3 K"},
    "ducts": [
        {"name": "supply", "length": "6 ft", "diameter": "6 in", "insulation": "R-6"},
        {"name": "return", "length": "6 ft", "diameter": "6 in", "insulation": "R-6"},
    ],
    "heating": {"fuel": "heating_oil", "efficiency": 0.8},
}
"""What the new scenario starts with."""

HEAD = """\
# A scenario for simengine, to start from.
#
# Lines that begin with "# key = " show what else may be set: with its default or an example.
# A value is text with its unit ("4 ft", "1.2 m", "110 cfm", "R-6"), metric or US; shares and counts are plain
# numbers. `simengine check FILE` prints how the program understands this file.
"""
WIDTH = 44
REPEATS = "spots"
"""The section whose inner sections are those of another one."""


def template(changes: Mapping[str, Any] | None = None) -> str:
    """Return the text of a new scenario: required keys set, the others as remarks with their defaults.

    Parameters
    ----------
    changes
        Dotted key to value, set besides or in the place of what a new scenario starts with.

    Returns
    -------
    str
        TOML that loads as it is.

    Raises
    ------
    ScenarioError
        The changes make no scenario; one line each.

    Examples
    --------
    >>> template().splitlines()[6][:12]
    'schema = 1  '
    """
    start, _ = apply(START, changes or {})
    Scenario.from_dict(start, name="new scenario")
    return "\n".join([HEAD, *_section(Inputs, start, ())]) + "\n"


def _section(model: type[BaseModel], start: Mapping[str, Any] | None, path: tuple[str, ...]) -> Iterator[str]:
    """Lines of a section; all of them remarks where there is no start."""
    fields = fields_by_key(model)
    for key, field in fields.items():
        if not models_in(field.annotation):
            yield _line(key, field, start, ".".join(path))
    for key, field in fields.items():
        if models_in(field.annotation):
            yield from _tables(key, field, None if start is None else start.get(key), (*path, key))


def _tables(key: str, field: FieldInfo, start: Any, path: tuple[str, ...]) -> Iterator[str]:
    heading = example_line(key, field, ".".join(path[:-1]))
    if isinstance(start, Mapping) and heading.startswith("[["):
        heading = heading[1:-1]  # one table in the place of a list
    models = models_in(field.annotation)
    if path[0] == REPEATS and len(path) > 1:
        yield from ("", f"# {about(models[0])}", f"# {heading}")
        return
    used = set()
    for item in start if isinstance(start, list) else [start]:
        kind = item.get("kind", item.get("part")) if item is not None else None
        model = next((m for m in models if kind is not None and kind in kinds_of(m)), models[0])
        used.add(model)
        yield ""
        yield f"# {about(model)}"
        yield heading if item is not None else f"# {heading}"
        yield from _section(model, item, path)
    for model in models:  # the other kinds that could stand there, as remarks
        if model not in used:
            yield ""
            yield f"# {about(model)}"
            yield f"# {heading}"
            yield from _section(model, None, path)


def _line(key: str, field: FieldInfo, start: Mapping[str, Any] | None, above: str) -> str:
    words = field.description or ""
    if start is not None and key in start:
        return _beside(f"{key} = {toml(start[key])}", words)
    if field.default in (None, PydanticUndefined, "", (), {}):
        return _beside(f"# {example_line(key, field, above)}", words)
    return _beside(f"# {key} = {toml(field.default)}", f"{words} (default)")


def _beside(text: str, words: str) -> str:
    return f"{text.ljust(WIDTH)}# {words}" if len(text) < WIDTH else f"{text}  # {words}"
