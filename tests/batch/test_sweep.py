"""Sweeps from end to end: the same as single runs, whoever runs them and however often they are killed."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest
import xarray as xr

from simengine.batch.crew import Crew
from simengine.batch.findings import findings
from simengine.batch.measures import numbers_of
from simengine.batch.plan import plan_of
from simengine.batch.store import Store
from simengine.batch.sweep import open_sweep, run_plan, sweep
from simengine.batch.task import Outcome, Task
from simengine.scenario import Scenario
from simengine.simulate import run
from tests.batch.sweeps import small


@pytest.fixture(scope="module")
def done(tmp_path_factory: pytest.TempPathFactory) -> xr.Dataset:
    """The small sweep, undisturbed, in this process."""
    with sweep(small(), tmp_path_factory.mktemp("sweep")) as found:
        return found.load()


def test_a_member_is_its_single_run_bit_for_bit(done: xr.Dataset) -> None:
    plan = plan_of(small())
    for member in (2, 5):
        alone = run(plan.scenario.changed(plan.members.changes(member)))
        numbers = numbers_of(alone.summary)
        assert done["offset_kwh"].values[member].tobytes() == np.ascontiguousarray(numbers[:, 5]).tobytes()
        year = alone.summary["houses"]["standard"]
        months = done["month_delivered_kwh"].values[member, 0]
        assert months.tolist() == [month["delivered_kwh"] for month in year["months"]]


def test_workers_and_a_resumed_sweep_give_the_same(done: xr.Dataset, tmp_path: Path) -> None:
    plan = plan_of(small())
    store = Store(tmp_path, plan)
    store.open()
    run_plan(plan, tmp_path, jobs=2)
    with open_sweep(tmp_path) as found:
        assert found.identical(done)


def _written(chunks: Path) -> list[str]:
    """Return the names of chunks that are whole; what is still being written begins with a dot."""
    return sorted(path.name for path in chunks.iterdir() if path.name[0] != ".") if chunks.is_dir() else []


def test_killed_in_the_middle_it_goes_on_to_the_same_end(done: xr.Dataset, tmp_path: Path) -> None:
    folder = tmp_path / "sweep"
    process = subprocess.Popen([sys.executable, "-c", ONCE, str(folder)])
    chunks = folder / "chunks"
    deadline = time.monotonic() + 120.0
    while time.monotonic() < deadline and process.poll() is None:
        if len(_written(chunks)) >= 2:
            break
        time.sleep(0.01)
    process.kill()
    process.wait()
    there = _written(chunks)
    assert 2 <= len(there) < 8
    damaged = chunks / there[0]
    damaged.write_bytes(damaged.read_bytes()[:-3])
    told: list[tuple[int, int]] = []
    run_plan(plan_of(small()), folder, progress=lambda now, of: told.append((now, of)))
    assert told[0] == (len(there), 8)  # one damaged, one new: the rest was kept
    with open_sweep(folder) as found:
        assert found.identical(done)


@pytest.mark.skipif(os.name == "nt", reason="signals of another kind there")
def test_ctrl_c_ends_within_two_seconds_and_keeps_what_is_done(tmp_path: Path) -> None:
    command = [sys.executable, "-c", SCRIPT, str(tmp_path / "sweep")]
    process = subprocess.Popen(command, stderr=subprocess.PIPE, text=True)
    chunks = tmp_path / "sweep" / "chunks"
    deadline = time.monotonic() + 120.0
    while time.monotonic() < deadline and not _written(chunks):
        time.sleep(0.02)
    pressed = time.monotonic()
    process.send_signal(signal.SIGINT)
    _, told = process.communicate(timeout=20)
    assert time.monotonic() - pressed < 2.0 + GRACE
    assert process.returncode == 130
    assert told.splitlines()[-1] == "interrupted; what was finished before is kept"
    assert "Traceback" not in told
    assert _written(chunks)


GRACE = 2.0
"""For a machine that is busy with other things [s]."""

SCRIPT = """
import sys
from pathlib import Path
from simengine.batch.plan import plan_of
from simengine.batch.sweep import run_plan
from simengine.cli.exits import guarded
from tests.batch.sweeps import small
if __name__ == "__main__":
    sys.exit(guarded(lambda: run_plan(plan_of(small()), Path(sys.argv[1]), jobs=1)))
