"""`simengine new`: a commented scenario to start from."""

import click

from simengine.cli import options
from simengine.cli.printing import note


@click.command("new", short_help="Write a commented scenario to start from.")
@click.argument("file", metavar="FILE")
@options.quiet
def command(file: str, quiet: bool) -> None:
    """Write a commented scenario to FILE, which must not exist yet."""
    from simengine.errors import InputError
    from simengine.scenario import template

    path = options.local_path(file)
    try:
        with path.open("x", encoding="utf-8", newline="\n") as stream:
            stream.write(template())
    except FileExistsError as error:
        raise InputError(f"{path}: is there already; accepted: the name of a new file") from error
    note(f"written: {path}; try: simengine check {path}", quiet)
