"""`simengine spots`: candidate places ranked, and the best tilt and azimuth."""

import click

from simengine.cli import options
from simengine.cli.asked import scenario_of, units_of, weather_of
from simengine.cli.printing import note, show, show_json


@click.command("spots", short_help="Candidate places ranked by the heating they save, and by money.")
@options.scenario
@options.weather
@click.option(
    "--best-orientation",
    is_flag=True,
    help="Search the tilt and azimuth that save most heating, instead of ranking the listed places.",
)
@click.option("--house", metavar="NAME", help="House to search for. [default: the first one]")
@options.changes
@options.units
@options.as_json
@options.quiet
def command(
    scenario: str,
    weather: str | None,
    best_orientation: bool,
    house: str | None,
    changes: tuple[str, ...],
    units: str | None,
    as_json: bool,
    quiet: bool,
) -> None:
    """Rank the places that a scenario lists as [[spots]], month by month.

    They are ranked by the heating saved and by money, beside their bare sunshine; where the sun ranks
    them otherwise than the heat, that is said. The scenario itself is one of them.

    Example: simengine spots demo.toml

    Example: simengine spots demo.toml --best-orientation
    """
    asked = scenario_of(scenario, changes)
    series = weather_of(weather)
    if best_orientation:
        from simengine.batch.orientation import best_orientation as search
        from simengine.report.spots import orientation

        note("turning the collector through some fifty years ...", quiet)
        found = search(asked, series, house)
        show_json(found) if as_json else show(orientation(found, units_of(asked, units)))
        return
    from simengine.batch.spots import ranked
    from simengine.report.spots import listing

    if house is not None:
        raise click.UsageError("--house goes with --best-orientation; the ranking is told for every house")
    note(f"marching through {len(asked.inputs.spots) + 1} years ...", quiet)
    places = ranked(asked, series)
    show_json(places) if as_json else show(listing(places, units_of(asked, units)))
