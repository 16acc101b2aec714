"""Air drawn through the absorber, coefficients frozen: the network against the two-stream equations.

C (1-x) dT_f/dx = heat into the front air;  C x dT_r/dx = heat into the rear air + C (T_drawn - T_r).
The flow of both streams changes along the way, so no single matrix exponential solves them. Two references
that know nothing of each other: a product of many (Magnus' series to fourth order), and an adaptive solver.
"""

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.linalg import expm

from simengine.collector.network import Array
from tests.collector.by_hand import with_flow
from tests.reference.frozen_collector import AMBIENT, CAPACITY, FRONT_FILM, REAR_FILM, SUN, Frozen, frozen

INLET, EFFECTIVENESS = 293.15, 0.65


def through(segments: int) -> Frozen:
    """Return the collector with a given effectiveness and no film beside its sheet."""
    made = frozen("through", segments)
    return replace(made, table=with_flow(made.table, effectiveness=EFFECTIVENESS, contact=0.0))


@cache
def heat_of_streams() -> Array:
    """Return the heat into front and rear air, affine in (T_f, T_r, 1): what the walls give, eliminated."""
    made, sheet = through(1), CAPACITY * EFFECTIVENESS
    walls = np.array(
        [
            [made.top + made.front + FRONT_FILM, -made.front, 0.0],
            [-made.front, made.front + made.rear + sheet, -made.rear],
            [0.0, -made.rear, made.rear + made.bottom + REAR_FILM],
        ]
    )
    sources = np.array(
        [
            [FRONT_FILM, 0.0, made.top * AMBIENT],
            [sheet, 0.0, SUN],
            [0.0, REAR_FILM, made.bottom * AMBIENT],
        ]
    )
    glass, plate, lining = np.linalg.solve(walls, sources)
    front, rear = np.array([1.0, 0.0, 0.0]), np.array([0.0, 1.0, 0.0])
    drawn = front + EFFECTIVENESS * (plate - front)
    return np.array([FRONT_FILM * (glass - front), REAR_FILM * (lining - rear) + CAPACITY * (drawn - rear)])


def matrix(s: Array) -> Array:
    """Return d/ds of (T_f, T_r, 1) as matrices; x = 1/(1 + exp(-s)) stretches the ends, where a flow ends."""
    heat = heat_of_streams() / CAPACITY
    x, y = 1.0 / (1.0 + np.exp(-s)), 1.0 / (1.0 + np.exp(s))
    made = np.zeros((s.size, 3, 3))
    made[:, 0], made[:, 1] = x[:, None] * heat[0], y[:, None] * heat[1]
    return made


def start() -> Array:
    """Return both streams where the rear one begins: at rest with what it is fed."""
    front, rear, rest = heat_of_streams()[1]
    return np.array([INLET, -(front * INLET + rest) / rear, 1.0])


FIRST, LAST = -34.0, 34.0
"""Of the stretched way: what flows beyond is 1e-15 of the whole."""


@cache
def magnus(pieces: int) -> float:
    """Return the gain [W/m2] by a product of matrix exponentials, one for each piece of the way.

    Magnus' series to fourth order.
    Source: two Gauss points a piece (Blanes, Casas, Oteo and Ros 2009, from memory).
    """
    h = (LAST - FIRST) / pieces
    middle = FIRST + h * (np.arange(pieces) + 0.5)
    a1, a2 = (matrix(middle + sign * h * math.sqrt(3.0) / 6.0) for sign in (-1.0, 1.0))
    steps = expm(0.5 * h * (a1 + a2) + math.sqrt(3.0) / 12.0 * h * h * (a2 @ a1 - a1 @ a2))
    state = start()
    for step in steps:
        state = step @ state
    return float(CAPACITY * (state[1] - INLET))


def exact(pieces: int = 1000) -> float:
    """Return what the products of so many and of twice as many tend to [W/m2] (Richardson)."""
    return (16.0 * magnus(2 * pieces) - magnus(pieces)) / 15.0


def adaptive() -> float:
    """Return the gain [W/m2] by an integration that chooses its own steps."""
    result = solve_ivp(
        lambda s, state: matrix(np.array([s]))[0] @ state,
        (FIRST, LAST),
        start(),
        method="Radau",
        rtol=1e-10,
        atol=1e-10,
    )
    return float(CAPACITY * (result.y[1, -1] - INLET))


def error(segments: int) -> float:
    outlet, _ = through(segments).run(INLET)
    return abs(CAPACITY * (outlet - INLET) / exact() - 1.0)


def test_the_matrix_exponentials_agree_among_themselves_at_fourth_order() -> None:
    errors = [magnus(n) / exact() - 1.0 for n in (125, 250, 500, 1000)]
    assert np.log2(np.array(errors[:-1]) / errors[1:]) == pytest.approx([4.0] * 3, abs=0.02)
    assert exact(500) == pytest.approx(exact(), rel=1e-11) and magnus(1000) == pytest.approx(
        exact(), rel=1e-9
    )


def test_matrix_exponentials_and_adaptive_integration_agree() -> None:
    assert adaptive() == pytest.approx(exact(), rel=1e-9)


def test_gain_converges_to_the_two_stream_equations_a_little_below_second_order() -> None:
    """1e-6 at 200 segments (mathematics), and the local order rises towards 2."""
    errors = [error(segments) for segments in (25, 50, 100, 200, 400)]
    assert errors[3] < 1e-6
    orders = np.log2(np.array(errors[:-1]) / errors[1:])
    assert (np.diff(orders) > 0.0).all() and orders[0] > 1.85 and orders[-1] < 2.0


def test_the_error_is_that_of_h2_ln_h_where_a_stream_starts_and_ends() -> None:
    """Error = h^2 (a + b ln 1/h + c h^p + d h^2p): told from four cuts, it foretells two finer ones.

    Mathematics: the stream that ends in nothing nears what it tends to as (1-x)^p, p its transfer units at
    the full flow; ln h comes from the one that begins with nothing. So error / (h^2 ln 1/h) tends to a
    constant, but slowly.
    """
    p = -heat_of_streams()[0, 0] / CAPACITY
    cuts = np.array([25.0, 50.0, 100.0, 200.0, 400.0, 800.0])
    law = np.stack([np.ones(6), np.log(cuts), cuts**-p, cuts ** (-2.0 * p)], axis=1)
    scaled = np.array([error(int(n)) * n * n for n in cuts])
    told = law[:4] @ (found := np.linalg.solve(law[:4], scaled[:4]))
    assert told == pytest.approx(scaled[:4], rel=1e-9)
    assert law[4:] @ found == pytest.approx(scaled[4:], rel=2e-3)
    assert found[1] > 0.0
    ratio = scaled / np.log(cuts)
    assert (np.diff(ratio) < 0.0).all() and (np.diff(ratio, 2) > 0.0).all()  # ever more slowly down to it
