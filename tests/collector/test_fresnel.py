"""A clear sheet: Fresnel surfaces, inner reflections, absorption."""

import math

import numpy as np
import pvlib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.collector.fresnel import (
    clear_pane,
    extinction_from_transmittance,
    refracted_cosine,
    surface_reflectance,
)
from simengine.errors import RangeError

few = settings(max_examples=50, derandomize=True, deadline=None)
indices = st.floats(1.0, 1.9)
absorptions = st.floats(0.0, 3.0)
angles = st.floats(0.0, 89.99)

# From memory of Duffie and Beckman, Solar Engineering of Thermal Processes, example 5.1.1 (n 1.526).
SURFACE = [
    pytest.param(surface_reflectance(np.array(0.0), 1.526).mean(), 0.0434, 5e-5, id="normal"),
    pytest.param(surface_reflectance(np.array(60.0), 1.526)[0], 0.185, 6e-4, id="perpendicular, 60 deg"),
    pytest.param(surface_reflectance(np.array(60.0), 1.526)[1], 0.001, 6e-4, id="parallel, 60 deg"),
    pytest.param(surface_reflectance(np.array(60.0), 1.526).mean(), 0.093, 6e-4, id="mean, 60 deg"),
]


@pytest.mark.parametrize(("found", "expected", "tolerance"), SURFACE)
def test_surface_reflectance_of_glass(found: float, expected: float, tolerance: float) -> None:
    assert found == pytest.approx(expected, abs=tolerance)


def test_refraction_at_60_deg() -> None:
    # From memory of Duffie and Beckman, example 5.1.1: 34.58 +- 0.01 deg.
    found = math.degrees(math.acos(float(refracted_cosine(np.array(60.0), 1.526))))
    assert found == pytest.approx(34.58, abs=0.01)


# From memory of Duffie and Beckman, example 5.3.1: 2.3 mm, K 32 /m, 60 deg, each +- 0.001.
SHEET = clear_pane(np.array([60.0]), 1.526, 32.0 * 0.0023)
PASSED = math.exp(-32.0 * 0.0023 / float(refracted_cosine(np.array(60.0), 1.526)))


@pytest.mark.parametrize(
    ("found", "expected"),
    [
        pytest.param(PASSED, 0.915, id="absorption only"),
        pytest.param(SHEET.transmittance[0, 0], 0.624, id="transmittance, perpendicular"),
        pytest.param(SHEET.transmittance[1, 0], 0.912, id="transmittance, parallel"),
        pytest.param(SHEET.transmittance.mean(), 0.768, id="transmittance"),
        pytest.param(SHEET.reflectance_outside.mean(), 0.147, id="reflectance"),
        pytest.param(SHEET.absorptance_outside.mean(), 0.085, id="absorptance"),
    ],
)
def test_example_sheet_of_2_3_mm_at_60_deg(found: float, expected: float) -> None:
    assert found == pytest.approx(expected, abs=0.001)


def test_reflected_series_summed_term_by_term() -> None:
    # Mathematics: the ray's bounces inside the sheet, added one by one.
    at, absorption = np.array([0.0, 30.0, 70.0]), 0.05
    surface = surface_reflectance(at, 1.526)
    inside = np.exp(-absorption / refracted_cosine(at, 1.526))
    transmittance, ray = np.zeros_like(surface), (1.0 - surface) * inside
    for _ in range(60):
        transmittance += ray * (1.0 - surface)
        ray = ray * (surface * inside) ** 2
    assert clear_pane(at, 1.526, absorption).transmittance == pytest.approx(transmittance, abs=1e-12)


def test_single_surface_against_pvlib() -> None:
    # Reference library pvlib.iam.physical: one air-glass surface and the glass's absorption behind it.
    at = np.array([0.0, 20.0, 40.0, 60.0, 75.0, 85.0, 89.0])

    def passed(angle: np.ndarray) -> np.ndarray:
        through = np.exp(-4.0 * 0.002 / refracted_cosine(angle, 1.526))
        return (1.0 - surface_reflectance(angle, 1.526).mean(axis=0)) * through

    ratio = passed(at) / passed(np.zeros(1))
    assert ratio == pytest.approx(pvlib.iam.physical(at, n=1.526, K=4.0, L=0.002), abs=1e-12)
    assert ratio[3] == pytest.approx(0.946003, abs=1e-4)  # published, read: pvlib at 60 deg


