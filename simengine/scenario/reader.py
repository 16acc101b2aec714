"""Reads the bytes of a scenario file into plain data, or says where they are at fault."""

import re
import tomllib
from pathlib import Path
from typing import Any, Final

from simengine.errors import ScenarioError
from simengine.units import quote

LARGEST: Final = 1_000_000
"""Largest scenario file that is read [bytes]."""

DEEPEST: Final = 30
"""Most parts of a dotted key; a scenario needs five, and the parser's time grows with their square."""

_PART: Final = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')"""
_TOO_DEEP: Final = re.compile(rf"(?<![\w-]){_PART}(?:[ \t]*+\.[ \t]*+{_PART}){{{DEEPEST}}}")
_PLACE: Final = re.compile(r"(.*) \(at (?:line (\d+), column (\d+)|end of document)\)", re.DOTALL)


def read_bytes(path: Path) -> bytes:
    """Return what a scenario file holds.

    Parameters
    ----------
    path
        The file.

    Returns
    -------
    bytes
        At most `LARGEST` of them.

    Raises
    ------
    ScenarioError
        If it cannot be read, or is no file, or is too large to be a scenario.
    """
    name = shown(path)
    try:
        if not path.is_file():
            state = "is a folder" if path.is_dir() else "does not exist"
            raise ScenarioError(
                f"{name}: {state}; accepted: a scenario file, e.g. one made by `simengine new`"
            )
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "is no usable file name"
        raise ScenarioError(
            f"{name}: cannot be read ({reason}); accepted: a readable scenario file"
        ) from None
    if len(content) > LARGEST:
        raise ScenarioError(
            f"{name}: is larger than 1 MB; accepted: a scenario file of at most {LARGEST} bytes"
        )
    return content


def decode(content: bytes, name: str) -> str:
    """Return the text of a scenario file with "\\n" line ends, whatever line ends and byte mark it came with.

    Raises
    ------
    ScenarioError
        If it is not UTF-8.

    Examples
    --------
    >>> decode(b"\\xef\\xbb\\xbfschema = 1\\r\\n", "a.toml")
    'schema = 1\\n'
    """
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        column = error.start - content.rfind(b"\n", 0, error.start)
        raise ScenarioError(
            f"{name}:{line}:{column}: this byte is not UTF-8 text; accepted: a file saved as UTF-8"
        ) from None
    return text.replace("\r\n", "\n").replace("\r", "\n")


def parse_toml(text: str, name: str) -> dict[str, Any]:
    """Return the tables of a TOML text.

    Raises
    ------
    ScenarioError
        One line with the place of the syntax error.

    Examples
    --------
    >>> parse_toml("[fan]\\nflow = '110 cfm'", "a.toml")
    {'fan': {'flow': '110 cfm'}}
    """
    if deep := _TOO_DEEP.search(text):
        line, column = text.count("\n", 0, deep.start()) + 1, deep.start() - text.rfind("\n", 0, deep.start())
        raise ScenarioError(
            f"{name}:{line}:{column}: a key of more than {DEEPEST} parts; accepted: a plain scenario"
        )
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise ScenarioError(
            f"{name}:1:1: lists or tables are nested too deeply; accepted: a plain scenario"
        ) from None
    except ValueError as error:
        raise ScenarioError(_syntax_line(str(error), text, name)) from None


def shown(path: Path | str) -> str:
    """Return a file's name for a message: printable, of limited length."""
    return quote(str(path), 200)[1:-1]


def _syntax_line(message: str, text: str, name: str) -> str:
    match = _PLACE.fullmatch(message)
    lines = text.split("\n")
    if match and match[2]:
        line, column = int(match[2]), int(match[3])
    else:
        line, column = len(lines), len(lines[-1]) + 1
    wrong = quote(match[1] if match else message, 120)[1:-1]
    seen = lines[line - 1].strip() if line <= len(lines) else ""
    before = f" in {quote(seen)}" if seen else ""
    accepted = 'lines such as width = "4 ft", [fan], # a remark'
    return f"{name}:{line}:{column}: TOML: {wrong}{before}; accepted: {accepted}"
