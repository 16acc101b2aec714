"""However a scenario is spoilt, there is a scenario or an error with lines; never another exception."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from simengine.data_files import data_path
from simengine.errors import ScenarioError
from simengine.scenario import Scenario, load

DEMO = data_path("scenarios", "demo_us.toml").read_bytes()
DATA = tomllib.loads(DEMO.decode())
QUICK = settings(
    derandomize=True,
    deadline=None,
    max_examples=50,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
SCALARS = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=20)
    | st.dates()
    | st.binary(max_size=3)
)
ANYTHING = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=8,
)
QUANTITIES = st.sampled_from(
    ["5 ft", "-1 m", "0 W", "1e300 m", "R-6", "999 degF", "3 %", "", "nan", "1 USD", "2 1/h"]
)


def check(lines: tuple[str, ...]) -> None:
    assert lines
    for line in lines:
        assert line.isprintable()
        assert len(line) < 3000


@QUICK
@given(
    at=st.integers(0, len(DEMO) - 1),
    length=st.integers(0, 12),
    new=st.binary(max_size=8)
    | st.sampled_from([b"[", b"]", b'"', b"{", b"=", b"\n", b"'''", b"[[", b".", b"#"]),
)
def test_bytes_changed_anywhere(tmp_path: Path, at: int, length: int, new: bytes) -> None:
    path = tmp_path / "spoilt.toml"
    path.write_bytes(DEMO[:at] + new + DEMO[at + length :])
    try:
        load(path).assemble()
    except ScenarioError as error:
        check(error.problems)
        assert all(problem.startswith(str(path)) for problem in error.problems)


def leaves(value: Any, above: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    items = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [path for key, item in items for path in [(*above, key), *leaves(item, (*above, key))]]


@QUICK
@given(path=st.sampled_from(leaves(DATA)), value=ANYTHING | QUANTITIES)
def test_any_value_under_any_key(path: tuple[Any, ...], value: Any) -> None:
    data = tomllib.loads(DEMO.decode())
    here = data
    for part in path[:-1]:
        here = here[part]
    here[path[-1]] = value
    try:
        scenario = Scenario.from_dict(data)
    except ScenarioError as error:
        check(error.problems)
    else:
        assert scenario.assemble().fan.mass_flow > 0.0
        assert scenario.resolved()
        assert len(scenario.sha256) == 64


@QUICK
@given(
    key=st.text(max_size=30) | st.sampled_from(["ducts.1", "site.trees.spruce", "sweep.vary.x", "collector"]),
    value=ANYTHING,
)
def test_any_change(key: str, value: Any) -> None:
    try:
        Scenario.from_dict(DATA).changed({key: value})
    except ScenarioError as error:
        check(error.problems)


@pytest.mark.parametrize(
    "data", [{1: 2}, {"collector": 5}, {"title": 16**9999}, {"fan": {"flow": ["a"] * 9}}]
)
def test_odd_tables(data: dict[Any, Any]) -> None:
    with pytest.raises(ScenarioError) as caught:
        Scenario.from_dict(data)
    check(caught.value.problems)
