"""The command line: one file a command; parse, call, print."""

import atexit
import difflib
import gc
import sys
from importlib import import_module
from typing import Any

import click

from simengine.cli.exits import guarded

# a process that ends would look through all that the compiler has built for waste, for half a second
atexit.register(gc.freeze)

COMMANDS = (
    "run",
    "sweep",
    "best",
    "point",
    "check",
    "calibrate",
    "weather",
    "spots",
    "compare",
    "fieldtest",
    "new",
    "schema",
    "completion",
    "selftest",
)


class Commands(click.Group):
    """The group of commands; each is loaded when it is called for."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the commands in the order in which a newcomer needs them."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return the command in the module of its name."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"simengine.cli.{cmd_name}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command that is called for, or say which ones there are."""
        if args and args[0] not in COMMANDS and not args[0].startswith("-"):
            near = difflib.get_close_matches(args[0][:40], COMMANDS, n=1)
            hint = f"; did you mean {near[0]!r}?" if near else ""
            raise click.UsageError(
                f"there is no command {args[0][:80]!r}{hint} Accepted: {', '.join(COMMANDS)}", ctx
            )
        return super().resolve_command(ctx, args)

    def main(self, *args: Any, **extra: Any) -> Any:
        """Run a command and end the process with the status that the documentation promises."""
        extra["standalone_mode"] = False
        sys.exit(guarded(lambda: super(Commands, self).main(*args, **extra)))


def _print_version(ctx: click.Context, _: click.Parameter, wanted: bool) -> None:
    if wanted and not ctx.resilient_parsing:
        from simengine import __version__

        click.echo(f"simengine {__version__}")
        ctx.exit()


@click.command(cls=Commands, context_settings={"help_option_names": ["-h", "--help"]})
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_print_version,
    help="Print the version and end.",
)
def main() -> None:
    """A year of a glazed solar air collector on a house: heat, fuel and money."""
