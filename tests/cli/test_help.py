"""Every command explains itself, with an example."""

import pytest
from click.testing import CliRunner

from simengine.cli import COMMANDS, main


@pytest.mark.parametrize("name", COMMANDS)
def test_the_help_has_an_example(name: str) -> None:
    outcome = CliRunner().invoke(main, [name, "--help"])
    assert outcome.exit_code == 0
    assert f"Example: simengine {name}" in outcome.stdout
