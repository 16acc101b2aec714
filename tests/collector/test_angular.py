"""Fall-off of the absorber and of the whole cover with the angle of incidence."""

from dataclasses import replace

import numpy as np
import pytest

from simengine.collector.angular import (
    FALL_OFFS,
    absorptance_at,
    beam_shares,
    diffuse_shares,
    flat_black_fourth_order,
    flat_black_seventh_order,
    incidence_angle_modifier,
)
from simengine.collector.diffuse_angles import ground_diffuse_angle, sky_diffuse_angle
from simengine.collector.spec import Absorber, Pane
from simengine.errors import InputError

BLACK = Absorber("black", absorptance=0.95)
GLASS = Pane("glass", 0.004)


def test_two_remembered_fits_of_flat_black_agree() -> None:
    # From memory, both of Duffie and Beckman, section 4.11 (different editions); 0.02 over 0 to 80 deg.
    angles = np.linspace(0.0, 80.0, 81)
    assert flat_black_seventh_order(angles) == pytest.approx(flat_black_fourth_order(angles), abs=0.02)


@pytest.mark.parametrize("name", sorted(FALL_OFFS))
def test_every_fall_off_starts_at_one_and_ends_at_ninety(name: str) -> None:
    relation = FALL_OFFS[name]
    assert relation.__name__ == name
    angles = np.linspace(0.0, 89.9, 900)
    ratio = relation(angles)
    assert ratio[0] == 1.0
    assert np.all((ratio >= 0.0) & (ratio <= 1.0))
    assert np.all(np.diff(ratio) <= 1e-3)  # the fourth-order fit rises 0.006 near 5 deg, cut off at 1
    assert relation(np.array([90.0, 135.0])).tolist() == [0.0, 0.0]


def test_seventh_order_runs_into_zero_at_90_deg() -> None:
    # Mathematics of the remembered coefficients: their sum at 90 deg is 0 within 0.001, no jump.
    assert flat_black_seventh_order(np.array([89.999]))[0] == pytest.approx(0.0, abs=1e-3)


def test_fall_off_can_be_switched_off() -> None:
    flat = replace(BLACK, angular=False)
    assert absorptance_at(flat, np.array([0.0, 50.0, 85.0])).tolist() == [0.95, 0.95, 0.95]


def test_unknown_fall_off_is_refused() -> None:
    with pytest.raises(InputError, match="accepted: flat_black_seventh_order"):
        absorptance_at(replace(BLACK, fall_off="guess"), np.zeros(1))


def test_shares_of_a_year_sum_to_one() -> None:
    angles = np.linspace(0.0, 180.0, 721)
    shares = beam_shares([GLASS, GLASS], BLACK, angles)
    assert shares.pane.sum(axis=0) + shares.absorber + shares.reflected == pytest.approx(
        np.ones(721), abs=1e-12
    )


def test_absorber_takes_less_of_slanting_light() -> None:
    assert np.all(np.diff(beam_shares([GLASS], BLACK, np.linspace(0.0, 90.0, 91)).absorber) <= 0.0)


@pytest.mark.parametrize("tilt", [0.0, 45.0, 90.0])
def test_diffuse_light_is_a_beam_at_its_effective_angle(tilt: float) -> None:
    sky, ground = diffuse_shares([GLASS], BLACK, tilt)
    angles = np.array([sky_diffuse_angle(tilt), ground_diffuse_angle(tilt)])
    beam = beam_shares([GLASS], BLACK, angles)
    assert [sky.absorber[0], ground.absorber[0]] == pytest.approx(beam.absorber.tolist(), abs=1e-15)
    assert sky.pane.shape == (1, 1)


@pytest.mark.parametrize(
    ("angle", "expected", "tolerance"),
    [
        pytest.param(60.0, 0.9, 1e-9, id="published, read: b0 0.10 gives 0.9 at 60 deg"),
        # Published, read: incidence angle modifiers on a collector's test certificate.
        pytest.param(10.0, 1.0, 0.02, id="certificate, 10 deg"),
        pytest.param(20.0, 0.99, 0.02, id="certificate, 20 deg"),
        pytest.param(30.0, 0.98, 0.02, id="certificate, 30 deg"),
        pytest.param(40.0, 0.97, 0.02, id="certificate, 40 deg"),
        pytest.param(60.0, 0.9, 0.02, id="certificate, 60 deg"),
        pytest.param(80.0, 0.5, 0.03, id="certificate, 80 deg"),
    ],
)
def test_incidence_angle_modifier_with_b0_0_10(angle: float, expected: float, tolerance: float) -> None:
    assert incidence_angle_modifier(np.array([angle]), 0.10)[0] == pytest.approx(expected, abs=tolerance)


def test_incidence_angle_modifier_never_passes_zero() -> None:
    found = incidence_angle_modifier(np.array([0.0, 84.0, 88.0, 90.0, 150.0]), 0.10)
    assert found[0] == 1.0 and found[1] > 0.0 and found[2:].tolist() == [0.0, 0.0, 0.0]
