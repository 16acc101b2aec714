"""Frozen coefficients: the network against closed forms of flat-plate collectors.

F', F_R and U_L are those of Hottel, Whillier and Bliss (textbook forms, from memory; they follow from the
balances of the walls: mathematics). Index 1 is the upper wall of the channel, 2 the lower one. Air that is
drawn through the absorber stands in `test_drawn_through`.
"""

import math

import numpy as np
import pytest
from scipy.linalg import expm

from tests.reference.frozen_collector import (
    AMBIENT,
    AREA_RATIO,
    CAPACITY,
    FRONT_FILM,
    REAR_FILM,
    SUN,
    Frozen,
    frozen,
    in_series,
)

ARRANGEMENTS = ["behind", "in_front", "both_sides", "two_pass", "tubes"]


def back_pass(h1: float, h2: float, hr: float, top: float, bottom: float) -> tuple[float, float]:
    """Return F' and U_L of a channel whose upper wall is the absorber (numerator with h1 U_b)."""
    numerator = h1 * hr + h2 * hr + h1 * h2 + h1 * bottom
    return _forms(numerator, h1, h2, hr, top, bottom)


def front_pass(h1: float, h2: float, hr: float, top: float, bottom: float) -> tuple[float, float]:
    """Return F' and U_L of a channel whose lower wall is the absorber (numerator with h2 U_t)."""
    numerator = h1 * hr + h2 * hr + h1 * h2 + h2 * top
    return _forms(numerator, h1, h2, hr, top, bottom)


def _forms(
    numerator: float, h1: float, h2: float, hr: float, top: float, bottom: float
) -> tuple[float, float]:
    determinant = (top + hr + h1) * (bottom + h2 + hr) - hr * hr
    loss = (bottom + top) * (h1 * h2 + h1 * hr + h2 * hr) + bottom * top * (h1 + h2)
    return numerator / determinant, loss / numerator


def expected_forms(arrangement: str, made: Frozen) -> tuple[float, float]:
    """Return F' and U_L of an arrangement with one stream."""
    if arrangement == "in_front":
        below = in_series(made.rear, made.bottom)
        return front_pass(FRONT_FILM, AREA_RATIO * FRONT_FILM, made.front, made.top, below)
    above = in_series(made.front, made.top)
    if arrangement == "behind":
        return back_pass(AREA_RATIO * REAR_FILM, REAR_FILM, made.rear, above, made.bottom)
    loss = above + in_series(made.rear, made.bottom)  # tubes: the air touches the absorber alone
    return AREA_RATIO * REAR_FILM / (AREA_RATIO * REAR_FILM + loss), loss


def found_forms(arrangement: str, made: Frozen) -> tuple[float, float]:
    """Return F' and U_L from the gain at two inlet temperatures, over the stream's logarithmic mean."""
    points = []
    for inlet in (280.0, 310.0):
        outlet, (glass, sheet, lining) = made.run(inlet)
        upper, lower = (glass, sheet) if arrangement == "in_front" else (sheet, lining)
        weights = {"in_front": (1.0, AREA_RATIO), "behind": (AREA_RATIO, 1.0), "tubes": (1.0, 0.0)}[
            arrangement
        ]
        wall = (weights[0] * upper[0] + weights[1] * lower[0]) / sum(weights)
        mean = wall - (outlet - inlet) / math.log((wall - inlet) / (wall - outlet))
        points.append((CAPACITY * (outlet - inlet), mean))
    (cold_gain, cold), (warm_gain, warm) = points
    slope = (cold_gain - warm_gain) / (warm - cold)  # F' U_L
    factor = (cold_gain + slope * (cold - AMBIENT)) / SUN
    return factor, slope / factor


# mathematics (F', U_L from the wall balances): 1e-9
@pytest.mark.parametrize("arrangement", ["behind", "in_front", "tubes"])
def test_efficiency_factor_and_loss_coefficient_of_one_segment(arrangement):
    made = frozen(arrangement, 1)
    assert found_forms(arrangement, made) == pytest.approx(expected_forms(arrangement, made), rel=1e-9)


def test_the_forms_of_front_and_back_pass_are_not_the_same():
    """The likeliest slip, taking one for the other, would show far above the tolerance."""
    h = REAR_FILM
    assert abs(front_pass(h, h, 6.0, 4.0, 0.5)[0] - back_pass(h, h, 6.0, 4.0, 0.5)[0]) > 0.1


