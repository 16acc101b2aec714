"""A still space at the temperatures of the moment against the relation and the gas that it stands for."""

import numpy as np
import pytest

from simengine.air.gases import gas_named
from simengine.air.properties import thermal_conductivity
from simengine.collector.films import still_conductance
from simengine.collector.spec import AirSpace, SealedGap
from simengine.heat_transfer.natural_convection import gap_nusselt, rayleigh
from tests.collector.by_hand import PRESSURE, collector, numbers

NETWORK, _ = numbers(collector(panes=2))
LENGTH, DEPTHS = 2.4, (0.014, 0.025, 0.030)


def expected(space: int, outer: float, inner: float, tilt: float = 60.0) -> float:
    """Conductance by the relation itself: tilt counts at the hotter face."""
    depth = DEPTHS[space]
    at_hot_face = tilt if inner >= outer else 180.0 - tilt
    nusselt = gap_nusselt(rayleigh(inner, outer, depth, PRESSURE), at_hot_face, LENGTH / depth)
    return nusselt * thermal_conductivity(0.5 * (inner + outer)) / depth


# tolerance: 0.2 % of the table, away from the onset of convection, and 0.01 % of the gas fit
@pytest.mark.parametrize("space", [0, 1, 2])
@pytest.mark.parametrize(("outer", "inner"), [(280.0, 330.0), (300.0, 305.0), (360.0, 300.0), (310.0, 309.0)])
def test_still_space_follows_its_relation(space, outer, inner):
    found = still_conductance(NETWORK, space, 0, 0, outer, inner)
    assert found == pytest.approx(expected(space, outer, inner), rel=3e-3)


@pytest.mark.parametrize("temperature", [240.0, 300.0, 400.0])
def test_equal_walls_conduct_only(temperature):
    found = still_conductance(NETWORK, 1, 0, 0, temperature, temperature)
    assert found == pytest.approx(thermal_conductivity(temperature) / 0.025, rel=2e-4)


def test_heated_from_above_convects_less_than_from_below():
    assert still_conductance(NETWORK, 1, 0, 0, 340.0, 300.0) < still_conductance(
        NETWORK, 1, 0, 0, 300.0, 340.0
    )


def test_depth_is_that_of_the_segment():
    slanted, _ = numbers(collector("through"))
    for segment, depth in enumerate((0.06 - 0.04 / 6, 0.04, 0.02 + 0.04 / 6)):
        found = still_conductance(slanted, 0, segment, 0, 300.0, 300.0)
        assert found == pytest.approx(thermal_conductivity(300.0) / depth, rel=2e-4)


def test_every_space_reads_its_own_gas_and_table():
    argon = gas_named("argon").thermal_conductivity(300.0) / 0.014
    filled, _ = numbers(collector(panes=2, pane_gaps=(SealedGap(0.014, "argon"),)))
    assert still_conductance(filled, 0, 0, 0, 300.0, 300.0) == pytest.approx(argon, rel=2e-4)
    marked = filled._replace(nusselt=filled.nusselt * np.array([1.0, 2.0, 3.0])[:, None, None])
    for space, factor in enumerate((1.0, 2.0, 3.0)):
        ratio = still_conductance(marked, space, 1, 0, 300.0, 320.0) / still_conductance(
            filled, space, 1, 0, 300.0, 320.0
        )
        assert ratio == pytest.approx(factor, rel=1e-12)


@pytest.mark.parametrize(("outer", "inner", "end"), [(280.0, 420.0, -1), (420.0, 280.0, 0)])
def test_beyond_the_table_its_end_is_held(outer, inner, end):
    wide, _ = numbers(collector(front=AirSpace(0.60, 0.60)))
    wide.nusselt[0, 0, end] = 77.0  # unlike its neighbour
    conductance = still_conductance(wide, 0, 0, 0, outer, inner)
    assert conductance == pytest.approx(77.0 * thermal_conductivity(350.0) / 0.60, rel=1e-3)
