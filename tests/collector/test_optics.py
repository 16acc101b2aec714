"""Stacks of panes before an absorber."""

import math
import time
from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from simengine.collector.fresnel import refracted_cosine, surface_reflectance
from simengine.collector.optics import (
    cover_reflectance,
    cover_transmittance,
    pane_absorption,
    stack_absorption,
    tabulate,
)
from simengine.collector.pane_optics import pane_optics, tabulated_pane
from simengine.collector.spec import Pane, RatedOptics
from simengine.errors import RangeError

few = settings(max_examples=50, derandomize=True, deadline=None)
ANGLES = np.array([0.0, 20.0, 45.0, 60.0, 75.0, 85.0, 89.5])


def glass(absorption: float, index: float = 1.526) -> Pane:
    """Return a pane whose extinction times thickness is given."""
    return Pane("glass", 0.004, refractive_index=index, extinction=absorption / 0.004)


def at(panes: Sequence[Pane], angle: float) -> float:
    return float(cover_transmittance(panes, np.array([angle]))[0])


sheets = st.one_of(
    st.builds(glass, st.floats(0.0, 1.0), st.floats(1.0, 1.8)),
    st.builds(
        lambda passed, outside, inside: replace(
            glass(0.1), rated=RatedOptics(passed, (1 - passed) * outside, (1 - passed) * inside)
        ),
        st.floats(0.0, 0.95),
        st.floats(0.05, 0.95),
        st.floats(0.05, 0.95),
    ),
)
covers = st.lists(sheets, min_size=0, max_size=3)
any_angle = st.floats(0.0, 180.0)


@pytest.mark.parametrize(
    ("panes", "absorption", "angle", "expected", "tolerance"),
    [
        # From memory of Duffie and Beckman, section 5.1: two covers that do not absorb.
        pytest.param(2, 0.0, 0.0, 0.85, 0.005, id="from memory, two clear covers, normal"),
        pytest.param(2, 0.0, 60.0, 0.76, 0.005, id="from memory, two clear covers, 60 deg"),
        # Independent solution of the same equations.
        pytest.param(1, 0.037, 0.0, 0.8835, 0.001, id="independent, one cover, normal"),
        pytest.param(1, 0.037, 60.0, 0.8041, 0.001, id="independent, one cover, 60 deg"),
        pytest.param(2, 0.037, 0.0, 0.7856, 0.001, id="independent, two covers, normal"),
    ],
)
def test_transmittance_of_covers(
    panes: int, absorption: float, angle: float, expected: float, tolerance: float
) -> None:
    assert at([glass(absorption)] * panes, angle) == pytest.approx(expected, abs=tolerance)


def test_modifier_of_a_cover_alone_at_60_deg() -> None:
    # Independent solution: 0.91 +- 0.002 (one cover, extinction x thickness 0.037).
    assert at([glass(0.037)], 60.0) / at([glass(0.037)], 0.0) == pytest.approx(0.91, abs=0.002)


@pytest.mark.parametrize("absorption", [0.0125, 0.037, 0.0524])
@pytest.mark.parametrize("count", [1, 2, 3])
def test_exact_stack_is_near_the_product_of_absorption_and_reflection(count: int, absorption: float) -> None:
    # Mathematics: tau is about tau_a tau_r to 70 deg, within 0.015 (Duffie and Beckman, section 5.3).
    angles = np.linspace(0.0, 70.0, 71)
    surface = surface_reflectance(angles, 1.526)
    reflection_only = ((1.0 - surface) / (1.0 + (2 * count - 1) * surface)).mean(axis=0)
    product = np.exp(-count * absorption / refracted_cosine(angles, 1.526)) * reflection_only
    exact = cover_transmittance([glass(absorption)] * count, angles)
    assert np.max(np.abs(exact - product)) <= 0.015


@pytest.mark.parametrize("absorption", [0.0125, 0.037, 0.0524])
def test_hemispherical_transmittance_is_that_at_60_deg(absorption: float) -> None:
    # From memory of Duffie and Beckman, section 5.4: 0 +- 0.01.
    sine_squared = (np.arange(4000) + 0.5) / 4000
    angles = np.degrees(np.arcsin(np.sqrt(sine_squared)))
    hemispherical = float(cover_transmittance([glass(absorption)], angles).mean())
    assert hemispherical - at([glass(absorption)], 60.0) == pytest.approx(0.0, abs=0.01)