def test_back_pass_without_loss_through_the_back():
    """U_b = 0: F' = h / (h + U_L) with h = h1 + 1 / (1/h2 + 1/hr) (mathematics, 1e-9)."""
    made = frozen("behind", 1, outer_link=1e-30)
    film = AREA_RATIO * REAR_FILM + in_series(REAR_FILM, made.rear)
    factor, loss = found_forms("behind", made)
    assert loss == pytest.approx(in_series(made.front, made.top), rel=1e-9)
    assert factor == pytest.approx(film / (film + loss), rel=1e-9)


def heat_removal(capacity: float, loss: float, factor: float) -> float:
    """Return F_R from capacity flow per area and U_L [W/m2K] and F' [-]."""
    return capacity / loss * -math.expm1(-loss * factor / capacity)


def test_heat_removal_form_gives_the_figures_of_a_textbook():
    """From memory of a worked example, reproduced from its own inputs: F'' 0.948 +-0.002, F_R 0.80 +-0.005.

    Water, 0.03 kg/s and 4187 J/kgK over 2 m2; U_L 8 W/m2K, F' 0.841: m c / (A U_L F') = 9.34.
    """
    removal = heat_removal(0.03 * 4187.0 / 2.0, 8.0, 0.841)
    assert removal / 0.841 == pytest.approx(0.948, abs=0.002)
    assert removal == pytest.approx(0.80, abs=0.005)


def removed(arrangement: str, segments: int) -> tuple[float, float]:
    """Return the gain found and the gain by F_R and U_L [W/m2]."""
    made = frozen(arrangement, segments)
    factor, loss = expected_forms(arrangement, made)
    removal = heat_removal(CAPACITY, loss, factor)
    outlet, _ = made.run(293.15)
    return CAPACITY * (outlet - 293.15), removal * (SUN - loss * (293.15 - AMBIENT))


def two_streams(arrangement: str) -> float:
    """Return the gain of two streams [W/m2] by the matrix exponential of their equations."""
    made = frozen(arrangement, 1)
    glass, sheet_front = FRONT_FILM, AREA_RATIO * FRONT_FILM
    sheet_rear, lining = AREA_RATIO * REAR_FILM, REAR_FILM
    walls = np.array(
        [
            [made.top + made.front + glass, -made.front, 0.0],
            [-made.front, made.front + made.rear + sheet_front + sheet_rear, -made.rear],
            [0.0, -made.rear, made.rear + made.bottom + lining],
        ]
    )
    films = np.array([[glass, 0.0], [sheet_front, sheet_rear], [0.0, lining]])
    rest = np.array([made.top * AMBIENT, SUN, made.bottom * AMBIENT])
    # heat into the streams, affine in (front, rear, 1)
    heat = films.T @ np.linalg.solve(walls, np.column_stack([films, rest]))
    heat[:, :2] -= np.diag(films.sum(axis=0))
    counterflow = arrangement == "two_pass"
    share = CAPACITY * np.array([1.0, -1.0] if counterflow else [0.5, 0.5])
    e = expm(np.vstack([heat / share[:, None], np.zeros(3)]))
    inlet = 293.15
    if counterflow:  # both meet at the turn: e[0] . (inlet, outlet, 1) = e[1] . (inlet, outlet, 1)
        outlet = ((e[0, 0] - e[1, 0]) * inlet + e[0, 2] - e[1, 2]) / (e[1, 1] - e[0, 1])
    else:
        outlet = 0.5 * (e[0] + e[1]) @ np.array([inlet, inlet, 1.0])
    return float(CAPACITY * (outlet - inlet))


def gains(arrangement: str, segments: int) -> tuple[float, float]:
    """Return the gain found and the exact one [W/m2]."""
    if arrangement in ("both_sides", "two_pass"):
        outlet, _ = frozen(arrangement, segments).run(293.15)
        return CAPACITY * (outlet - 293.15), two_streams(arrangement)
    return removed(arrangement, segments)


# mathematics (F_R; matrix exponential for two streams): 1e-6 at 200 segments, second order
@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_gain_converges_to_the_closed_form_with_second_order(arrangement):
    errors = []
    for segments in (25, 50, 100, 200):
        found, exact = gains(arrangement, segments)
        errors.append(abs(found / exact - 1.0))
    assert errors[-1] < 1e-6
    assert np.log2(np.array(errors[:-1]) / errors[1:]) == pytest.approx([2.0] * 3, abs=0.1)
