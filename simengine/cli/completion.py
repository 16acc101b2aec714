"""`simengine completion`: what a shell reads to complete commands and options."""

import click
from click.shell_completion import get_completion_class

from simengine.cli.printing import show

SHELLS = ("bash", "zsh", "fish")


@click.command("completion", short_help="Print what a shell needs to complete commands.")
@click.argument("shell", type=click.Choice(SHELLS))
@click.pass_context
def command(context: click.Context, shell: str) -> None:
    """Print the lines with which a shell completes commands and options.

    Example: simengine completion bash >> ~/.bashrc
    """
    group = context.find_root().command
    kind = get_completion_class(shell)
    assert kind is not None  # click knows all three
    show(kind(group, {}, "simengine", "_SIMENGINE_COMPLETE").source())
