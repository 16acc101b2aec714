"""`simengine run`: a year of a scenario, for both houses."""

import contextlib
import datetime
import importlib
import platform
import threading
import time
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from simengine.cli import options
from simengine.cli.asked import folder_of, scenario_of, weather_name, weathers_of
from simengine.cli.exits import DONE, ENDED_EARLY, complain
from simengine.cli.printing import note, note_slowness, show, show_json
from simengine.cli.progress import progress
from simengine.errors import InputError

if TYPE_CHECKING:
    from simengine.results import Result
    from simengine.simulate import Resolved

COMPLETED = "completed"


@click.command("run", short_help="A year of both houses: heat, fuel, money, a report.")
@options.scenario
@options.weathers
@options.out
@options.as_json
@options.units
@options.changes
@click.option(
    "--spread",
    type=click.IntRange(2, 100_000),
    metavar="N",
    help="Draw N years within what is unsure, and give every result with its band.",
)
@click.option(
    "--seed", type=click.IntRange(0, 2**31 - 1), metavar="N", help="Start of the random numbers of --spread."
)
@options.jobs
@options.replace
@options.quiet
def command(
    scenario: str, weather: tuple[str, ...], out: str | None, changes: tuple[str, ...], **how: Any
) -> int:
    """Run a year and keep what comes out.

    Prints a verdict and a table, and writes summary.json, hours.nc, months.csv, report.html and
    run.log. A folder that already holds this very result is kept, and printed again.

    With --spread N the verdict and the report say how sure the result is.

    Example: simengine run house.toml --set "collector.tilt=60 deg" --out results/steep
    """
    folder = folder_of(out, scenario)
    asked = scenario_of(scenario, changes)
    from simengine.simulate import resolve

    resolved = resolve(asked, weathers_of(weather))
    how["weather"] = weather
    heading = [f"scenario {Path(scenario).name}", *(f"set {change}" for change in changes)]
    summary, kept = _held_or_new(folder, resolved, heading, how)
    _print(summary, how)
    note(f"{'kept as it was' if kept else 'written'}: {folder}", how["quiet"])
    reason = summary["collector"]["end_reason"]
    if reason != COMPLETED:
        complain(f"ended early: {reason}")
        return ENDED_EARLY
    return DONE


def _held_or_new(
    folder: Path, resolved: "Resolved", heading: list[str], how: Mapping[str, Any]
) -> tuple[Mapping[str, Any], bool]:
    """Return the summary of this run, and whether the folder held it already."""
    from simengine.results import store
    from simengine.simulate import run_resolved

    wanted = store.identity_of(resolved.provenance)
    held = None if how["replace"] else store.held(folder, wanted)
    if held is not None:
        _require_band(folder, held, resolved, how)
        return held, True
    store.require_free(folder, wanted, replace=how["replace"])
    note_slowness()
    note("marching through the year ...", how["quiet"])
    started = time.perf_counter()
    loading = threading.Thread(target=_load_meanwhile, daemon=True)
    loading.start()
    result = run_resolved(resolved)
    loading.join()
    if how["spread"] is not None:
        result = _with_band(result, resolved, how)
    from simengine.report.page import page

    log = _log(result.summary, heading, time.perf_counter() - started)
    extra = {"report.html": page(result.summary, how["units"], result.hours), "run.log": log}
    result.save(folder, replace=how["replace"], extra=extra)
    return result.summary, False


def _load_meanwhile() -> None:
    """Load what keeping and showing a result needs while the compiled march leaves Python free."""
    with contextlib.suppress(ImportError):  # whoever needs it meets the error again, and tells it
        for name in ("pvlib", "xarray", "h5netcdf", "simengine.report.page"):  # the march's own need first
            importlib.import_module(name)
        # with its first dataset the library looks for every kind of array that is installed, and loads it
        importlib.import_module("xarray").Dataset({"nothing": ("none", [0.0])})


def _with_band(result: "Result", resolved: "Resolved", how: Mapping[str, Any]) -> "Result":
    """Draw the years of the band and put it around the result."""
    from simengine.batch import spread
    from simengine.batch.task import Base

    base = Base.of(resolved.scenario, weather_name(next(iter(how["weather"]), None)))
    jobs = how["jobs"] or min(options.cores(), how["spread"])
    with progress("years drawn", how["quiet"]) as tell:
        drawn = (how["spread"], how["seed"])
        return spread.with_band(result, resolved.scenario, base, drawn, 0 if jobs == 1 else jobs, tell)


def _require_band(
    folder: Path, held: Mapping[str, Any], resolved: "Resolved", how: Mapping[str, Any]
) -> None:
    """Refuse a folder that holds this result without the band that is asked for."""
    if how["spread"] is None:
        return
    from simengine.batch.spread import seed_of

    wanted = (how["spread"], seed_of(resolved.scenario, how["seed"]))
    blocks = [house.get("spread") or {} for house in held["houses"].values()]
    if any((block.get("members"), block.get("seed")) != wanted for block in blocks):
        raise InputError(
            f"{folder}: holds this result without a band of {wanted[0]} years drawn with seed {wanted[1]}; "
            "accepted: another folder (--out), or --replace"
        )


def _print(summary: Mapping[str, Any], how: Mapping[str, Any]) -> None:
    from simengine.report.shown import Shown, preferred
    from simengine.report.tables import console

    if how["as_json"]:
        show_json(summary)
    else:
        show(console(summary, Shown(how["units"] or preferred(summary))))


def _log(summary: Mapping[str, Any], heading: list[str], seconds: float) -> str:
    """Return the log of a run: when, with what, how it ended, and what was noticed on the way."""
    finished = datetime.datetime.now(datetime.UTC).isoformat(timespec="seconds")
    lines = [
        f"finished {finished} after {seconds:.1f} s of marching",
        f"simengine {summary['program']['version']}, Python {platform.python_version()}, {platform.system()}",
        *heading,
        f"scenario sha256 {summary['scenario']['sha256']}",
        f"weather {summary['weather'].get('station')} sha256 {summary['weather']['sha256']}",
        f"end {summary['collector']['end_reason']}",
        *(f"energy left open, {name}: {value:.2g}" for name, value in summary["closure"].items()),
        *(f"weather: {warning}" for warning in summary["weather"].get("warnings", [])),
    ]
    return "\n".join(lines) + "\n"
