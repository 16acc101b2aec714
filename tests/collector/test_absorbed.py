"""The sun on the aperture, turned into heat."""

import numpy as np
import pytest

from simengine.collector.absorbed import absorbed_sun
from simengine.collector.spec import Absorber, AirSpace, Back, Collector, Pane, SealedGap


def collector(**changes: float) -> Collector:
    """Return an invented double-glazed collector on a wall."""
    glass = Pane("glass", 0.004)
    gap, air = SealedGap(0.016), AirSpace(0.03, 0.03)
    return Collector(
        1.2, 2.0, changes.get("tilt", 90.0), 180.0, "behind", (glass, glass), (gap,), air, Absorber("black"),
        air, Back(()), dirt_factor=changes.get("dirt_factor", 0.98),
    )  # fmt: skip


INCIDENCE = np.array([10.0, 60.0, 120.0, 45.0])
BEAM = np.array([700.0, 300.0, 0.0, 0.0])
SKY = np.array([100.0, 80.0, 40.0, 0.0])
GROUND = np.array([60.0, 30.0, 10.0, 0.0])


def test_what_falls_on_the_aperture_is_found_again() -> None:
    sun = absorbed_sun(collector(), INCIDENCE, BEAM, SKY, GROUND)
    total = sun.pane.sum(axis=0) + sun.absorber + sun.reflected
    assert total == pytest.approx(BEAM + SKY + GROUND, abs=1e-10)


def test_no_sun_leaves_no_heat() -> None:
    sun = absorbed_sun(collector(), INCIDENCE, 0 * BEAM, 0 * SKY, 0 * GROUND)
    assert not sun.pane.any() and not sun.absorber.any() and not sun.reflected.any()


def test_dirt_takes_its_share_off_everything_absorbed() -> None:
    clean = absorbed_sun(collector(dirt_factor=1.0), INCIDENCE, BEAM, SKY, GROUND)
    dirty = absorbed_sun(collector(dirt_factor=0.9), INCIDENCE, BEAM, SKY, GROUND)
    assert dirty.absorber == pytest.approx(0.9 * clean.absorber)
    assert dirty.pane == pytest.approx(0.9 * clean.pane)


def test_a_beam_from_behind_gives_nothing() -> None:
    sun = absorbed_sun(collector(), np.array([95.0]), np.array([500.0]), np.zeros(1), np.zeros(1))
    assert sun.absorber[0] == 0.0 and sun.reflected[0] == pytest.approx(500.0)


def test_a_flat_collector_sees_no_ground() -> None:
    sun = absorbed_sun(collector(tilt=0.0), INCIDENCE, 0 * BEAM, 0 * SKY, GROUND)
    assert sun.absorber == pytest.approx(np.zeros(4), abs=1e-12)
