"""The compiled equations against those written down before them, at random states."""

from dataclasses import replace

import numpy as np
import pytest

from simengine.constants import STANDARD_PRESSURE
from simengine.simulate.opening import house_with
from tests.engine import drive
from tests.reference.compiled_plant import NodeHour, plant_of
from tests.reference.node_equations import Hour, Plant
from tests.reference.test_solve_ivp import BOXES, HOUSE, PLANTS, RETURN, SNAP, SUPPLY


@pytest.mark.parametrize("running", [True, False], ids=["fan runs", "fan rests"])
@pytest.mark.parametrize("box", BOXES)
def test_every_rate_is_that_of_the_equations_in_plain_python(box, running) -> None:
    parts = replace(
        drive.demo().parts,
        collector=BOXES[box],
        control=SNAP,
        fan=drive.FAN,
        supply_ducts=(SUPPLY,),
        return_ducts=(RETURN,),
    )
    ours = plant_of(replace(drive.demo(), parts=parts, pressure=STANDARD_PRESSURE), HOUSE)
    house = house_with(HOUSE, parts)
    plain = PLANTS[BOXES[box].arrangement](
        BOXES[box], house, drive.FAN, SUPPLY, RETURN, SNAP, STANDARD_PRESSURE, running
    )
    ours.running = running
    random = np.random.default_rng(1)
    for _ in range(20):
        y = np.append(random.uniform(270.0, 350.0, plain.rows * plain.n + 4), [0.0, 0.0])
        assert rates(ours, plain, y, random) == pytest.approx(0.0, abs=1e-8)  # faces are found by iteration


def rates(ours, plain: Plant, y: np.ndarray, random: np.random.Generator) -> float:
    """Return the largest difference of the rates, relative to the size of each."""
    ambient, sky, wind = random.uniform(260.0, 290.0), random.uniform(240.0, 260.0), random.uniform(5.0, 25.0)
    absorbed = tuple(random.uniform(0.0, 600.0, plain.panes + 1).tolist())
    gains = tuple(random.uniform(0.0, 2000.0, 3).tolist())
    plain.hour = Hour(ambient, sky, wind, absorbed, gains, 293.15, 299.15)
    ours.hour = NodeHour(np.array([ambient, sky, wind, *gains, 293.15, 299.15, 0.0, 1.0, *absorbed]))
    expected, found = np.array(plain(0.0, y)), ours(0.0, y)
    return float(np.max(np.abs(found - expected) / (1e-6 + np.abs(expected))))
