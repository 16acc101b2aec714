"""The schema is JSON that an editor can read."""

import json

from click.testing import CliRunner

from simengine.cli import main


def test_it_prints_a_json_schema() -> None:
    outcome = CliRunner().invoke(main, ["schema"])
    assert outcome.exit_code == 0, outcome.stderr
    schema = json.loads(outcome.stdout)
    assert schema["type"] == "object"
    assert "collector" in schema["properties"]
