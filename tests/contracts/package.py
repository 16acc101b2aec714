"""The package as a reader meets it: its modules, and the functions in them."""

import ast
from collections.abc import Iterator
from pathlib import Path

PACKAGE = Path(__file__).resolve().parents[2] / "simengine"
MODULES = sorted(PACKAGE.rglob("*.py"))

Function = ast.FunctionDef | ast.AsyncFunctionDef
Definition = Function | ast.ClassDef


def name_of(path: Path) -> str:
    """Return a module's name below the package, e.g. weather.gaps."""
    return ".".join(path.relative_to(PACKAGE).with_suffix("").parts)


def tree_of(path: Path) -> ast.Module:
    """Return the syntax tree of a module."""
    return ast.parse(path.read_text(encoding="utf-8"))


def public(body: list[ast.stmt]) -> Iterator[Definition]:
    """Yield public classes and functions, those inside of public classes too."""
    for node in body:
        if isinstance(node, Definition) and not node.name.startswith("_"):
            yield node
            if isinstance(node, ast.ClassDef):
                yield from public(node.body)


def functions(path: Path) -> Iterator[tuple[str, Function]]:
    """Yield every function of a module, with its full name below the package."""

    def inside(node: ast.AST, above: str) -> Iterator[tuple[str, Function]]:
        for child in ast.iter_child_nodes(node):
            name = f"{above}.{getattr(child, 'name', '')}"
            if isinstance(child, Function):
                yield name, child
            yield from inside(child, name if isinstance(child, Definition) else above)

    yield from inside(tree_of(path), name_of(path))


def arguments(function: Function) -> list[ast.arg]:
    """Return the parameters in the order of the signature, without self and cls."""
    own = function.args
    every = (*own.posonlyargs, *own.args, *own.kwonlyargs)
    return [one for one in every if one.arg not in ("self", "cls")]


def is_command(function: Function) -> bool:
    """Whether a function is a command of the command line, whose options are told by `--help`."""
    return any(
        "command" in ast.unparse(mark) or "group" in ast.unparse(mark) for mark in function.decorator_list
    )
