"""How the air takes heat from the walls in each arrangement, for `blind_steady`: polynomials at Gauss points.

A polynomial of degree n that meets the stream's equation at n Gauss points balances its energy exactly.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.polynomial import legendre

from tests.reference import blind_relations as law

POINTS = 10


@dataclass(frozen=True)
class Arrangement:
    """How many streams, their equations (which also warm and cool the walls), and the air at the end."""

    streams: int
    equations: Callable
    outlet: Callable


def gauss():
    """Gauss-Legendre points and weights on 0..1."""
    x, w = legendre.leggauss(POINTS)
    return 0.5 * (x + 1.0), 0.5 * w


def polynomial(nodes, at):
    """Derivatives and values at some places of the polynomial that is known at `nodes`, as two matrices."""
    order = len(nodes) - 1
    inverse = np.linalg.inv(legendre.legvander(2.0 * nodes - 1.0, order))
    values = legendre.legvander(2.0 * at - 1.0, order)
    columns = [2.0 * legendre.legval(2.0 * at - 1.0, legendre.legder(row)) for row in np.eye(order + 1)]
    return np.stack(columns, axis=1) @ inverse, values @ inverse


X, WEIGHT = gauss()
FORWARD = polynomial(np.concatenate([[0.0], X]), X)[0]
BACKWARD = polynomial(np.concatenate([[1.0], X]), X)[0]
LAST = polynomial(np.concatenate([[0.0], X]), np.array([1.0]))[1][0]
FIRST = polynomial(np.concatenate([[1.0], X]), np.array([0.0]))[1][0]
FREE_SLOPE, FREE_END = polynomial(X, X)[0], polynomial(X, np.array([1.0]))[1][0]


def _carried(box, air, entering, flow, matrix=FORWARD):
    """What the stream carries off along its way [W/m2]: m c dT/dx."""
    return flow * law.C_P / box.c.aperture * (matrix @ np.concatenate([[entering], air]))


def _taken(walls, heat, rows, films, air):
    """Heat that the air takes from two walls [W/m2]; taken off the walls' own balance."""
    total = 0.0
    for row, film in zip(rows, films, strict=True):
        flux = film * (walls[row] - air)
        heat[row] -= flux
        total = total + flux
    return total


def _front(box, flow, air, walls, heat, drawn=False):
    """Air between the cover and the absorber; ribs widen the absorber's side."""
    still = box.still(walls[-2], walls[-3], box.front_depth)
    film, beside = box.films(flow, box.front_depth, still, drawn)
    return _taken(walls, heat, (-3, -2), (film, beside * box.c.absorber.front_area), air)


def _rear(box, flow, air, walls, heat, drawn=False):
    """Air between the absorber and the back."""
    still = box.still(walls[-1], walls[-2], box.rear_depth)
    film, beside = box.films(flow, box.rear_depth, still, drawn)
    return _taken(walls, heat, (-2, -1), (beside * box.c.absorber.rear_area, film), air)


def _still(box, walls, heat, lower, upper, depth, ribs):
    """A space without flow: two halves in series, the absorber's widened by its ribs."""
    whole = box.still(walls[lower], walls[upper], depth)
    flux = (walls[lower] - walls[upper]) / (0.5 / whole + 0.5 / (whole * ribs))
    heat[lower] -= flux
    heat[upper] += flux


def _still_front(box, walls, heat):
    if box.panes:
        _still(box, walls, heat, -2, -3, box.front_depth, box.c.absorber.front_area)


def _still_rear(box, walls, heat):
    _still(box, walls, heat, -1, -2, box.rear_depth, box.c.absorber.rear_area)


def behind(box, air, walls, heat):
    _still_front(box, walls, heat)
    return [_carried(box, air[0], box.entering, box.flow) - _rear(box, box.flow, air[0], walls, heat)]


def in_front(box, air, walls, heat):
    _still_rear(box, walls, heat)
    return [_carried(box, air[0], box.entering, box.flow) - _front(box, box.flow, air[0], walls, heat)]


