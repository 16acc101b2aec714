"""The main result with a band: years drawn within what is unsure about the inputs."""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import NDArray

from simengine.batch.band import FEWEST, band_blocks
from simengine.batch.execute import execute, in_tasks
from simengine.batch.sample import Sample, draw
from simengine.batch.task import Base, Outcome, Task
from simengine.batch.usual_spread import spreads_of
from simengine.errors import InputError
from simengine.results import Result
from simengine.scenario import Scenario
from simengine.simulate import run

Array = NDArray[np.float64]
Progress = Callable[[int, int], None]

MOST = 100_000
TASK = 4
"""Members worked on together: few, so that all workers end at about the same time."""


def run_spread(
    scenario: Scenario,
    members: int,
    *,
    seed: int | None = None,
    jobs: int = 0,
    weather: str | None = None,
    progress: Progress | None = None,
) -> Result:
    """Return the year of a scenario with its band of uncertainty.

    Parameters
    ----------
    scenario : the checked scenario, with its `[spread]` if it has one
    members : how many years are drawn
    seed : start of the random numbers; the scenario's own if None
    jobs : worker processes; 0 does everything in this one. It changes no number
    weather : file or built-in year in the place of the scenario's own
    progress : called with members done and members in all

    Returns
    -------
    Result whose houses have a block `spread` in the summary

    Raises
    ------
    InputError
        Weather, parts or spreads cannot be used, or all members failed.
    """
    sample_of(scenario, members, seed)  # refuses what makes no sense before the first year is run
    base = Base.of(scenario, weather)
    return with_band(run(base.scenario()), scenario, base, (members, seed), jobs, progress)


def with_band(
    result: Result,
    scenario: Scenario,
    base: Base,
    drawn: tuple[int, int | None],
    jobs: int = 0,
    progress: Progress | None = None,
) -> Result:
    """Return a result with the band around it; parameters as `run_spread`, `drawn` is members and seed.

    Parameters
    ----------
    result : the year without a band
    scenario : the checked scenario
    base : the scenario that all members change
    drawn : members, and the seed as `sample_of` takes it
    jobs : worker processes; 0 does everything in this one
    progress : called with members done and members in all
    """
    sample, seed = sample_of(scenario, *drawn)
    outcomes: dict[int, Outcome] = {}
    for _, done in execute(base, _tasks(sample), jobs):
        outcomes.update({outcome.member: outcome for outcome in done})
        if progress is not None:
            progress(len(outcomes), sample.count)
    blocks = band_blocks(list(result.summary["houses"]), sample, [outcomes[i] for i in range(sample.count)])
    houses = {
        name: {**house, "spread": {**blocks[name], "seed": seed}}
        for name, house in result.summary["houses"].items()
    }
    return Result(result.hours, {**result.summary, "houses": houses})


def sample_of(scenario: Scenario, members: int, seed: int | None = None) -> tuple[Sample, int]:
    """Return the members of a scenario's band, and the seed that they were drawn with.

    Parameters
    ----------
    scenario : the checked scenario, with its [spread] if it has one
    members : how many
    seed : start of the random numbers; the scenario's own if None
    """
    if not FEWEST <= members <= MOST:
        raise InputError(f"a band of {members} members; accepted: {FEWEST} to {MOST}")
    chosen = seed_of(scenario, seed)
    spreads = spreads_of(scenario.inputs)
    if not spreads:
        raise InputError(
            "spread: every input is sure, so there is no band; accepted: a spread in [spread.vary]"
        )
    return draw(scenario.inputs, spreads, members, chosen), chosen


def seed_of(scenario: Scenario, seed: int | None) -> int:
    """Return the seed of a scenario's band: the one that is asked for, else its own."""
    spread = scenario.inputs.spread
    return seed if seed is not None else 1 if spread is None else spread.seed


def _tasks(sample: Sample) -> Sequence[Task]:
    return [
        Task(number, tuple(members), tuple(sample.changes(member) for member in members))
        for number, members in in_tasks(sample.count, TASK)
    ]
