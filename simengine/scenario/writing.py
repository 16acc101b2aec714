"""Writes the tables of a scenario as a TOML file."""

import datetime
import json
import re
from collections.abc import Iterator, Mapping
from typing import Any

_BARE = re.compile(r"[A-Za-z0-9_-]+", re.ASCII)


def as_toml(data: Mapping[str, Any], remarks: tuple[str, ...] = ()) -> str:
    """Return the text of a scenario file that holds these tables.

    Parameters
    ----------
    data
        Tables, lists, text, numbers, truth values and dates, as TOML gives them.
    remarks
        Lines that stand at the head, each behind a "#".

    Returns
    -------
    str
        TOML; read again, it gives the same data.

    Examples
    --------
    >>> print(as_toml({"schema": 1, "fan": {"flow": "110 cfm"}}))
    schema = 1
    <BLANKLINE>
    [fan]
    flow = "110 cfm"
    <BLANKLINE>
    """
    head = [f"# {' '.join(remark.split())}" for remark in remarks]
    return "\n".join([*head, *([""] if head else []), *_table(data, ())]) + "\n"


def _table(data: Mapping[str, Any], path: tuple[str, ...]) -> Iterator[str]:
    inner = {key: value for key, value in data.items() if _is_table(value)}
    for key, value in data.items():
        if key not in inner:
            yield f"{_key(key)} = {_value(value)}"
    for key, value in inner.items():
        here = (*path, key)
        name = ".".join(map(_key, here))
        for item in value if isinstance(value, list) else [value]:
            yield ""
            yield f"[[{name}]]" if isinstance(value, list) else f"[{name}]"
            yield from _table(item, here)


def _is_table(value: Any) -> bool:
    if isinstance(value, list | tuple):
        return bool(value) and all(isinstance(item, Mapping) for item in value)
    return isinstance(value, Mapping)


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else _text(key)


def _value(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, datetime.date | datetime.time):
        return value.isoformat()
    if isinstance(value, list | tuple):
        return f"[{', '.join(map(_value, value))}]"
    if isinstance(value, Mapping):
        return f"{{ {', '.join(f'{_key(key)} = {_value(item)}' for key, item in value.items())} }}"
    return repr(value) if isinstance(value, int | float) else _text(str(value))


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")
