"""Two independent ways agree: the march's steady state and a root finder's, over random collectors.

The second is `blind_steady`: written from the published relations and the description of the model alone,
by an author who had not seen the package's own coding. Standing: independent solution.
"""

import pytest

from tests.reference.blind_builds import ARRANGEMENTS, Build, of_the_package, random_build
from tests.reference.blind_steady import Box

RELATIVE, FLOOR = 0.001, 0.0005
"""Of the gain, or of the absorbed sun where the gain is small. What is found is below 0.05 %: 24 segments
against polynomials along the flow, a table of the still gaps against their relations."""
RUNNING, AT_REST = 0.05, 0.4
"""Temperatures [K]; at rest the table of a still gap counts, off by up to 1.5 % where convection sets in."""


def number_of(arrangement: str, turn: int) -> int:
    return ARRANGEMENTS.index(arrangement) + len(ARRANGEMENTS) * turn


def assert_agree(build: Build) -> None:
    second = Box(build.collector, build.outdoors, build.absorbed, build.inlet, build.mass_flow).solve()
    found = of_the_package(build)
    assert second.residual < 1.0e-4  # W/m2: the root finder has come to rest
    if build.mass_flow > 0.0:
        assert found.gain == pytest.approx(second.gain, rel=RELATIVE, abs=FLOOR * build.sun)
        assert found.outlet == pytest.approx(second.outlet, abs=RUNNING)
    kelvin = RUNNING if build.mass_flow > 0.0 else AT_REST
    assert found.absorber == pytest.approx(second.absorber, abs=kelvin)


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_gain_and_temperatures_agree_with_a_blind_coding(arrangement: str) -> None:
    assert_agree(random_build(number_of(arrangement, 3), arrangement))


def test_ribs_behind_a_bank_of_tubes_count_for_nothing() -> None:
    build = random_build(number_of("tubes", 0), "tubes")
    assert build.collector.absorber.rear_area > 1.1
    assert_agree(build)


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_stagnation_agrees_with_a_blind_coding(arrangement: str) -> None:
    assert_agree(random_build(number_of(arrangement, 4), arrangement, still=True))


@pytest.mark.slow
@pytest.mark.parametrize("number", range(200))
def test_gain_and_temperatures_agree_with_a_blind_coding_over_200_builds(number: int) -> None:
    assert_agree(random_build(number, ARRANGEMENTS[number % len(ARRANGEMENTS)]))


@pytest.mark.slow
@pytest.mark.parametrize("number", range(66))
def test_stagnation_agrees_with_a_blind_coding_over_more_builds(number: int) -> None:
    assert_agree(random_build(number, ARRANGEMENTS[number % len(ARRANGEMENTS)], still=True))
