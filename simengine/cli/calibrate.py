"""`simengine calibrate`: the user's own house scaled to a fuel bill."""

from pathlib import Path
from typing import Any

import click

from simengine.cli import options
from simengine.cli.asked import scenario_of, units_of, weather_of
from simengine.cli.printing import note, show, show_json


@click.command("calibrate", short_help="Your house scaled to a fuel bill.")
@options.scenario
@options.weather
@click.option("--out", metavar="FILE", help="Write a scenario with the scaled house and no bill.")
@options.as_json
@options.units
@options.changes
@click.option("--replace", is_flag=True, help="Move what stands there to FILE.previous instead of refusing.")
@options.quiet
def command(
    scenario: str, weather: str | None, out: str | None, changes: tuple[str, ...], **how: Any
) -> None:
    """Scale the scenario's own house until a year in its weather needs what the fuel bill says.

    The bill stands in [house.bill]. Walls, roof, floor, windows and air change are multiplied by one
    factor. Prints the losses found and what was taken for granted; writes nothing without --out.

    Example: simengine calibrate house.toml --set "house.bill.amount=620 gal" --out calibrated.toml
    """
    from simengine.errors import InputError

    asked = scenario_of(scenario, changes)
    target = None if out is None else options.local_path(out)
    if target is not None and target.exists() and not how["replace"]:
        raise InputError(f"{target}: is there already; accepted: the name of a new file, or --replace")
    from simengine.report.calibration import listing
    from simengine.simulate import calibrated_alone, calibrated_scenario, resolve

    done, told = calibrated_alone(resolve(asked, weather_of(weather)))
    if how["as_json"]:
        show_json(told)
    else:
        show(listing(told, units_of(asked, how["units"])))
    if target is None:
        return
    remarks = (f"{Path(scenario).name} with its house scaled to a fuel bill.", *done.calibration.assumptions)  # type: ignore[union-attr]
    _write(target, calibrated_scenario(done, target.parent).as_toml(remarks))
    note(f"written: {target}", how["quiet"])


def _write(target: Path, text: str) -> None:
    """Write a file whole or not at all; what stood there is kept beside it."""
    from simengine.whole_file import write_whole

    if target.exists():
        target.replace(target.with_name(f"{target.name}.previous"))
    write_whole(target, text)
