"""The group of commands: quick to answer, and helpful when called wrongly."""

import subprocess
import sys
from importlib import import_module

import click
import pytest
from click.testing import CliRunner

from simengine import __version__
from simengine.cli import COMMANDS, main

HEAVY = ("numpy", "pandas", "xarray", "pvlib", "numba", "pydantic", "jinja2", "matplotlib", "rich", "scipy")


@pytest.mark.parametrize("name", COMMANDS)
def test_every_command_has_its_module_its_name_and_its_help(name: str) -> None:
    command = import_module(f"simengine.cli.{name}").command
    assert isinstance(command, click.Command)
    assert command.name == name
    outcome = CliRunner().invoke(main, [name, "--help"])
    assert outcome.exit_code == 0
    assert command.get_short_help_str(60) in CliRunner().invoke(main, ["--help"]).stdout


def test_help_loads_nothing_heavy() -> None:
    program = (
        "import sys\nfrom simengine.cli import main\n"
        "try:\n    main(['--help'])\nexcept SystemExit as end:\n    assert end.code == 0\n"
        f"print([name for name in {HEAVY} if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "[]"


def test_version() -> None:
    outcome = CliRunner().invoke(main, ["--version"])
    assert (outcome.exit_code, outcome.stdout) == (0, f"simengine {__version__}\n")


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["rum"], ["no command 'rum'", "did you mean 'run'?", "schema"]),
        (["run"], ["Missing argument", "simengine run --help"]),
        (["run", "x.toml", "--units", "imperial"], ["'us', 'si'"]),
        (["run", "http://host/x.toml"], ["another machine"]),
        (["run", "x.toml", "--out", "//host/share"], ["another machine"]),
        (["point", "x.toml", "--nonsense"], ["--nonsense"]),
        (["\x1b[2J"], ["no command"]),
    ],
)
def test_a_wrong_call_is_one_line_that_says_what_is_accepted(arguments: list[str], words: list[str]) -> None:
    outcome = CliRunner().invoke(main, arguments, prog_name="simengine")
    assert outcome.exit_code == 2
    assert outcome.stdout == ""
    (line,) = outcome.stderr.splitlines()
    assert line.isprintable()
    assert all(word in line for word in words)


def test_without_a_command_it_shows_what_there_is() -> None:
    outcome = CliRunner().invoke(main, [])
    assert all(name in outcome.output for name in COMMANDS)
