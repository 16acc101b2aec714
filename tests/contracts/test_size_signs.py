"""Signs that something wants another look: long modules, long functions, many parameters, deep branches.

A sign is no fault. What shows one is listed here, with the reason why it stays as it is.
"""

import ast
from collections.abc import Iterator

import pytest

from tests.contracts.package import MODULES, Function, arguments, functions, is_command, name_of

LONGEST_MODULE = 250
LONGEST_FUNCTION = 40
"""Lines without the docstring."""
MOST_PARAMETERS = 6
DEEPEST = 3

TABLE = "a table of parts with their figures and sources: one idea, row after row"
LANE = "march: arrays go in by name, since a compiled function takes no objects that hold memory"
BALANCE = "one set of simultaneous equations, written as they stand in the books"
MODULE_REASONS = {
    "airflow.circuit": "one circuit: parts in, resistance out",
    "airflow.fan_curve": "one curve, the ways to give it, and the fan laws",
    "airflow.parts": TABLE,
    "collector.build": "one collector: specification in, the march's arrays out",
    "results.store": "one result on disk, written and read, with what damaged files raise",
    "vector_types": "the kinds of values in a block and their operations, one after the other",
}
FUNCTION_REASONS = {
    "collector.balance.eliminate": BALANCE,
    "collector.segments.freeze_segment": BALANCE,
    "engine.rooms._settle_both": BALANCE,
}
PARAMETER_REASONS = {
    "airflow.duct.duct_loss": "a published relation with its seven figures",
    "airflow.solved_loop.solve_loop": "two circuits, a fan and the air they hold at each end",
    "airflow.thermosiphon.reverse_night_flow": "a worked example of a handbook with its seven figures",
    "collector.segments.freeze_segment": LANE,
    "collector.settle.heat_losses": LANE,
    "collector.settle.settle_segment": LANE,
    "collector.steady._settle": LANE,
    "collector.segments._freeze_pane": LANE,
    "collector.segments.load_segment": LANE,
    "collector.settle._behind_face": LANE,
    "engine.march._march": LANE,
    "engine.march.march_house": LANE,
    "engine.rooms._settle_both": LANE,
    "engine.rooms.house_alone": LANE,
    "engine.rooms.settle_rooms": LANE,
    "engine.stage._enter_air": LANE,
    "engine.stage._enter_box": LANE,
    "engine.stage._read_sensors": LANE,
    "heat_transfer.top_loss.klein_top_loss": "a published relation with its seven figures",
    "house.second_space.link_second": LANE,
    "house.second_space.settle_second": LANE,
    "batch.optimise.best": "three say what is sought; the others, by name, how much work it may be",
    "simulate.operating_point.point": "the seven conditions of a point, each of which may be left out",
    "vector_types.teach": "the six functions of `vector` that take blocks, and their width",
    "sun.transposition.plane_irradiance": "what a transposition model takes",
}
DEPTH_REASONS = {
    "engine.march._march": "intervals end lane by lane, within the turns of a block",
}

EVERY = [(name, node) for path in MODULES for name, node in functions(path)]


def body_lines(function: Function) -> int:
    """Return the lines of a function without its docstring."""
    first = function.body[0]
    text = isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)
    told = (first.end_lineno or 0) - first.lineno + 1 if text else 0
    return (function.end_lineno or 0) - function.lineno + 1 - told


def depth(node: ast.AST) -> int:
    """Return how deep branches and loops stand inside each other; elif is no deeper than if."""

    def below(child: ast.AST) -> int:
        if isinstance(child, Function | ast.ClassDef | ast.Lambda):
            return 0
        again = isinstance(node, ast.If) and isinstance(child, ast.If) and node.orelse == [child]
        return depth(child) + (isinstance(child, ast.If | ast.For | ast.While | ast.Try) and not again)

    return max(map(below, ast.iter_child_nodes(node)), default=0)


def long_modules() -> Iterator[str]:
    """Yield modules over the sign."""
    for path in MODULES:
        if len(path.read_text(encoding="utf-8").splitlines()) > LONGEST_MODULE:
            yield name_of(path)


SIGNS = {
    "long modules": (set(long_modules()), MODULE_REASONS),
    "long functions": (
        {name for name, node in EVERY if body_lines(node) > LONGEST_FUNCTION},
        FUNCTION_REASONS,
    ),
    "many parameters": (
        {name for name, node in EVERY if len(arguments(node)) > MOST_PARAMETERS and not is_command(node)},
        PARAMETER_REASONS,
    ),
    "deep branches": ({name for name, node in EVERY if depth(node) > DEEPEST}, DEPTH_REASONS),
}


@pytest.mark.parametrize("sign", SIGNS)
def test_whatever_shows_a_sign_has_its_reason_and_no_reason_is_left_over(sign: str) -> None:
    found, reasons = SIGNS[sign]
    assert not found - set(reasons), "split it by idea, or give the reason"
    assert not set(reasons) - found, "no longer needed"


def test_the_median_module_is_short() -> None:
    sizes = sorted(len(path.read_text(encoding="utf-8").splitlines()) for path in MODULES)
    assert sizes[len(sizes) // 2] <= 120


def test_depth_counts_what_stands_inside() -> None:
    text = "def f():\n for a in b:\n  if a:\n   pass\n  elif b:\n   while c:\n    pass"
    assert depth(ast.parse(text).body[0]) == 3
