"""Every module says what it is for, and every public function and class says what it does."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).resolve().parents[2] / "simengine"
MODULES = sorted(PACKAGE.rglob("*.py"))
PHYSICS = ("air", "heat_transfer", "airflow", "collector", "house", "control", "engine")

CORRELATIONS = [
    (path, node)
    for room in ("air", "heat_transfer")
    for path in sorted((PACKAGE / room).glob("*.py"))
    for node in ast.parse(path.read_text(encoding="utf-8")).body
    if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
]

Definition = ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef


def name_of(path: Path) -> str:
    return path.relative_to(PACKAGE).as_posix()


def public(body: list[ast.stmt]) -> Iterator[Definition]:
    for node in body:
        if isinstance(node, Definition) and not node.name.startswith("_"):
            yield node
            if isinstance(node, ast.ClassDef):
                yield from public(node.body)


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_module_opens_with_one_sentence(path: Path) -> None:
    opening = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8")))
    assert opening, "a module opens with one sentence that says what it is for"
    assert opening.split("\n\n")[0].rstrip().endswith((".", "?", "!", ":", ")")), opening


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_public_functions_and_classes_say_what_they_do(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    mute = [f"{node.name} (line {node.lineno})" for node in public(tree.body) if not ast.get_docstring(node)]
    assert not mute


def undescribed(function: ast.FunctionDef) -> list[str]:
    """Return the parameters that the docstring leaves out, and the numbers that it gives no unit."""
    text = ast.get_docstring(function) or ""
    lacking = []
    for argument in (*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs):
        entry = re.search(rf"^(?:\w+, )*{argument.arg}(?:, \w+)* *:.*(?:\n +.*)*", text, re.MULTILINE)
        number = argument.annotation is not None and ast.unparse(argument.annotation) == "float"
        if entry is None or (number and "[" not in entry.group()):
            lacking.append(argument.arg)
    return lacking


@pytest.mark.parametrize(
    "function",
    [node for _, node in CORRELATIONS],
    ids=[f"{path.stem}.{node.name}" for path, node in CORRELATIONS],
)
def test_each_correlation_gives_units_and_a_number_to_check(function: ast.FunctionDef) -> None:
    assert not undescribed(function)
    assert ">>>" in (ast.get_docstring(function) or "")


def test_a_number_without_a_unit_is_noticed() -> None:
    docstring = "F.\\n\\na : float\\n    Width [m].\\nb : float\\n    Depth."
    function = ast.parse(f"def f(a: float, b: float):\n    '{docstring}'")
    assert undescribed(function.body[0]) == ["b"]


def test_walk_finds_the_rooms() -> None:
    rooms = {path.relative_to(PACKAGE).parts[0] for path in MODULES}
    assert set(PHYSICS) <= rooms