def test_transmittance_absorptance_product_at_60_deg() -> None:
    # Independent solution 0.7016 +- 0.001; ratio to tau alpha 1.01 +- 0.006 from memory of Duffie and
    # Beckman, section 5.5 (glass of 2.3 mm, K 32 /m, absorptance 0.90).
    sheet = Pane("glass", 0.0023, extinction=32.0)
    shares = stack_absorption([sheet], 0.90, np.array([60.0]))
    assert shares.absorber[0] == pytest.approx(0.7016, abs=0.001)
    assert shares.absorber[0] / (at([sheet], 60.0) * 0.90) == pytest.approx(1.01, abs=0.006)


def test_absorber_share_is_the_closed_form() -> None:
    # Mathematics: tau alpha / (1 - (1 - alpha) rho_d), rho_d of the cover from below at 60 deg.
    panes, absorptance = [glass(0.1), glass(0.037)], 0.93
    returned = float(cover_reflectance(panes, np.array([60.0]), from_inside=True)[0])
    expected = cover_transmittance(panes, ANGLES) * absorptance / (1.0 - (1.0 - absorptance) * returned)
    assert stack_absorption(panes, absorptance, ANGLES).absorber == pytest.approx(expected, abs=1e-14)


def net_radiation(
    panes: Sequence[Pane], angle: float, polarisation: int
) -> tuple[float, float, NDArray[np.float64]]:
    """Solve the outgoing light of every gap as one linear system: transmitted, reflected, absorbed."""
    count = len(panes)
    optics = [pane_optics(pane, np.array([angle])) for pane in panes]
    passed = [o.transmittance[polarisation, 0] for o in optics]
    outer = [o.reflectance_outside[polarisation, 0] for o in optics]
    inner = [o.reflectance_inside[polarisation, 0] for o in optics]
    # Unknowns: downward light below pane i (2 i) and upward light above pane i (2 i + 1).
    matrix, right = np.eye(2 * count), np.zeros(2 * count)
    for i in range(count):
        for row, from_above, from_below in ((2 * i, passed[i], inner[i]), (2 * i + 1, outer[i], passed[i])):
            if i == 0:
                right[row] = from_above
            else:
                matrix[row, 2 * (i - 1)] -= from_above
            if i < count - 1:
                matrix[row, 2 * (i + 1) + 1] -= from_below
    flow = np.linalg.solve(matrix, right)
    down = np.concatenate(([1.0], flow[0::2]))
    up = np.concatenate((flow[1::2], [0.0]))
    absorbed = np.array(
        [down[i] * (1 - passed[i] - outer[i]) + up[i + 1] * (1 - passed[i] - inner[i]) for i in range(count)]
    )
    return float(down[-1]), float(up[0]), absorbed


@pytest.mark.parametrize("angle", ANGLES.tolist())
def test_stack_against_a_linear_system(angle: float) -> None:
    # Independent solution: the same layers as simultaneous equations, one polarisation at a time.
    panes = [glass(0.1), replace(glass(0.1), rated=RatedOptics(0.58, 0.27, 0.22)), glass(0.02, 1.6)]
    perpendicular, parallel = net_radiation(panes, angle, 0), net_radiation(panes, angle, 1)
    here = np.array([angle])
    mean = [0.5 * (a + b) for a, b in zip(perpendicular, parallel, strict=True)]
    assert cover_transmittance(panes, here)[0] == pytest.approx(mean[0], abs=1e-13)
    assert cover_reflectance(panes, here)[0] == pytest.approx(mean[1], abs=1e-13)
    assert pane_absorption(panes, here)[:, 0] == pytest.approx(mean[2], abs=1e-13)


@few
@given(covers, st.floats(0.0, 1.0), any_angle)
def test_shares_sum_to_one(panes: list[Pane], absorptance: float, angle: float) -> None:
    shares = stack_absorption(panes, absorptance, np.array([angle, 0.0, 89.999999]), absorptance**2)
    total = shares.pane.sum(axis=0) + shares.absorber + shares.reflected
    assert total == pytest.approx(np.ones(3), abs=1e-12)
    assert np.all(shares.pane >= -1e-9) and np.all(shares.absorber >= 0.0)


@few
@given(covers, any_angle)
def test_reciprocity_a_reversed_stack_passes_the_same(panes: list[Pane], angle: float) -> None:
    turned = [
        pane
        if pane.rated is None
        else replace(
            pane,
            rated=RatedOptics(
                pane.rated.transmittance, pane.rated.reflectance_inside, pane.rated.reflectance_outside
            ),
        )
        for pane in reversed(panes)
    ]
    here = np.array([angle])
    assert cover_transmittance(turned, here) == pytest.approx(cover_transmittance(panes, here), abs=1e-12)
    if panes and angle < 90.0:
        below = cover_reflectance(panes, here, from_inside=True)
        assert cover_reflectance(turned, here) == pytest.approx(below, abs=1e-12)


