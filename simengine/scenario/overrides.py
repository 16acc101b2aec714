"""Changes to a scenario by dotted key: `collector.tilt = "45 deg"`, `ducts.supply.length = "3 m"`."""

import tomllib
from collections.abc import Mapping
from typing import Any

from simengine.errors import ScenarioError
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.walk import key_exists, keys_of_one_table
from simengine.units import quote

LONGEST = 10_000


def read_override(text: str) -> tuple[str, Any]:
    """Return key and value of a `KEY=VALUE` from the command line.

    Parameters
    ----------
    text
        E.g. "collector.tilt=45 deg"; the value may also be a TOML number, truth value, list or quoted text.
        Nothing behind the "=" takes the key away; an empty text is written `""`.

    Returns
    -------
    tuple
        Key and value; None for a key that is taken away.

    Raises
    ------
    ScenarioError
        If there is no key or no "=".

    Examples
    --------
    >>> read_override("collector.tilt=45 deg"), read_override("collector.segments=5")
    (('collector.tilt', '45 deg'), ('collector.segments', 5))
    """
    key, equals, value = text.partition("=")
    if not equals or not key.strip() or len(text) > LONGEST:
        raise ScenarioError(
            f'{quote(text)} changes nothing; accepted: KEY=VALUE, e.g. "collector.tilt=45 deg"'
        )
    return key.strip(), _literal(value.strip()) if value.strip() else None


def apply(
    data: Mapping[str, Any], changes: Mapping[str, Any]
) -> tuple[dict[str, Any], list[tuple[str | int, ...]]]:
    """Return a changed copy of the tables, and the paths that were changed.

    Parameters
    ----------
    data
        Raw tables of a scenario.
    changes
        Dotted key to value; items of lists by their name or their number from 1; None takes a key or an
        item away.

    Returns
    -------
    tuple
        Tables and paths.

    Raises
    ------
    ScenarioError
        One line for each key that leads nowhere.

    Examples
    --------
    >>> apply({"fan": {"flow": "90 cfm"}}, {"fan.flow": "110 cfm"})[0]
    {'fan': {'flow': '110 cfm'}}
    """
    changed = copied(dict(data))
    unknown = [key for key, value in changes.items() if value is None and not key_exists(Inputs, key)]
    if unknown:
        wrong = "is no key that could be taken away; accepted: a key of the scenario"
        raise ScenarioError(*(f"(changed): {quote(key)} {wrong}" for key in unknown))
    paths: list[tuple[str | int, ...]] = []
    problems: list[str] = []
    for key, value in changes.items():
        try:
            paths.append(_set(changed, key, value))
        except ScenarioError as error:
            problems.extend(error.problems)
    if problems:
        raise ScenarioError(*problems)
    return changed, paths


def copied(value: Any) -> Any:
    """Return a copy of plain tables and lists down to their values, which nobody can change.

    >>> copied({"site": {"horizon": [[90, 5]]}})
    {'site': {'horizon': [[90, 5]]}}
    """
    if isinstance(value, dict):
        return {key: copied(item) for key, item in value.items()}
    return [copied(item) for item in value] if isinstance(value, list) else value


def _literal(value: str) -> Any:
    try:
        read = tomllib.loads(f"v = {value}")
    except (ValueError, RecursionError):
        return value
    return read["v"] if set(read) == {"v"} else value


def _set(data: dict[str, Any], key: str, value: Any) -> tuple[str | int, ...]:
    parts = key.split(".")
    path: tuple[str | int, ...] = ()
    here: Any = data
    for number, part in enumerate(parts):
        last = number == len(parts) - 1
        keys = keys_of_one_table(Inputs, tuple(parts[:number]))  # such as [heating] for one [[heating]]
        if isinstance(here, list) and len(here) == 1 and part in keys:
            path, here = (*path, 0), here[0]
        elif keys and isinstance(here, dict) and part not in keys and not last and _is_item(here, part, 0):
            continue
        index = _index(here, part, key)
        path = (*path, index)
        if last:
            _put(here, index, value)
        elif isinstance(here, dict):
            if value is None and part not in here:
                return path  # nothing there to take away
            here = here.setdefault(part, {})
        else:
            here = here[index]
    return path


def _index(here: Any, part: str, key: str) -> str | int:
    if isinstance(here, dict):
        return part
    where = f"(changed): {quote(key)[1:-1]}"
    if not isinstance(here, list):
        wrong = f"{quote(part)} lies below a single value"
        raise ScenarioError(f"{where}: {wrong}; accepted: a key of the scenario")
    for number, item in enumerate(here):
        if _is_item(item, part, number):
            return number
    names = [
        str(item.get("name", n + 1)) if isinstance(item, dict) else str(n + 1) for n, item in enumerate(here)
    ]
    known = quote(", ".join(names))[1:-1]
    raise ScenarioError(
        f"{where}: there is no item {quote(part)}; accepted: a number from 1, or a name: {known}"
    )


def _is_item(item: Any, part: str, number: int) -> bool:
    """Whether a part of a key means this item: by its number from 1, or by its name."""
    return part == str(number + 1) or (isinstance(item, dict) and item.get("name") == part)


def _put(here: Any, index: Any, value: Any) -> None:
    if value is None and isinstance(here, dict):
        here.pop(index, None)
    elif value is None:
        del here[index]
    else:
        here[index] = copied(value)
