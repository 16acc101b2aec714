"""`simengine weather`: what a weather file holds, and what is wrong with it."""

import click

from simengine.cli import options
from simengine.cli.asked import weather_of
from simengine.cli.exits import DONE, INPUT_AT_FAULT
from simengine.cli.printing import show, show_json


@click.command("weather", short_help="What a weather file holds, and what is wrong with it.")
@click.argument("file", metavar="FILE")
@options.units_of_a_file
@options.as_json
def command(file: str, units: str, as_json: bool) -> int:
    """Read a weather file and say what it holds and what was noticed.

    FILE may also be builtin:NAME, one of the years that travel with the program.

    Example: simengine weather my_year.csv
    """
    from simengine.report.shown import Shown
    from simengine.report.weather import facts, listing

    series = weather_of(file)
    if series is None:
        raise click.UsageError("no weather file was named")
    if as_json:
        show_json(facts(series))
    else:
        show(listing(series, Shown("si" if units == "si" else "us")))
    grave = any(finding.severity == "error" for finding in series.findings)
    return INPUT_AT_FAULT if grave else DONE
