"""What a member of a sweep costs outside its march, by what it changes; beside it the same for a single run.

Run with: pytest -m benchmark tests/benchmarks/test_member_overhead.py -s
"""

import time
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from simengine.batch.task import Base, Bench, Task
from simengine.data_files import data_path
from simengine.scenario import load
from simengine.simulate import resolve, together, year
from simengine.simulate.blocks import Ride, march_year
from simengine.simulate.drive import drive_of

pytestmark = pytest.mark.benchmark

MEMBERS = 16
TURNS = 5

VARIED: dict[str, Callable[[int], dict[str, Any]]] = {
    "money": lambda i: {"economics.first_cost": f"{500 + i} USD"},
    "flow": lambda i: {"fan.flow": f"{70.0 + 0.1 * i:.1f} cfm"},
    "absorptance and flow": lambda i: {
        "fan.flow": f"{70.0 + 0.1 * i:.1f} cfm",
        "collector.absorber.absorptance": 0.8 + 1e-4 * i,
    },
    "house": lambda i: {"builtin_houses.heat_loss_factor": 1.0 + 1e-3 * i},
    "tilt": lambda i: {"collector.tilt": f"{50.0 + 0.01 * i:.2f} deg"},
    "height": lambda i: {"collector.height": f"{2.0 + 1e-3 * i:.3f} m"},
}


class Ready:
    """A march that was done before: hands out the ledger of one scenario for every lane."""

    def __init__(self) -> None:
        resolved = resolve(load(data_path("scenarios", "demo.toml")))
        drive = drive_of(resolved)
        member = year.member_of(resolved, drive)
        (self.year,) = march_year([Ride(member, drive, year.first_temperature(resolved))])

    def __call__(self, rides: list[Ride], _: object = None) -> list[NDArray[np.float64]]:
        """Return the ledger for each of the rides."""
        return [self.year] * len(rides)


@pytest.fixture(scope="module")
def ready() -> Ready:
    return Ready()


@pytest.mark.parametrize("kind", VARIED)
def test_member_outside_its_march(kind: str, ready: Ready, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(together, "march_year", ready)
    bench = Bench(Base.of(load(data_path("scenarios", "demo.toml"))))
    found = []
    for turn in range(TURNS + 1):
        changes = [VARIED[kind](MEMBERS * turn + i) for i in range(MEMBERS)]
        task = Task(turn, tuple(range(MEMBERS)), tuple(changes))
        begin = time.perf_counter()
        outcomes = bench.work(task)
        found.append((time.perf_counter() - begin) / MEMBERS)
        assert all(outcome.numbers is not None for outcome in outcomes)
    print(f"\n{kind}: {1e3 * float(np.median(found[1:])):.2f} ms a member outside the march")


def test_parts_of_a_member(ready: Ready) -> None:
    scenario = load(data_path("scenarios", "demo.toml"))
    resolved, drive = resolve(scenario), drive_of(resolve(scenario))
    parts: dict[str, Callable[[], object]] = {
        "scenario read anew with a change": lambda: scenario.changed({"fan.flow": "90 cfm"}),
        "parts assembled, houses made": lambda: resolve(scenario, resolved.series),
        "arrays of the march": lambda: year.member_of(resolved, drive),
        "numbers of a sweep": lambda: year.finished_in_brief(resolved, drive, ready.year),
        "the whole result instead": lambda: year.finished(resolved, drive, ready.year),
    }
    print()
    for name, make in parts.items():
        make()
        taken = []
        for _ in range(20):
            begin = time.perf_counter()
            make()
            taken.append(time.perf_counter() - begin)
        print(f"{name}: {1e3 * float(np.median(taken)):.2f} ms")
