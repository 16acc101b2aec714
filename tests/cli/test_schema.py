"""The schema is JSON that an editor can read."""

import json
from pathlib import Path

from click.testing import CliRunner

from simengine.cli import main


def test_it_prints_a_json_schema() -> None:
    outcome = CliRunner().invoke(main, ["schema"])
    assert outcome.exit_code == 0, outcome.stderr
    schema = json.loads(outcome.stdout)
    assert schema["type"] == "object"
    assert "collector" in schema["properties"]


def test_the_demos_name_the_schema_that_travels_with_them(repository: Path) -> None:
    folder = repository / "scenarios"
    printed = CliRunner().invoke(main, ["schema"]).stdout
    assert (folder / "scenario.schema.json").read_text(encoding="utf-8") == printed, "simengine schema > it"
    for demo in folder.glob("*.toml"):
        assert demo.read_text(encoding="utf-8").startswith("#:schema ./scenario.schema.json\n"), demo.name
