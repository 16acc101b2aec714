"""Makes docs/cited_values.md: what the tests hold the program against, with source, expected and got.

python docs/scripts/cited_values.py

Runs the tests of the rooms below and notes every comparison with a tolerance beside which a comment names a
source and its standing. What a test compares with other parts of the program is not listed.
"""

import ast
import inspect
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from types import FrameType
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
PAGE = ROOT / "docs" / "cited_values.md"
ROOMS = (
    "air",
    "sun",
    "weather",
    "heat_transfer",
    "airflow",
    "collector",
    "house",
    "control",
    "economics",
    "units",
)

STANDINGS = {
    "from memory": "from memory",
    "published": "published",
    "read": "published, read",
    "identity": "mathematics",
    "mathematics": "mathematics",
    "closed form": "mathematics",
    "definition": "mathematics",
    "derived": "mathematics",
    "independent solution": "independent solution",
    "common practice": "common practice",
}
"""Words of a comment, and the standing that they mean."""

HEAD = """# Cited values

What the tests hold the program against: numbers from standards, handbooks, published data, mathematics
and independent solutions, each with its source as the test names it. "Got" is what the program gave when
this page was made by `docs/scripts/cited_values.py`; the tests hold every line on every run. "From memory"
means that the print was not at hand.
"""


@dataclass(frozen=True)
class Cited:
    """One comparison."""

    test: str
    source: str
    standing: str
    expected: str
    got: str


@dataclass(eq=False)
class Collector:
    """A plugin that listens to `pytest.approx`."""

    found: list[Cited] = field(default_factory=list)
    test: str = ""

    def pytest_runtest_setup(self, item: Any) -> None:
        """Note which test runs."""
        self.test = item.nodeid

    def heard(self, expected: Any, got: Any) -> None:
        """Note a comparison of two numbers, if a source stands beside it."""
        if not all(isinstance(value, int | float) for value in (expected, got)):
            return
        frame = _test_frame()
        if frame is None:
            return
        source = _source(Path(frame.f_code.co_filename), frame.f_code.co_name, frame.f_lineno, self.test)
        standing = next((word for key, word in STANDINGS.items() if key in source), "")
        if standing:
            self.found.append(Cited(self.test, source, standing, f"{expected:.6g}", f"{got:.6g}"))


def main() -> None:
    """Run the tests and write the page."""
    collector = Collector()
    _listen(collector)
    folders = [str(ROOT / "tests" / room) for room in ROOMS]
    status = pytest.main(["-q", "-p", "no:cacheprovider", "-x", *folders], plugins=[collector])
    if status != 0:
        raise SystemExit("the tests do not pass: no page was written")
    PAGE.write_text(page(collector.found), encoding="utf-8")


def page(found: list[Cited]) -> str:
    """Return the page: one table a room."""
    parts = [HEAD]
    for room in ROOMS:
        rows = dict.fromkeys(cited for cited in found if cited.test.startswith(f"tests/{room}/"))
        if rows:
            parts += [f"## {room.replace('_', ' ').capitalize()}", "", *_table(list(rows)), ""]
    return "\n".join(parts).rstrip() + "\n"


def _table(rows: list[Cited]) -> list[str]:
    """Return the lines of a table; a source is written once for the rows that share it."""
    lines = ["| test | expected | got | standing | source |", "|---|---|---|---|---|"]
    last = ""
    for cited in rows:
        name, _, case = cited.test.rpartition("::")[2].partition("[")
        source = re.sub(r"\s+", " ", cited.source).replace("|", "/").strip()
        what = f"`{name}`" + (f" {case.removesuffix(']')[:60]}" if case else "")
        shown = "as above" if source == last else source
        lines.append(
            f"| {what.replace('|', '/')} | {cited.expected} | {cited.got} | {cited.standing} | {shown} |"
        )
        last = source
    return lines


def _listen(collector: Collector) -> None:
    kind = type(pytest.approx(1.0))
    plain = kind.__eq__

    def heard(self: Any, actual: Any) -> bool:
        collector.heard(self.expected, actual)
        return bool(plain(self, actual))

    kind.__eq__ = heard  # type: ignore[method-assign]


def _test_frame() -> FrameType | None:
    """Return the frame of the test function that compares."""
    frame = inspect.currentframe()
    while frame is not None:
        if frame.f_code.co_name.startswith("test_") and "tests" in frame.f_code.co_filename:
            return frame
        frame = frame.f_back
    return None


@cache
def _lines(path: Path) -> tuple[str, ...]:
    return tuple(path.read_text(encoding="utf-8").splitlines())


@cache
def _functions(path: Path) -> dict[str, ast.FunctionDef]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    return {node.name: node for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}


def _source(path: Path, name: str, line: int, test: str) -> str:
    """Return the comments beside a comparison, beside its parameters and above its test."""
    function = _functions(path).get(name)
    beside = [*_above(path, line), *_comment(path, line)]
    if function is None:
        return " ".join(beside)
    for decorator in function.decorator_list:
        beside += _of_parameters(path, decorator, test)
    first = min([function.lineno, *(decorator.lineno for decorator in function.decorator_list)])
    return " ".join([*_above(path, first), *beside])


def _of_parameters(path: Path, decorator: ast.expr, test: str) -> list[str]:
    """Return the comments in the item of a parameter list that this run took, if it can be told."""
    if not isinstance(decorator, ast.Call) or len(decorator.args) < 2:
        return []
    items = decorator.args[1]
    if not isinstance(items, ast.List | ast.Tuple):
        return []
    texts = [ast.unparse(item) for item in items.elts]
    for item, text in zip(items.elts, texts, strict=True):
        words = [word for word in re.findall(r"[\w.+-]+", text) if len(word) > 1]
        if words and all(word.strip("'\"") in test for word in words[:2]):
            last = item.end_lineno or item.lineno
            return [note for number in range(item.lineno, last + 1) for note in _comment(path, number)]
    return []


def _above(path: Path, line: int) -> list[str]:
    """Return the whole-line comments right above a line, in their order."""
    lines, found = _lines(path), []
    number = line - 2
    while number >= 0 and lines[number].strip().startswith("#"):
        found.append(lines[number].strip().lstrip("# "))
        number -= 1
    return [text for text in reversed(found) if not text.startswith("----")]


def _comment(path: Path, line: int) -> Iterator[str]:
    text = _lines(path)[line - 1]
    if "#" in text and not text.strip().startswith("#"):
        yield text.rpartition("#")[2].strip()


if __name__ == "__main__":
    sys.exit(main())
