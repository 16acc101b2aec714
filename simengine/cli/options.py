"""Options that several commands share, each defined once."""

import os
from pathlib import Path

import click

units = click.option(
    "--units", type=click.Choice(["us", "si"]), help="Units of what is printed. [default: the scenario's own]"
)
jobs = click.option(
    "--jobs",
    type=click.IntRange(1, 1024),
    metavar="N",
    help="Worker processes; the numbers do not depend on it. [default: one for each core]",
)
units_of_a_file = click.option(
    "--units",
    type=click.Choice(["us", "si"]),
    default="us",
    show_default=True,
    help="Units of what is printed.",
)
out = click.option(
    "--out", metavar="DIR", help="Folder for the result. [default: results/<scenario> in the current folder]"
)
as_json = click.option("--json", "as_json", is_flag=True, help="Print strict JSON instead of a table.")
quiet = click.option("--quiet", is_flag=True, help="Print no notes, only results and problems.")
replace = click.option(
    "--replace", is_flag=True, help="Move what the folder holds to DIR.previous instead of refusing."
)
weather = click.option(
    "--weather", metavar="FILE", help="Weather file to use in the place of the scenario's own."
)
weathers = click.option(
    "--weather",
    "weather",
    metavar="FILE",
    multiple=True,
    help="Weather file to use in the place of the scenario's own; may be repeated: the first is told in "
    "full, and the spread over all of them.",
)
changes = click.option(
    "--set",
    "changes",
    multiple=True,
    metavar="KEY=VALUE",
    help='Change one value of the scenario, e.g. --set "collector.tilt=60 deg"; KEY= takes it away; may be '
    "repeated.",
)
scenario = click.argument("scenario", metavar="SCENARIO")


def cores() -> int:
    """Return how many processes this machine runs at once.

    >>> cores() >= 1
    True
    """
    return os.cpu_count() or 1


def local_path(text: str) -> Path:
    """Return a path on this machine.

    Raises
    ------
    UsageError : the text is empty or names another machine

    >>> local_path("a/b.toml").name
    'b.toml'
    """
    if not text.strip():
        raise click.UsageError("an empty path was given; accepted: a file or folder on this machine")
    if "://" in text or text.startswith(("\\\\", "//")):
        raise click.UsageError(f"{text[:80]!r} is on another machine; accepted: a file or folder on this one")
    return Path(text)
