"""`simengine best`: the best of chosen keys within bounds, for one measure."""

import csv
import io
import re
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from simengine.cli import options
from simengine.cli.asked import scenario_of, units_of, weather_name
from simengine.cli.exits import DONE
from simengine.cli.printing import note, show, show_json
from simengine.cli.progress import progress

if TYPE_CHECKING:
    from simengine.batch.optimise import Best
    from simengine.batch.tries import Bound
    from simengine.report.shown import Shown
    from simengine.scenario import Scenario

RANGE = re.compile(r"([^=]{1,200})=(.{1,64}?)\.\.(.{1,64})")


@click.command("best", short_help="The best of chosen keys within bounds, for one measure.")
@options.scenario
@click.option(
    "--vary",
    "ranges",
    multiple=True,
    required=True,
    metavar="KEY=LOW..HIGH",
    help='A key and its ends, e.g. --vary "collector.tilt=40 deg..90 deg"; may be repeated.',
)
@click.option(
    "--for", "measure", required=True, metavar="MEASURE", help="E.g. offset_kwh, npv, simple_payback_a."
)
@click.option("--house", metavar="NAME", help="House that it is the best for. [default: the first one]")
@click.option(
    "--weather",
    "years",
    multiple=True,
    metavar="FILE",
    help="Weather year; may be repeated: the mean of several counts. [default: the scenario's own]",
)
@click.option("--tries", type=click.IntRange(2, 10_000), default=60, show_default=True, help="Tries at most.")
@click.option(
    "--seed", type=click.IntRange(0, 2**31 - 1), default=1, show_default=True, help="Of the first tries."
)
@options.out
@options.jobs
@options.as_json
@options.units
@options.changes
@options.replace
@options.quiet
def command(
    scenario: str, ranges: tuple[str, ...], out: str | None, changes: tuple[str, ...], **how: Any
) -> int:
    """Search for the values of some keys that are the best for a measure.

    Tries some values spread over the bounds, then goes downhill from the best of them. Every try is kept
    in tries.csv, the outcome in best.json.

    Example: simengine best house.toml --vary "collector.tilt=40 deg..90 deg" --for offset_kwh
    """
    from simengine.batch.optimise import best
    from simengine.batch.store import make_room
    from simengine.batch.tries import Goal

    asked = scenario_of(scenario, changes)
    bounds = _bounds(asked, ranges)
    folder = options.local_path(out) if out is not None else Path("results") / f"{Path(scenario).stem}_best"
    make_room(folder, how["replace"], own=())
    jobs = how["jobs"] or options.cores()
    with progress("tries", how["quiet"]) as tell:
        found = best(
            asked,
            bounds,
            Goal(how["measure"], how["house"], tuple(str(weather_name(year)) for year in how["years"])),
            most=how["tries"],
            seed=how["seed"],
            jobs=0 if jobs == 1 else jobs,
            progress=tell,
        )
    _keep(found, folder)
    if how["as_json"]:
        show_json(_as_json(found))
    else:
        show(_text(found, units_of(asked, how["units"])))
    note(f"written: {folder}", how["quiet"])
    return DONE


def _bounds(scenario: "Scenario", ranges: tuple[str, ...]) -> "list[Bound]":
    """Read what is varied; every problem has its line."""
    from simengine.batch.tries import bound_of
    from simengine.errors import InputError

    bounds, problems = [], []
    for text in ranges:
        match = RANGE.fullmatch(text)
        try:
            if match is None:
                raise InputError(f'{text[:80]!r} is no range; accepted: e.g. "collector.tilt=40 deg..90 deg"')
            key, low, high = (part.strip() for part in match.groups())
            bounds.append(bound_of(scenario, key, low, high))
        except InputError as error:
            problems += [f"--vary: {problem}" for problem in error.problems]
    if problems:
        raise InputError(*problems)
    return bounds


def _as_json(found: "Best") -> dict[str, Any]:
    return {
        "measure": found.measure,
        "currency": found.currency,
        "house": found.house,
        "best": {"changes": dict(found.best.changes), "measure": found.best.measure},
        "as_it_was": found.start.measure,
        "tries": len(found.tries),
    }


def _text(found: "Best", units: "Shown") -> str:
    from simengine.report.measures import measure_name, measure_text, value_text
    from simengine.report.words import house_name

    best, was = (
        measure_text(found.measure, one.measure, found.currency, units) for one in (found.best, found.start)
    )
    name = measure_name(found.measure).lower()
    head = f"Best {name} ({found.measure}) for the {house_name(found.house)}: {best}"
    values = {key: str(raw).partition(" ") for key, raw in found.best.changes.items()}
    keys = [f"  {key} = {value_text(float(n), unit, units)}" for key, (n, _, unit) in values.items()]
    return "\n".join([head, *keys, f"of {len(found.tries)} tries; the scenario as it is: {was}"])


def _keep(found: "Best", folder: Path) -> None:
    from simengine.results.store import cell, to_json
    from simengine.whole_file import write_whole

    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    keys = list(found.best.changes)
    writer.writerow(["try", *map(cell, keys), found.measure, "reason"])
    for number, one in enumerate(found.tries, start=1):
        value = "" if one.measure is None else f"{one.measure:.10g}"
        tried = [cell(str(one.changes[key])) for key in keys]
        writer.writerow([number, *tried, value, cell(one.reason)])
    write_whole(folder / "tries.csv", text.getvalue().encode(), replace=True)
    write_whole(folder / "best.json", to_json(_as_json(found)).encode(), replace=True)
