"""`simengine check`: read and resolve a scenario without running it."""

from typing import Any

import click

from simengine.cli import options
from simengine.cli.asked import scenario_of, weather_of
from simengine.cli.printing import show, show_json


@click.command("check", short_help="Every input as the program understands it.")
@options.scenario
@options.weather
@options.changes
@options.as_json
def command(scenario: str, weather: str | None, changes: tuple[str, ...], as_json: bool) -> None:
    """Print every input as the program understands it, in both unit systems."""
    from simengine import simulate
    from simengine.report.tables import columns

    resolved = simulate.resolve(scenario_of(scenario, changes), weather_of(weather))
    rows: list[dict[str, Any]] = list(resolved.inputs)
    if as_json:
        show_json(rows)
        return
    lines = [[f"{row['group']}.{row['name']}", row["si"], row["us"]] for row in rows]
    show("\n".join(columns([["input", "metric", "US"], *lines])))