"""


def test_a_lost_worker_costs_its_task_only(monkeypatch: pytest.MonkeyPatch) -> None:
    plan = plan_of(small())
    tasks = list(plan.tasks(range(3)))
    with Crew(plan.base, 1) as crew:
        given: list[int] = []
        give = crew._give

        def kill_over_one(worker: object, ahead: object, again: object) -> None:
            give(worker, ahead, again)  # type: ignore[arg-type]
            task: Task | None = worker.task  # type: ignore[attr-defined]
            if task is not None:
                given.append(task.number)
                if task.number == 1:
                    worker.process.kill()  # type: ignore[attr-defined]

        monkeypatch.setattr(crew, "_give", kill_over_one)
        outcomes: dict[int, list[Outcome]] = {task.number: out for task, out in crew.run(tasks)}
    assert given.count(1) == 2  # tried anew once
    assert outcomes[1][0].numbers is None
    assert "lost 2 times" in outcomes[1][0].reason
    assert outcomes[0][0].numbers is not None and outcomes[2][0].numbers is not None


def test_what_it_found(done: xr.Dataset) -> None:
    found = findings(done)
    values = done["offset_kwh"].sel(house="standard").values
    assert found["best"][0]["member"] == int(np.argmax(values))
    assert found["best"][0]["offset_kwh"] == values.max()
    # parts that cost nothing are on the front alone: no dearer member saves more than its cheap twin
    assert {row["first_cost"] for row in found["front"]} == {0.0}
    effects = {one["key"]: one for one in found["effects"]}
    assert effects["economics.first_cost"]["strength"] == pytest.approx(0.0, abs=1e-12)
    assert sum(level["members"] for level in effects["collector.tilt"]["levels"]) == 8
    assert found["failed"] == 0
    assert found["currency"] == "USD"


def test_money_is_in_the_currency_that_the_members_have_in_the_place_of_the_scenarios(demo: Scenario) -> None:
    inputs = {"heating.price": "1 EUR/L", "economics.first_cost": "900 EUR", "economics.upkeep": "10 EUR"}
    inputs |= {"economics.fan_cost": "90 EUR", "electricity.price": "0.3 EUR/kWh"}
    vary = {key: [value] for key, value in inputs.items()}
    euros = demo.changed({"sweep": {"vary": vary}})
    assert plan_of(euros).currency == "EUR"
    assert plan_of(demo.changed({"sweep": {"vary": {"collector.tilt": ["60 deg"]}}})).currency == "USD"
    broken = demo.changed({"sweep": {"vary": {"economics.first_cost": ["900 EUR"]}}})
    assert plan_of(broken).currency == "USD"  # its only member is none


KILLS = int(os.environ.get("SIMENGINE_TEST_KILLS", "25"))
"""How often the sweep below is killed; a nightly run may set more."""


@pytest.mark.slow
def test_killed_at_random_moments_the_end_is_the_same(done: xr.Dataset, tmp_path: Path) -> None:
    dice = np.random.default_rng(1)
    folder, kills, finished = tmp_path / "sweep", 0, 0
    while kills < KILLS:
        process = subprocess.Popen([sys.executable, "-c", ONCE, str(folder)])
        try:
            process.wait(timeout=float(dice.uniform(0.5, 6.0)))
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()
            kills += 1
            continue
        assert process.returncode == 0
        with open_sweep(folder) as found:
            assert found.identical(done)
        finished += 1
        folder = tmp_path / f"sweep{finished}"
    run_plan(plan_of(small()), folder)
    with open_sweep(folder) as found:
        assert found.identical(done)


ONCE = (
    "import sys; from pathlib import Path; from tests.batch.sweeps import small; "
    "from simengine.batch.sweep import sweep; sweep(small(), Path(sys.argv[1]))"
)
