"""Seeded logs whose truth the fit does not know: its bands cover the truth as often as they say, and
no wider.

Half of the logs come from the engine, half from a solver that shares no code with it. Truth, sensors and
noise are drawn anew for each.
"""

import numpy as np
import pytest

from simengine.simulate.measured import Bench, Factors
from tests.fieldtest.made_logs import from_elsewhere, from_engine
from tests.fieldtest.study import errors_of

COVER = (0.92, 0.98)
WIDEST = 1.3


@pytest.mark.slow
def test_four_hundred_logs(bench: Bench) -> None:
    logs = [*from_engine(bench, range(200)), *from_elsewhere(bench, range(1000, 1200))]
    study = errors_of(bench, logs)
    for name in Factors._fields:
        found = study[name]
        print(name, found)  # pytest -m slow -s shows the figures that docs/field_test.md holds
        assert found.count >= 390, name
        assert COVER[0] <= found.coverage <= COVER[1], (name, found)
        assert found.half_width <= WIDEST * 2.0 * found.scatter, (name, found)


def test_eight_logs(bench: Bench) -> None:
    logs = [*from_engine(bench, range(4)), *from_elsewhere(bench, range(1000, 1004))]
    study = errors_of(bench, logs)
    for name in Factors._fields:
        # 8 draws of a probability of 0.95: fewer than 5 hits come once in three thousand (binomial,
        # mathematics)
        assert study[name].coverage * study[name].count >= 5, (name, study[name])


def test_both_solvers_tell_the_same_story(bench: Bench) -> None:
    one, other = from_engine(bench, range(3, 4))[0], from_elsewhere(bench, range(3, 4))[0]
    assert one.true == other.true
    first, second = (
        np.array([r.split(",")[1:] for r in m.text.splitlines()[1:]], float) for m in (one, other)
    )
    # same seed, so same noise: what differs is the solvers alone, explicit and implicit, 6 and 3 segments
    assert float(np.abs(first - second)[30:, 2:5].mean()) < 0.05  # [K]
