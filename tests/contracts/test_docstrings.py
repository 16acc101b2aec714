"""Every module says what it is for, and every public function and class says what it does."""

import ast
import re
from pathlib import Path

import pytest

from tests.contracts.package import (
    MODULES,
    PACKAGE,
    Function,
    arguments,
    is_command,
    name_of,
    public,
    tree_of,
)

PHYSICS = ("air", "heat_transfer", "airflow", "collector", "house", "control", "engine")
NUMBER = re.compile(r"\b(float|Array|Floats|FloatArray)\b")
SECTION = re.compile(r"^Parameters\n-+\n(.*?)(?=^\w[^\n]*\n---|\Z)", re.MULTILINE | re.DOTALL)
ENTRY = re.compile(r"^\*{0,2}(\w+(?:, \w+)*) *(?::.*)?(?:\n(?: +.*|))*", re.MULTILINE)
TOLD = re.compile(r"(Return|Yield|Whether|Say|Write|Read|Give|Make|Keep|Run|March|Find|Load|Take)")
SHORT = 2
"""So many parameters need no section of their own, if the sentence tells their units."""

ROW = "reads a row of the march's arrays, whose units stand beside the names of its tuple"
LANE = "works on the march's arrays, whose names and units stand in engine.state"
IN_PLACE = "changes what it is given and says so; there is nothing to return but a count or a flag"
EXCEPTIONS = {
    "airflow.passive.read_passive": ROW,
    "collector.network.read_air_flow": ROW,
    "collector.network.read_box": ROW,
    "collector.network.read_path": ROW,
    "collector.network.read_weather": ROW,
    "collector.segments.read_flow_table": ROW,
    "control.rule.read_rule": ROW,
    "house.second_space.read_second": ROW,
    "house.second_space.read_second_demand": ROW,
    "house.zone.read_demand": ROW,
    "house.zone.read_zone": ROW,
    "collector.build.stream_logs": LANE,
    "collector.frozen.new_stage": LANE,
    "collector.frozen.read_behind": ROW,
    "collector.frozen.read_walls": ROW,
    "collector.frozen.store_answer": ROW,
    "collector.frozen.store_walls": ROW,
    "collector.airstream.growing_stream": "its numbers are those of `thinning_stream`, to which it points",
    "control.rule.latch": LANE,
    "engine.march.march_block": "its arrays are those of `march`, to which it points",
    "engine.rooms.air_taken": LANE,
    "engine.rooms.house_alone": LANE,
    "engine.rooms.settle_rooms": LANE,
    "engine.state.new_scratch": LANE,
    "engine.state.new_state": LANE,
    "house.second_space.settle_second": LANE,
    "house.calibrate.find_root": "solves for any quantity, so its numbers are of any unit",
    "house.gains.by_hour": "spreads any quantity over the hours, so its numbers are of any unit",
    "house.gains.internal_profile": "a shape without unit times a mean with one",
    "simulate.year.finished_in_brief": "parameters as `finished`, to which it points",
    "simulate.year.record": "parameters as `finished`, to which it points",
    "compiled.entry": "a decorator: takes a function, gives a function",
    "compiled.kernel": "a decorator: takes a function, gives a function",
    "batch.lock.locked": "a context: what it yields is nothing",
    "batch.task.safely": "what it returns is what a worker returns, told at `work`",
    "cli.interrupt.ends_soon": "a context: what it yields is nothing",
    "whole_file.told_by_the_system": "a context: what it yields is nothing",
    "weather.calendar.place": IN_PLACE,
    "weather.gaps.fill": IN_PLACE,
    "weather.split.complete_radiation": IN_PLACE,
}
"""Public functions and modules that need not hold to a rule below, and why."""

