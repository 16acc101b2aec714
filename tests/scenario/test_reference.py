"""The documentation of the scenario file is what the schema says."""

from pathlib import Path

from simengine.scenario.reference import reference
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.walk import all_keys

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