@few
@given(covers, sheets, st.floats(0.0, 89.9))
def test_one_more_pane_never_passes_more(panes: list[Pane], another: Pane, angle: float) -> None:
    here = np.array([angle])
    assert cover_transmittance([*panes, another], here)[0] <= cover_transmittance(panes, here)[0] + 1e-12


@few
@given(st.integers(1, 3), st.floats(0.0, 0.3), st.floats(1.0, 1.6), st.floats(0.0, 89.0))
def test_more_slanting_light_never_passes_better(
    count: int, absorption: float, index: float, angle: float
) -> None:
    # Holds up to an index of about 1.6; three sheets of 1.7 pass 0.4 % more near 50 deg (Brewster).
    panes = [glass(absorption, index)] * count
    passed = cover_transmittance(panes, np.array([angle, angle + 0.9]))
    assert passed[1] <= passed[0] + 1e-12


@few
@given(covers, st.floats(0.0, 0.99), st.floats(0.0, 89.9))
def test_a_blacker_absorber_never_takes_less(panes: list[Pane], absorptance: float, angle: float) -> None:
    here = np.array([angle])
    grey, black = (
        stack_absorption(panes, absorptance, here),
        stack_absorption(panes, absorptance + 0.01, here),
    )
    assert black.absorber[0] >= grey.absorber[0]
    assert black.reflected[0] <= grey.reflected[0] + 1e-12


def test_from_90_deg_on_nothing_enters() -> None:
    behind = np.array([90.0, 100.0, 180.0])
    for panes in ([], [glass(0.1)], [glass(0.1), replace(glass(0.1), rated=RatedOptics(0.6, 0.2, 0.2))]):
        shares = stack_absorption(panes, 0.95, behind)
        assert np.all(shares.pane == 0.0) and np.all(shares.absorber == 0.0)
        assert np.all(shares.reflected == 1.0)
        assert np.all(cover_transmittance(panes, behind) == 0.0)


def test_an_open_absorber_takes_its_own_absorptance() -> None:
    shares = stack_absorption([], 0.9, np.array([0.0, 70.0]))
    assert shares.absorber.tolist() == pytest.approx([0.9, 0.9])
    assert shares.reflected.tolist() == pytest.approx([0.1, 0.1])
    assert shares.pane.shape == (0, 2)


def test_a_black_absorber_sends_nothing_back() -> None:
    panes = [glass(0.1), glass(0.05)]
    shares = stack_absorption(panes, 1.0, ANGLES)
    assert shares.absorber == pytest.approx(cover_transmittance(panes, ANGLES), abs=1e-14)
    assert shares.pane == pytest.approx(pane_absorption(panes, ANGLES), abs=1e-14)


def test_absorptance_outside_its_range_is_refused() -> None:
    with pytest.raises(RangeError, match="0 to 1"):
        stack_absorption([], 1.1, np.zeros(1))
    with pytest.raises(RangeError, match="0 to 1"):
        stack_absorption([], 0.9, np.zeros(1), returned_absorptance=-0.1)


def test_a_tabulated_stack_repeats_the_stack() -> None:
    points = tuple(float(angle) for angle in range(91))
    panes = [glass(0.01, 1.6)] * 2
    table = tabulate(panes, points)
    here = np.array(points)
    assert tabulated_pane(here, table).transmittance[0] == pytest.approx(
        cover_transmittance(panes, here), abs=1e-12
    )
    between = np.linspace(0.0, 90.0, 361)
    straight = tabulated_pane(between, table).transmittance[0]
    error = np.abs(straight - cover_transmittance(panes, between))
    # Straight lines over 1 deg; only in the last degree, where a beam carries nothing, more is let pass.
    assert np.max(error[between <= 89.0]) < 1e-3 and np.max(error) < 3e-3


def test_a_year_of_two_panes_takes_less_than_20_ms() -> None:
    angles = np.random.default_rng(5).uniform(0.0, 130.0, 8760)
    panes = [glass(0.1), replace(glass(0.1), rated=RatedOptics(0.7, 0.12, 0.11))]
    fastest = math.inf
    for _ in range(10):
        start = time.perf_counter()
        stack_absorption(panes, 0.94, angles, 0.9)
        fastest = min(fastest, time.perf_counter() - start)
    assert fastest < 0.020
