"""`simengine schema`: what a scenario file may hold, for editors that check while one types."""

import click

from simengine.cli.printing import show_json


@click.command("schema", short_help="Print the JSON schema of a scenario.")
def command() -> None:
    """Print the JSON schema of a scenario.

    Example: simengine schema > schema.json
    """
    from simengine.scenario import json_schema

    show_json(json_schema())
