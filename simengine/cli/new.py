"""`simengine new`: a commented scenario to start from."""

from typing import Any

import click

from simengine.cli import options
from simengine.cli.asked import changes_of
from simengine.cli.printing import note

QUESTIONS = (
    ("site.weather", "Weather: a file, or a built-in year", "builtin:greensboro"),
    ("collector.width", "Width of the glazed opening", "4 ft"),
    ("collector.height", "Its height, measured up the slope", "8 ft"),
    ("collector.tilt", "Tilt from horizontal", "90 deg"),
    ("collector.azimuth", "Where it looks: 90 east, 180 south, 270 west", "180 deg"),
    ("fan.flow", "Air flow", "3 cfm/ft2"),
    ("heating.fuel", "What heats the house", "heating_oil"),
)
"""What `--ask` asks: key, question, default."""


@click.command("new", short_help="Write a commented scenario to start from.")
@click.argument("file", metavar="FILE")
@options.changes
@click.option("--ask", is_flag=True, help="Ask for the most important values; Enter takes the default.")
@options.quiet
def command(file: str, changes: tuple[str, ...], ask: bool, quiet: bool) -> None:
    """Write a commented scenario to FILE, which must not exist yet.

    Example: simengine new house.toml --set "collector.width=5 ft"
    """
    from simengine.errors import InputError
    from simengine.scenario import template
    from simengine.whole_file import write_whole

    path = options.local_path(file)
    if path.exists():
        raise InputError(f"{path}: is there already; accepted: the name of a new file")
    answers: dict[str, Any] = {key: _answer(question, default) for key, question, default in QUESTIONS if ask}
    text = template({**answers, **changes_of(changes)})
    write_whole(path, text)
    note(f"written: {path}; try: simengine check {path}", quiet)


def _answer(question: str, default: str) -> str:
    return str(click.prompt(question, default=default, err=True))
