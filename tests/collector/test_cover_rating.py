"""Covers under the conditions of EN 410 and EN 673."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.collector.constructions import pane
from simengine.collector.cover_rating import (
    gap_conductance,
    gap_conductances,
    rate_cover,
    thermal_transmittance,
)
from simengine.collector.fresnel import extinction_from_transmittance
from simengine.collector.spec import Pane, RatedOptics, SealedGap
from simengine.errors import InputError, RangeError

few = settings(max_examples=50, derandomize=True, deadline=None)
CLEAR = Pane("clear", 0.004, emittance_outside=0.837, emittance_inside=0.837)
LOW_E = replace(CLEAR, emittance_outside=0.03)


@pytest.mark.parametrize(
    ("panes", "gaps", "expected", "tolerance"),
    [
        # From memory of EN 673:2011 and the usual declared values.
        pytest.param([CLEAR], [], 5.8, 0.1, id="single 4 mm"),
        pytest.param([CLEAR] * 2, [SealedGap(0.016)], 2.7, 0.05, id="double 4-16-4 air"),
        pytest.param([CLEAR, LOW_E], [SealedGap(0.016, "argon", 0.9)], 1.1, 0.05, id="low-e, argon 90 %"),
    ],
)
def test_thermal_transmittance(
    panes: list[Pane], gaps: list[SealedGap], expected: float, tolerance: float
) -> None:
    assert thermal_transmittance(panes, gaps) == pytest.approx(expected, abs=tolerance)


def test_single_glass_is_two_films_and_a_sheet() -> None:
    # Mathematics: 1 / (1/25 + 0.004/1.0 + 1/7.7).
    assert thermal_transmittance([CLEAR], []) == pytest.approx(1 / (1 / 25 + 0.004 + 1 / 7.7), abs=1e-12)


def test_solar_factor_of_quarter_inch_plate() -> None:
    # Published, read: 6 mm clear plate passes 80 % and admits 84 %; films 23 and 8 W/m2K: g 0.84 +- 0.01.
    plate = replace(CLEAR, thickness=0.006, extinction=extinction_from_transmittance(0.80, 0.006))
    rating = rate_cover([plate], [])
    assert rating.g_value == pytest.approx(0.84, abs=0.01)
    inward = (0.84 - rating.transmittance) / rating.pane_absorptance[0]
    assert 0.24 <= inward <= 0.37  # published, read: the inward-flowing share of the absorbed sun
    assert 0.24 <= rating.secondary_gain / rating.pane_absorptance[0] <= 0.37


def test_double_glazing_against_the_formula_for_two_panes() -> None:
    # From memory of EN 410: q_i = ((a1 + a2)/h_e + a2/L) / (1/h_i + 1/h_e + 1/L), h_e 23, h_i 8.
    tinted = replace(CLEAR, extinction=90.0)
    gap = SealedGap(0.012)
    rating = rate_cover([tinted, CLEAR], [gap])
    first, second = rating.pane_absorptance
    conductance = gap_conductances([tinted, CLEAR], [gap])[0]
    expected = ((first + second) / 23 + second / conductance) / (1 / 8 + 1 / 23 + 1 / conductance)
    assert rating.secondary_gain == pytest.approx(expected, abs=1e-12)
    assert rating.transmittance + rating.reflectance + first + second == pytest.approx(1.0, abs=1e-12)


def test_three_panes_share_15_kelvin() -> None:
    conductances = gap_conductances([CLEAR, CLEAR, LOW_E], [SealedGap(0.012), SealedGap(0.016, "argon", 0.9)])
    total = sum(1 / conductance for conductance in conductances)
    again = gap_conductance(SealedGap(0.012), 0.837, 0.837, 15 / conductances[0] / total)
    assert again == pytest.approx(conductances[0], rel=1e-9)


def test_narrow_gap_is_conduction_and_radiation() -> None:
    # Mathematics: below the onset of convection Nu = 1; 5.670374e-8, 283 K, air 0.02496 W/mK.
    radiation = 4 * 5.670374419e-8 * 283.0**3 / (2 / 0.837 - 1)
    expected = 0.02496 / 0.006 + radiation
    assert gap_conductance(SealedGap(0.006), 0.837, 0.837, 15.0) == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize(
    ("tilt", "factor", "exponent"), [(0.0, 0.16, 0.28), (45.0, 0.10, 0.31), (90.0, 0.035, 0.38)]
)
def test_convection_by_tilt(tilt: float, factor: float, exponent: float) -> None:
    # From memory of EN 673:2011: Nu = A (Gr Pr)^n, air at 10 degC of its table 1.
    density = 1.232
    rayleigh = 9.81 * 0.02**3 * 15 * density**2 / (283 * 1.761e-5**2) * (1.761e-5 * 1008 / 0.02496)
    radiation = 4 * 5.670374419e-8 * 283.0**3 / (2 / 0.837 - 1)
    expected = factor * rayleigh**exponent * 0.02496 / 0.02 + radiation
    assert gap_conductance(SealedGap(0.02), 0.837, 0.837, 15.0, tilt) == pytest.approx(expected, rel=1e-9)


@few
@given(st.floats(0.004, 0.03), st.floats(0.02, 0.9))
def test_a_shinier_face_never_loses_more(depth: float, emittance: float) -> None:
    duller = replace(CLEAR, emittance_outside=emittance + 0.05)
    shiny = replace(CLEAR, emittance_outside=emittance)
    gaps = [SealedGap(depth)]
    assert thermal_transmittance([CLEAR, shiny], gaps) < thermal_transmittance([CLEAR, duller], gaps)


@few
@given(st.floats(0.05, 0.8), st.floats(0.05, 0.8), st.floats(0.006, 0.02))
def test_solar_factor_lies_between_transmittance_and_what_is_not_reflected(
    transmittance: float, share: float, depth: float
) -> None:
    coated = replace(CLEAR, rated=RatedOptics(transmittance, (1 - transmittance) * share, 0.1 * share))
    rating = rate_cover([coated, CLEAR], [SealedGap(depth)])
    assert rating.transmittance <= rating.g_value <= 1.0 - rating.reflectance


@pytest.mark.parametrize(
    ("key", "expected"),
    [
        # Common practice: U-values of multiwall sheets.
        ("twin_wall_polycarbonate_6mm", 3.5),
        ("twin_wall_polycarbonate_10mm", 3.0),
        ("triple_wall_polycarbonate_16mm", 2.4),
    ],
)
def test_multiwall_sheets_have_their_usual_u_value(key: str, expected: float) -> None:
    assert thermal_transmittance([pane(key)], []) == pytest.approx(expected, abs=0.1)


def test_clear_double_glazing_has_its_usual_solar_factor() -> None:
    # Common practice: clear 4-16-4 is declared with g between 0.74 and 0.80.
    assert 0.74 <= rate_cover([CLEAR, CLEAR], [SealedGap(0.016)]).g_value <= 0.80


def test_ratings_are_plain_numbers() -> None:
    rating = rate_cover([CLEAR, CLEAR], [SealedGap(0.016)])
    assert type(rating.g_value) is float and type(rating.u_value) is float
    assert np.isfinite(rating.g_value)


@pytest.mark.parametrize(("panes", "gaps"), [([], []), ([CLEAR], [SealedGap(0.01)]), ([CLEAR] * 2, [])])
def test_panes_and_gaps_must_fit(panes: list[Pane], gaps: list[SealedGap]) -> None:
    with pytest.raises(InputError, match="one gap fewer"):
        rate_cover(panes, gaps)


@pytest.mark.parametrize(("depth", "tilt"), [(0.0, 90.0), (0.01, 120.0)])
def test_impossible_gap_is_refused(depth: float, tilt: float) -> None:
    with pytest.raises(RangeError, match="accepted"):
        gap_conductance(SealedGap(depth), 0.837, 0.837, 15.0, tilt)
