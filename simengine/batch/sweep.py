"""A whole sweep: begun or resumed in a folder, run chunk by chunk, kept as one labelled dataset."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import xarray as xr

from simengine.batch.execute import execute
from simengine.batch.lock import holder, locked
from simengine.batch.plan import Plan, plan_of
from simengine.batch.store import CHUNKS, DATASET, Store, chunks_there, make_room, read_plan
from simengine.errors import InputError
from simengine.scenario import Scenario

Progress = Callable[[int, int], None]


def sweep(
    scenario: Scenario,
    directory: Path | str | None = None,
    *,
    jobs: int = 0,
    replace: bool = False,
    progress: Progress | None = None,
) -> xr.Dataset:
    """Run the sweep of a scenario, or what is missing of it, and return all members.

    Parameters
    ----------
    scenario : the checked scenario, with its `[sweep]`
    directory : its folder; without one `results/<name>_sweep` in the current folder
    jobs : worker processes; 0 does everything in this one. It changes no number
    replace : move what the folder holds to `<directory>.previous` first
    progress : called with members done and members in all

    Returns
    -------
    xarray.Dataset read from the disk as it is used, dimensions member, house, month

    Raises
    ------
    InputError
        The sweep cannot be planned, or the folder holds something else or is in use.
    """
    folder = default_folder(scenario) if directory is None else Path(directory)
    run_plan(plan_of(scenario), folder, jobs=jobs, replace=replace, progress=progress)
    return open_sweep(folder)


def default_folder(scenario: Scenario) -> Path:
    """Return the folder of a sweep that is given none."""
    return Path("results") / f"{scenario.name}_sweep"


def run_plan(
    plan: Plan,
    folder: Path,
    *,
    jobs: int = 0,
    replace: bool = False,
    progress: Progress | None = None,
    scheduler: str = "",
) -> None:
    """Run what is missing of a plan in its folder; parameters as `sweep` and `execute`.

    What is done is kept, however the run ends; the next one goes on with it.

    Parameters
    ----------
    plan : what to run
    folder : of the sweep
    jobs : worker processes; 0 does everything in this one
    replace : put aside what another plan left there
    progress : called with members done and members in all
    scheduler : address of a scheduler, see `execute_there`; empty: this machine
    """
    if replace and (held := holder(folder)):
        raise InputError(f"{folder}: another sweep works in it ({held}); accepted: another folder (--out)")
    make_room(folder, replace)
    with locked(folder):
        store = Store(folder, plan)
        store.open()
        if store.complete:
            return
        todo = store.missing()
        done = plan.members.count - sum(len(plan.chunk(number)) for number in todo)
        for task, outcomes in execute(plan.base, plan.tasks(todo), jobs, scheduler):
            store.put(task.number, outcomes)
            done += len(outcomes)
            if progress is not None:
                progress(done, plan.members.count)
        store.finish()


@dataclass(frozen=True, slots=True)
class Status:
    """How far a sweep is."""

    members: int
    done: int
    complete: bool
    holder: str  # who works on it, empty for nobody
    about: Mapping[str, Any]


def status(folder: Path) -> Status:
    """Return how far the sweep in a folder is, also while another process works on it.

    Raises
    ------
    InputError
        The folder holds no sweep.
    """
    about = read_plan(folder)
    if about is None:
        raise InputError(f"{folder}: holds no sweep; accepted: a folder that `simengine sweep` wrote")
    complete = (folder / DATASET).is_file()
    members = int(about["members"])
    done = members if complete else min(members, chunks_there(folder) * int(about["chunk_members"]))
    return Status(members, done, complete, holder(folder), about)


def open_sweep(directory: Path | str) -> xr.Dataset:
    """Return the members of a finished sweep as a dataset that reads from the disk as it is used.

    Parameters
    ----------
    directory : the folder of the sweep

    Returns
    -------
    xarray.Dataset with dimensions member, house and month; inputs by their dotted key as coordinates

    Raises
    ------
    InputError
        The folder holds no sweep, or one that is not finished, or a damaged one.
    """
    folder = Path(directory)
    known = status(folder)
    if not known.complete:
        raise InputError(
            f"{folder / CHUNKS}: the sweep is not finished ({known.done} of {known.members} members); "
            "accepted: run it again, it goes on where it stopped"
        )
    try:
        return xr.open_dataset(folder / DATASET, engine="h5netcdf")
    except (OSError, ValueError) as damage:
        raise InputError(f"{folder / DATASET}: cannot be read ({damage})") from None
