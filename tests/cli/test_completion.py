"""A shell completes commands and options."""

import os
import subprocess
import sys

import pytest
from click.testing import CliRunner

from simengine.cli import main
from simengine.cli.completion import SHELLS


@pytest.mark.parametrize("shell", SHELLS)
def test_every_shell_gets_its_lines(shell: str) -> None:
    outcome = CliRunner().invoke(main, ["completion", shell])
    assert outcome.exit_code == 0
    assert f"_SIMENGINE_COMPLETE={shell}_complete" in outcome.stdout


@pytest.mark.parametrize(
    ("typed", "wanted"), [("simengine sel", "selftest"), ("simengine run --rep", "--replace")]
)
def test_the_program_answers_the_shell(typed: str, wanted: str) -> None:
    asked = {"_SIMENGINE_COMPLETE": "bash_complete", "COMP_WORDS": typed, "COMP_CWORD": str(typed.count(" "))}
    done = subprocess.run(
        [sys.executable, "-c", "from simengine.cli import main; main(prog_name='simengine')"],
        env={**os.environ, **asked},
        capture_output=True,
        text=True,
        check=False,
    )
    assert wanted in done.stdout, done.stderr