def both_sides(box, air, walls, heat):
    half = 0.5 * box.flow
    return [
        _carried(box, air[0], box.entering, half) - _front(box, half, air[0], walls, heat),
        _carried(box, air[1], box.entering, half) - _rear(box, half, air[1], walls, heat),
    ]


def two_pass(box, air, walls, heat):
    turn = LAST @ np.concatenate([[box.entering], air[0]])
    return [
        _carried(box, air[0], box.entering, box.flow) - _front(box, box.flow, air[0], walls, heat),
        -_carried(box, air[1], turn, box.flow, BACKWARD) - _rear(box, box.flow, air[1], walls, heat),
    ]


def through(box, air, walls, heat):
    """Front air thins evenly to nothing, what leaves it passes the sheet and joins the growing rear stream.

    The sheet meets the air through its effectiveness alone, on either side; without flow both spaces are
    still gaps again.
    """
    thinning, growing = box.flow * (1.0 - X), box.flow * X
    sheet = walls[-2]
    warmed = _front(box, thinning, air[0], walls, heat, drawn=True)
    suction = box.flow / box.c.aperture * law.C_P
    effectiveness = 1.0 - np.exp(-sheet_ntu(box)) if box.flow > 0.0 else 0.0
    drawn = air[0] + effectiveness * (sheet - air[0])
    heat[-2] -= suction * (drawn - air[0])
    behind_it = _rear(box, growing, air[1], walls, heat, drawn=True)
    slope = FREE_SLOPE @ air[1]
    return [
        _carried(box, air[0], box.entering, thinning) - warmed,
        suction * (X * slope - (drawn - air[1])) - behind_it,
    ]


def sheet_ntu(box):
    """Transfer units of all layers of the sheet; air along its front at its mean flow and depth."""
    hole = box.c.absorber.perforation
    suction = box.flow / box.c.aperture
    if hole.effectiveness is not None:
        one = law.given_ntu(hole.effectiveness, hole.rated_flow, suction, hole.exponent)
    else:
        density = box.out.pressure / (law.R_AIR * law.FILM_TEMPERATURE)
        depth = 0.5 * (box.c.front.depth_inlet + box.c.front.depth_outlet)
        cross = 0.5 * box.flow / (density * box.c.width * depth)
        one = law.kutscher_ntu(
            suction, cross, hole.hole_diameter, hole.pitch, hole.porosity, box.out.pressure
        )
    return hole.layers * one


def tubes(box, air, walls, heat):
    """A bank of round tubes, as many as the width holds; inside them the air meets the absorber alone.

    Ribs behind the absorber do not go with tubes.
    """
    tube = box.c.absorber.tubes
    _still_front(box, walls, heat)
    _still(box, walls, heat, -1, -2, box.rear_depth, 1.0)
    number = box.c.width / tube.pitch
    film = law.tube_film(box.flow / number, tube.diameter, box.c.length) * np.pi * tube.diameter / tube.pitch
    return [_carried(box, air[0], box.entering, box.flow) - _taken(walls, heat, (-2,), (film,), air[0])]


def _last(box, air):
    return LAST @ np.concatenate([[box.entering], air])


ARRANGEMENTS = {
    "behind": Arrangement(1, behind, lambda box, air: _last(box, air[0])),
    "in_front": Arrangement(1, in_front, lambda box, air: _last(box, air[0])),
    "both_sides": Arrangement(
        2, both_sides, lambda box, air: 0.5 * (_last(box, air[0]) + _last(box, air[1]))
    ),
    "two_pass": Arrangement(
        2, two_pass, lambda box, air: FIRST @ np.concatenate([[_last(box, air[0])], air[1]])
    ),
    "through": Arrangement(2, through, lambda box, air: FREE_END @ air[1]),
    "tubes": Arrangement(1, tubes, lambda box, air: _last(box, air[0])),
}
