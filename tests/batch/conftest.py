"""What the tests of this room share: a demo, and outcomes of a toy whose answers are known."""

from collections.abc import Callable

import numpy as np
import pytest

from simengine.batch.measures import COLUMNS, WIDTH
from simengine.batch.sample import Column, Sample
from simengine.batch.task import Outcome
from simengine.data_files import data_path
from simengine.scenario import Scenario, load

Toy = Callable[..., tuple[Sample, list[Outcome]]]


@pytest.fixture(scope="session")
def demo() -> Scenario:
    return load(data_path("scenarios", "demo.toml"))


@pytest.fixture(scope="session")
def toy() -> Toy:
    """Return members 0..n-1 whose heat saved is 100 + x and whose net saving is 10 * (x + shift)."""

    def make(count: int, shift: float = 1.0, cost: float = 1000.0) -> tuple[Sample, list[Outcome]]:
        x = np.arange(float(count))
        idle = np.array([float((7 * i) % count) for i in range(count)])
        columns = (
            Column("rising", tuple(x), x, True),
            Column("falling", tuple(-x), -x, True),
            Column("idle", tuple(idle), idle, True),
        )
        outcomes = []
        for i in range(count):
            row = np.zeros((1, WIDTH))
            saving = 10.0 * (x[i] + shift)
            values = {
                "offset_kwh": 100.0 + x[i],
                "net_saving": saving,
                "first_cost": cost,
                "simple_payback_a": cost / saving if saving > 0.0 else np.nan,
            }
            for name, value in values.items():
                row[0, COLUMNS.index(name)] = value
            outcomes.append(Outcome(i, row))
        return Sample(columns, count), outcomes

    return make