CORRELATIONS = [
    (path, node)
    for room in ("air", "heat_transfer")
    for path in sorted((PACKAGE / room).glob("*.py"))
    for node in tree_of(path).body
    if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
]


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_module_opens_with_one_sentence(path: Path) -> None:
    if name_of(path) in EXCEPTIONS:
        return
    opening = (ast.get_docstring(tree_of(path)) or "").split("\n\n")[0].replace("\n", " ")
    assert re.fullmatch(r".*[.?]", opening), "a module opens with one sentence that says what it is for"
    assert not re.search(r"[.?!] +[A-Z]", opening), f"more than one sentence: {opening}"


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_public_functions_and_classes_say_what_they_do(path: Path) -> None:
    mute = [
        f"{node.name} (line {node.lineno})"
        for node in public(tree_of(path).body)
        if not ast.get_docstring(node)
    ]
    assert not mute


def entries(function: Function) -> dict[str, str] | None:
    """Return what the docstring says of each parameter, in its order; None where it has no such section."""
    section = SECTION.search(ast.get_docstring(function) or "")
    if section is None:
        return None
    found = {}
    for entry in ENTRY.finditer(section[1]):
        found |= dict.fromkeys(entry[1].split(", "), entry[0])
    return found


def is_number(argument: ast.arg) -> bool:
    """Whether a parameter is a number or an array of numbers; a table of columns has its units elsewhere."""
    kind = ast.unparse(argument.annotation) if argument.annotation is not None else ""
    return NUMBER.search(kind) is not None and not re.search(r"Callable|dict\[|Mapping\[", kind)


def faults(function: Function) -> list[str]:
    """Return what the docstring of a function leaves out."""
    text, told, asked = ast.get_docstring(function) or "", entries(function), arguments(function)
    found = []
    if told is None:
        if len(asked) > SHORT:
            found.append("no Parameters")
        if any(is_number(one) for one in asked) and "[" not in text:
            found.append("a number without its unit")
    else:
        names = [one.arg for one in asked]
        if [name for name in told if name in names] != names:
            found.append("Parameters are not those of the signature, in its order")
        found += [
            f"{one.arg} has no unit" for one in asked if is_number(one) and "[" not in told.get(one.arg, "")
        ]
    gives = function.returns is not None and ast.unparse(function.returns) != "None"
    if gives and not re.search(r"^(Returns|Yields)\n---", text, re.MULTILINE) and not TOLD.match(text):
        found.append("does not say what it returns")
    return found


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_public_functions_tell_parameters_units_and_what_they_return(path: Path) -> None:
    found = {
        f"{name_of(path)}.{node.name}": faults(node)
        for node in tree_of(path).body
        if isinstance(node, ast.FunctionDef) and not node.name.startswith("_") and not is_command(node)
    }
    assert not {name: told for name, told in found.items() if told and name not in EXCEPTIONS}


def test_each_exception_is_one() -> None:
    needed = {
        f"{name_of(path)}.{node.name}"
        for path in MODULES
        for node in tree_of(path).body
        if isinstance(node, ast.FunctionDef) and faults(node)
    }
    assert not set(EXCEPTIONS) - needed - {name_of(path) for path in MODULES}


@pytest.mark.parametrize(
    "function",
    [node for _, node in CORRELATIONS],
    ids=[f"{path.stem}.{node.name}" for path, node in CORRELATIONS],
)
def test_each_correlation_gives_units_and_a_number_to_check(function: ast.FunctionDef) -> None:
    assert not faults(function)
    told = entries(function) or {}
    assert all(one.arg in told for one in arguments(function))
    assert ">>>" in (ast.get_docstring(function) or "")


def test_what_is_left_out_is_noticed() -> None:
    text = "Return F.\\n\\nParameters\\n----------\\nb : depth\\na : width [m]"
    function = ast.parse(f"def f(a: float, b: float) -> float:\n    '{text}'").body[0]
    assert isinstance(function, ast.FunctionDef)
    assert faults(function) == ["Parameters are not those of the signature, in its order", "b has no unit"]


def test_walk_finds_the_rooms() -> None:
    assert set(PHYSICS) <= {path.relative_to(PACKAGE).parts[0] for path in MODULES}
