"""`simengine sweep`: every combination of a scenario's sweep table, resumed by itself."""

import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from simengine.cli import options
from simengine.cli.asked import scenario_of, weather_name
from simengine.cli.exits import DONE
from simengine.cli.printing import note, show, show_json
from simengine.cli.progress import duration, progress

if TYPE_CHECKING:
    from simengine.batch.plan import Plan


@click.command("sweep", short_help="Every combination of the scenario's sweep table.")
@options.scenario
@options.weather
@options.out
@click.option("--status", "look", is_flag=True, help="Only say how far it is; works from another terminal.")
@options.jobs
@click.option(
    "--scheduler",
    metavar="ADDRESS",
    default="",
    help="Let the workers of a scheduler do it: tcp://host:port or tls://host:port; see the docs.",
)
@click.option(
    "--trust-network", "trusted", is_flag=True, help="Let --scheduler be on another machine without tls."
)
@options.as_json
@options.units
@options.changes
@options.replace
@options.quiet
def command(scenario: str, out: str | None, changes: tuple[str, ...], look: bool, **how: Any) -> int:
    """Run every member of the scenario's [sweep], or what is missing of it.

    Says beforehand how many there are, how long they take and how large the result is. What is done is
    kept whatever happens, and the same command goes on with it. Ends with the best members, the front of
    cost against heat, and what each key does.

    Example: simengine sweep house.toml --jobs 2
    """
    from simengine.batch import sweep
    from simengine.batch.cluster import checked_address
    from simengine.batch.plan import plan_of

    scheduler = checked_address(how["scheduler"], how["trusted"]) if how["scheduler"] else ""
    folder = options.local_path(out) if out is not None else Path("results") / f"{Path(scenario).stem}_sweep"
    if look:
        _tell(folder, how["as_json"])
        return DONE
    plan = plan_of(scenario_of(scenario, changes), weather_name(how["weather"]))
    jobs = how["jobs"] or min(options.cores(), plan.chunks)
    before = _announce(plan, folder, jobs, how)
    with progress("members", how["quiet"], before) as tell:
        sweep.run_plan(plan, folder, jobs=jobs, replace=how["replace"], progress=tell, scheduler=scheduler)
    _show(folder, how)
    note(f"written: {folder}", how["quiet"])
    return DONE


def _announce(plan: "Plan", folder: Path, jobs: int, how: dict[str, Any]) -> int:
    """Say how many members, how long and how large; return how many are done already."""
    from simengine.batch import sweep
    from simengine.batch.crew import get_ready
    from simengine.batch.store import read_plan
    from simengine.simulate import run

    done = 0
    if not how["replace"] and (read_plan(folder) or {}).get("digest") == plan.digest:
        done = sweep.status(folder).done
    left = plan.members.count - done
    note(f"{plan.members.count} members of {', '.join(plan.members.keys)}", how["quiet"])
    if done:
        note(f"{done} of them are there already", how["quiet"])
    if left and not how["quiet"]:
        if not how["scheduler"]:
            get_ready()
        started = time.perf_counter()
        run(plan.scenario)  # it also compiles what the workers need, once
        spent = (time.perf_counter() - started) * left / min(jobs, max(left, 1))
        note(f"about {duration(spent)} at most, {_size(plan.bytes)} on the disk", how["quiet"])
    return done


def _size(count: int) -> str:
    return f"{count / 1e6:.1f} MB" if count >= 1e6 else f"{count / 1e3:.0f} kB"


def _show(folder: Path, how: dict[str, Any]) -> None:
    from simengine.batch.findings import findings
    from simengine.batch.sweep import open_sweep
    from simengine.report.shown import Shown
    from simengine.report.sweep import sweep_text

    with open_sweep(folder) as members:
        found = findings(members)
        system = how["units"] or members.attrs.get("units", "us")
    if how["as_json"]:
        show_json(found)
    else:
        show(sweep_text(found, Shown("si" if system == "si" else "us")))


def _tell(folder: Path, as_json: bool) -> None:
    from simengine.batch.sweep import status

    known = status(folder)
    state = "complete" if known.complete else f"at work: {known.holder}" if known.holder else "at rest"
    if as_json:
        show_json({"members": known.members, "done": known.done, "complete": known.complete, "state": state})
    else:
        show(f"{folder}: {known.done} of {known.members} members done, {state}")
