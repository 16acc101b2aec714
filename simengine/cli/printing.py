"""How a command writes to the screen: results on stdout, notes on stderr, signs the screen can show."""

import sys
from typing import Any

import click

from simengine.cli.exits import complain


def show(text: str) -> None:
    """Write a result to stdout, in ASCII where the screen knows nothing else."""
    from simengine.report.words import plain

    try:
        text.encode(sys.stdout.encoding or "ascii")
    except (UnicodeEncodeError, LookupError):
        text = plain(text)
    click.echo(text)


def show_json(value: Any) -> None:
    """Write strict JSON to stdout."""
    from simengine.results.store import to_json

    show(to_json(value).rstrip("\n"))


def note(text: str, quiet: bool) -> None:
    """Write a note to stderr unless the user wants none."""
    if not quiet:
        complain(text)


def note_slowness() -> None:
    """Write one line to stderr where this run is slow for a reason that can be mended."""
    from simengine.compiled import slowness

    if slow := slowness():
        complain(slow)
