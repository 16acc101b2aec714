"""`simengine check`: read and resolve a scenario without running it."""

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
    """Print every input as the program understands it, in both unit systems.

    Nothing is run and nothing is written. What the weather file lacks is told as well.

    Example: simengine check house.toml
    """
    asked = scenario_of(scenario, changes)
    from simengine.report import houses, inputs, loop, point
    from simengine.report.shown import Shown
    from simengine.report.tables import wrapped
    from simengine.simulate import build_cautions, cover_label, loop_facts, resolve

    resolved = resolve(asked, weather_of(weather))
    if as_json:
        show_json(resolved.inputs)
        return
    both, facts = [Shown("si"), Shown("us")], loop_facts(resolved)
    show(inputs.listing(resolved.inputs))
    show("\n" + loop.listing(facts["parts"], both))
    for line in wrapped("-", [loop.flow_note(facts, Shown("us" if asked.inputs.units == "us" else "si"))]):
        show(line)
    show("\n" + houses.listing(resolved.houses, both))
    show("\n" + point.cover(cover_label(resolved)))
    for line in wrapped("!", build_cautions(resolved)):
        show(line)
    if resolved.parts.bill is not None:
        show("\nthe own house is scaled to its fuel bill before a run: simengine calibrate tells how")
    for series in (resolved.series, *resolved.others):
        show(f"\nweather: {series.station}")
        for finding in series.findings:
            show(f"  {finding}")
