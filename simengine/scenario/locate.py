"""Finds where in a TOML text a key stands, so that a message can name line and column."""

import re
import tomllib
from bisect import bisect_right
from typing import Final

Path = tuple[str | int, ...]
Place = tuple[int, int]

_BARE: Final = re.compile(r"[A-Za-z0-9_-]+")
_BLANK: Final = re.compile(r"(?:[ \t\n,]|#[^\n]*)*")
_SPACE: Final = re.compile(r"[ \t]*")
_SCALAR: Final = re.compile(r"[^,\]}\n#]*")
_STRINGS: Final = tuple(
    re.compile(pattern, re.DOTALL)
    for pattern in (r'"""(?:\\.|[^\\])*?"{3,5}', r"'''.*?'{3,5}", r'"(?:\\.|[^"\\\n])*"', r"'[^'\n]*'")
)


def locate(text: str) -> dict[Path, Place]:
    """Return line and column, counted from 1, of every key, table and list item.

    Parameters
    ----------
    text
        TOML that a TOML reader has accepted, with "\\n" line ends.

    Returns
    -------
    dict
        Path of names and list positions (from 0) to (line, column) of the key or item.

    Examples
    --------
    >>> locate("[fan]\\nflow = '110 cfm'")[("fan", "flow")]
    (2, 1)
    """
    return _Scan(text).run()


class _Scan:
    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0
        self.found: dict[Path, Place] = {}
        self.lists: dict[Path, int] = {}
        self.starts = [0, *(match.end() for match in re.finditer("\n", text))]

    def run(self) -> dict[Path, Place]:
        table: Path = ()
        self._skip(_BLANK)
        while self.at < len(self.text):
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)
            self._skip(_BLANK)
        return self.found

    def _skip(self, pattern: re.Pattern[str]) -> str:
        match = pattern.match(self.text, self.at)
        self.at = match.end() if match else self.at + 1
        return match.group() if match else ""

    def _note(self, path: Path, at: int) -> None:
        if path not in self.found:
            line = bisect_right(self.starts, at) - 1
            self.found[path] = (line + 1, at - self.starts[line] + 1)

    def _header(self) -> Path:
        start = self.at
        double = self.text.startswith("[[", start)
        self.at += 2 if double else 1
        names = self._names()
        path: Path = ()
        for number, name in enumerate(names, start=1):
            path = (*path, name)
            self._note(path, start)
            if number == len(names) and double:
                self.lists[path] = self.lists.get(path, -1) + 1
            if path in self.lists:
                path = (*path, self.lists[path])
                self._note(path, start)
        self.at += 2 if double else 1
        return path

    def _names(self) -> list[str]:
        """Read a dotted name; stop before what follows it."""
        names = []
        while True:
            self._skip(_SPACE)
            quoted = self.text[self.at : self.at + 1] in ("'", '"')
            names.append(self._string() if quoted else self._skip(_BARE))
            self._skip(_SPACE)
            if self.text[self.at : self.at + 1] != ".":
                return names
            self.at += 1

    def _string(self) -> str:
        for pattern in _STRINGS:
            if match := pattern.match(self.text, self.at):
                self.at = match.end()
                body = match.group()[1:-1]
                return _unescaped(body) if match.group()[0] == '"' else body
        self.at += 1
        return ""

    def _pair(self, table: Path) -> None:
        start = self.at
        names = self._names()
        path = table
        for name in names:
            path = (*path, name)
            self._note(path, start)
        self.at += 1  # the equals sign
        self._skip(_SPACE)
        self._value(path)

    def _value(self, path: Path) -> None:
        head = self.text[self.at : self.at + 1]
        if head in ("'", '"') and head:
            self._string()
        elif head in ("[", "{") and head:
            self._inside(path, head)
        else:
            self._skip(_SCALAR)

    def _inside(self, path: Path, head: str) -> None:
        close, item = ("]" if head == "[" else "}"), 0
        self.at += 1
        self._skip(_BLANK)
        while self.at < len(self.text) and self.text[self.at] != close:
            if head == "[":
                self._note((*path, item), self.at)
                self._value((*path, item))
                item += 1
            else:
                self._pair(path)
            self._skip(_BLANK)
        self.at += 1


def _unescaped(body: str) -> str:
    try:
        return str(tomllib.loads(f'k = "{body}"')["k"])
    except tomllib.TOMLDecodeError:
        return body
