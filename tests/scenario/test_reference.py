"""The documentation of the scenario file is what the schema says."""

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Annotated, Any

import pytest
from pydantic import BaseModel, TypeAdapter
from pydantic.fields import FieldInfo

from simengine.scenario.reference import reference
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.examples import EXAMPLES
from simengine.scenario.schema.walk import all_keys, example_of, fields_by_key, models_in

PAGE = Path(__file__).parents[2] / "docs" / "scenario.md"


def test_the_page_holds_the_reference_of_this_schema() -> None:
    _, mark, tables = PAGE.read_text(encoding="utf-8").partition("## Reference\n\n")
    assert mark
    assert tables.strip() == reference().strip()


def test_every_key_has_a_line_or_a_section() -> None:
    text = reference()
    for key in all_keys(Inputs):
        last = key.rpartition(".")[2]
        assert f"| `{last}` |" in text or f"[{key}]" in text, key


def test_the_error_lines_of_the_page_are_real(tmp_path: Path, demo_text: str) -> None:
    from simengine.errors import ScenarioError
    from simengine.scenario import load

    spoilt = demo_text.replace('tilt = "90 deg"', 'tilt = "135 deg"').replace(
        'flow = "105 cfm"', "flow = 105"
    )
    path = tmp_path / "my.toml"
    path.write_text(spoilt, encoding="utf-8")
    try:
        load(path)
    except ScenarioError as error:
        lines = [problem.replace(str(path), "my.toml") for problem in error.problems]
    assert len(lines) == 2
    assert all(line in PAGE.read_text(encoding="utf-8") for line in lines)


def fields(model: type[BaseModel], path: tuple[str, ...] = ()) -> Iterator[tuple[str, FieldInfo]]:
    """Yield every key that takes a value, with its field."""
    for key, field in fields_by_key(model).items():
        if not models_in(field.annotation):
            yield ".".join((*path, key)), field
        for inner in models_in(field.annotation):
            yield from fields(inner, (*path, key))


@pytest.mark.parametrize(("key", "field"), tuple(fields(Inputs)))
def test_every_example_is_accepted(key: str, field: FieldInfo) -> None:
    text = example_of(key, field)
    value = tomllib.loads(f"v = {text}")["v"]
    kind: Any = field.annotation
    for extra in field.metadata:
        kind = Annotated[kind, extra]
    TypeAdapter(kind).validate_python(value)
    if not key.startswith("spots."):  # places repeat the keys of the site
        line = rf"^\| `{re.escape(key.rpartition('.')[2])}` \|.* \| `{re.escape(text)}` \| "
        assert re.search(line, reference(), re.MULTILINE)


def test_every_example_of_its_own_is_of_a_key() -> None:
    assert set(EXAMPLES) <= set(all_keys(Inputs))