@pytest.mark.parametrize(
    ("thickness", "low", "high"),
    [
        # From memory, the usual range of makers' figures for clear float.
        pytest.param(0.004, 0.82, 0.86, id="4 mm clear"),
        pytest.param(0.003, 0.84, 0.88, id="3 mm clear"),
    ],
)
def test_clear_float_from_the_transmittance_of_6_mm(thickness: float, low: float, high: float) -> None:
    # Half read, half from memory: 6 mm clear float passes 0.80 -> K 22.8 +- 0.5 /m.
    extinction = extinction_from_transmittance(0.80, 0.006)
    assert extinction == pytest.approx(22.8, abs=0.5)
    found = clear_pane(np.zeros(1), 1.526, extinction * thickness).transmittance.mean()
    assert low <= found <= high


def test_low_iron_glass_of_4_mm() -> None:
    # From memory, the usual range: K 4 /m gives 0.89 to 0.915.
    assert 0.89 <= clear_pane(np.zeros(1), 1.526, 4.0 * 0.004).transmittance.mean() <= 0.915


@few
@given(indices, st.floats(1e-4, 3.0), st.floats(1e-5, 0.05))
def test_extinction_and_transmittance_are_inverse(index: float, absorption: float, thickness: float) -> None:
    passed = float(clear_pane(np.zeros(1), index, absorption).transmittance.mean())
    assert extinction_from_transmittance(passed, thickness, index) * thickness == pytest.approx(
        absorption, abs=1e-9
    )


@few
@given(indices, absorptions, angles)
def test_shares_of_a_sheet_are_shares(index: float, absorption: float, angle: float) -> None:
    sheet = clear_pane(np.array([angle]), index, absorption)
    for share in (sheet.transmittance, sheet.reflectance_outside, sheet.absorptance_outside):
        assert np.all(share >= -1e-12) and np.all(share <= 1.0 + 1e-12)


@few
@given(indices, absorptions, st.floats(0.0, 89.9))
def test_more_absorption_never_passes_more(index: float, absorption: float, angle: float) -> None:
    thin = clear_pane(np.array([angle]), index, absorption).transmittance
    assert np.all(clear_pane(np.array([angle]), index, absorption + 0.1).transmittance <= thin)


@few
@given(st.floats(1.01, 1.9))
def test_parallel_light_is_not_reflected_at_the_brewster_angle(index: float) -> None:
    brewster = np.array(math.degrees(math.atan(index)))
    assert surface_reflectance(brewster, index)[1] == pytest.approx(0.0, abs=1e-15)


def test_index_one_is_no_surface() -> None:
    at = np.array([0.0, 45.0, 85.0])
    clear = clear_pane(at, 1.0, 0.0)
    assert clear.transmittance == pytest.approx(np.ones((2, 3)), abs=1e-14)


def test_light_from_behind_is_all_reflected() -> None:
    behind = clear_pane(np.array([90.0, 120.0, 180.0]), 1.526, 0.1)
    assert np.all(behind.transmittance == 0.0) and np.all(behind.reflectance_outside == 1.0)


def test_not_a_number_shows() -> None:
    assert np.all(np.isnan(clear_pane(np.array([np.nan]), 1.526, 0.1).transmittance))


@pytest.mark.parametrize(("index", "absorption"), [(0.9, 0.1), (1.5, -0.1)])
def test_impossible_sheet_is_refused(index: float, absorption: float) -> None:
    with pytest.raises(RangeError, match="accepted"):
        clear_pane(np.zeros(1), index, absorption)


@pytest.mark.parametrize("transmittance", [0.0, 0.93, 1.2])
def test_impossible_transmittance_is_refused(transmittance: float) -> None:
    with pytest.raises(RangeError, match="accepted"):
        extinction_from_transmittance(transmittance, 0.004)
