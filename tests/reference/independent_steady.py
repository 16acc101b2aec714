"""A steady solar air collector as equations for a root finder: a second way to the same answer.

Written from published relations alone, without any of the package's collector code. Where the march takes
elimination, linear radiation and exact exponentials, here stand radiation to the fourth power, a box scheme
along the stream in `CELLS` steps a segment, and scipy's root finder on all wall temperatures at once.
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.optimize import root

from simengine.collector.spec import AirSpace, SealedGap
from tests.reference.independent_relations import (
    CP,
    SIGMA,
    Array,
    Case,
    channel,
    conductivity,
    depth_at,
    effectiveness,
    moving_share,
    radiation,
    still,
    tube,
    viscosity,
    with_buoyancy,
)

INSIDE_FILM = 0.13  # [m2K/W] ISO 6946, heat flowing sideways
CELLS = 24  # steps of the box scheme in a segment

FLOWS = {  # relative flow in front at the inlet and at the outlet, and the same behind
    "behind": (0.0, 0.0, 1.0, 1.0),
    "in_front": (1.0, 1.0, 0.0, 0.0),
    "both_sides": (0.5, 0.5, 0.5, 0.5),
    "two_pass": (1.0, 1.0, 1.0, 1.0),
    "through": (1.0, 0.0, 0.0, 1.0),
    "tubes": (0.0, 0.0, 1.0, 1.0),
}


@dataclass(frozen=True)
class Answer:
    """What the root finder found."""

    walls: Array  # [wall, segment] K: panes, absorber, inner face of the back
    outlet: float  # [K]
    gain: float  # [W]
    residual: float  # [W/m2] largest


@dataclass
class Stream:
    """Air along one side of the absorber: heat from each of its two walls, segment by segment [W]."""

    outer: Array
    inner: Array
    drawn: Array  # heat taken out of the sheet by the air that passes it
    leaving: float  # [K]


def march(
    entering: float,
    order: range,
    flow: tuple[float, float],
    films: tuple[Array, Array],
    walls: tuple[Array, Array],
    fed: Array | None,
    area: float,
) -> tuple[Stream, Array]:
    """March air past the segments in `order` by the box scheme; also return its temperatures cell by cell.

    flow: capacity flow [W/K] at the first and at the last edge; films, walls: by segment; fed: temperature of
    the air that joins in each cell [segment, cell], for a growing stream; area: of a segment [m2].
    """
    n = len(order)
    outer, inner, cells = np.zeros(n), np.zeros(n), np.zeros((n, CELLS))
    edges = np.linspace(*flow, n * CELLS + 1)
    t, piece = entering, area / CELLS
    for number, s in enumerate(order):
        a, b = films[0][s] * piece, films[1][s] * piece
        for cell in range(CELLS):
            come, go = edges[number * CELLS + cell], edges[number * CELLS + cell + 1]
            gain = max(go - come, 0.0)
            joining = gain * fed[s, cell] if fed is not None else 0.0
            lost = max(come - go, 0.0)  # leaves at the temperature of the cell
            pull = a * walls[0][s] + b * walls[1][s] + joining
            if come <= 0.0:  # the stream begins here
                mean = after = pull / (a + b + gain)
            else:
                # heat of the cell at its mean temperature (t + after) / 2, solved for what leaves it
                weight = 0.5 * (lost + a + b)
                after = (come * t - weight * t + pull) / (go + weight)
                mean = 0.5 * (t + after)
            outer[s] += a * (walls[0][s] - mean)
            inner[s] += b * (walls[1][s] - mean)
            cells[s, cell] = mean
            t = after
    return Stream(outer, inner, np.zeros(n), t), cells


class Equations:
    """The heat balances of all walls of one case."""

    def __init__(self, case: Case) -> None:
        self.case = case
        box = case.collector
        self.n, self.panes = box.segments, len(box.panes)
        self.area = box.width * box.length / self.n
        self.absorbed = np.array(case.absorbed)
        layers = sum(layer.thickness / layer.conductivity for layer in box.back.layers)
        wall = box.back.wall_resistance
        self.behind = case.ambient if wall is None else case.inlet
        self.back = 1.0 / (layers + (box.back.outside_film if wall is None else wall + INSIDE_FILM))
        self.flows = FLOWS[box.arrangement] if case.mass_flow > 0.0 else (0.0, 0.0, 0.0, 0.0)
        self.streams: list[Stream] = []

    def outside(self, outermost: Array, emittance: float) -> Array:
        """Return what the outermost face loses to wind, sky and ground [W/m2]."""
        case = self.case
        view = 0.5 * (1.0 + math.cos(math.radians(case.collector.tilt)))
        to_sky = view * (outermost**4 - case.sky**4)
        to_ground = (1.0 - view) * (outermost**4 - case.ambient**4)
        return case.wind * (outermost - case.ambient) + emittance * SIGMA * (to_sky + to_ground)

    def films(self, space: AirSpace, share: tuple[float, float], outer: Array, inner: Array) -> Array:
        """Return the film of a flat air space on either wall, segment by segment [W/m2K]."""
        case, films = self.case, np.zeros(self.n)
        half = case.mass_flow / (
            case.collector.width * float(viscosity(np.array(308.15)))
        )  # Re of half the flow
        drawn = case.collector.arrangement == "through"
        # the buoyancy of a sheet that air is drawn through goes with that air, however thin the stream gets
        beside = 1.0 - moving_share(half) if drawn else 1.0
        for s in range(self.n):
            middle = (s + 0.5) / self.n
            flow = share[0] * (1.0 - middle) + share[1] * middle
            depth = depth_at(space, s, self.n)
            gap = still(SealedGap(depth), outer[s : s + 1], inner[s : s + 1], case)[0]
            film = float(0.25 * (outer[s] + inner[s]) + 0.5 * case.inlet)
            forced = channel(case.mass_flow * flow, depth, film, case)
            k = float(conductivity(np.array(film)))
            moving = moving_share(half if drawn else 2.0 * flow * half)
            films[s] = with_buoyancy(forced, depth, gap, (moving, beside), k)
        return films

    def residuals(self, flat: Array) -> Array:
        """Return what every wall gains in the balance [W/m2] at these temperatures [wall x segment]."""
        box, case, p = self.case.collector, self.case, self.panes
        walls = flat.reshape(p + 2, self.n)
        sheet, lining = walls[p], walls[p + 1]
        gains = np.zeros_like(walls)
        gains[: p + 1] += self.absorbed[:, None]
        face = box.panes[0].emittance_outside if p else box.absorber.emittance_front
        gains[0] -= self.outside(walls[0], face)
        for j in range(p - 1):
            between = radiation(
                walls[j + 1], walls[j], box.panes[j].emittance_inside, box.panes[j + 1].emittance_outside
            )
            gap = box.pane_gaps[j]
            between += still(gap, walls[j], walls[j + 1], case) * (walls[j + 1] - walls[j])
            gains[j] += between
            gains[j + 1] -= between
        if p:
            across = radiation(
                sheet, walls[p - 1], box.absorber.emittance_front, box.panes[-1].emittance_inside
            )
            gains[p - 1] += across
            gains[p] -= across
        behind = radiation(sheet, lining, box.absorber.emittance_back, box.back.emittance)
        gains[p] -= behind
        gains[p + 1] += behind
        gains[p + 1] -= self.back * (lining - self.behind)
        gains[p] -= box.edge_conductance / (box.width * box.length) * (sheet - case.ambient)
        self._air(walls, gains)
        return gains.ravel()

    def _rest(self, space: AirSpace, outer: Array, inner: Array, ribs: float = 1.0) -> Array:
        """Return the heat from the inner to the outer wall through still air [W/m2].

        Two halves in series, each of twice the conductance; ribs widen the half beside the absorber.
        """
        gap = [
            still(SealedGap(depth_at(space, s, self.n)), outer[s : s + 1], inner[s : s + 1], self.case)[0]
            for s in range(self.n)
        ]
        return np.array(gap) * 2.0 * ribs / (1.0 + ribs) * (inner - outer)

    def _air(self, walls: Array, gains: Array) -> None:
        """Add what the air does to the walls: streams, or still gaps where none runs."""
        box, case, p = self.case.collector, self.case, self.panes
        front0, front1, rear0, rear1 = self.flows
        sheet, lining = walls[p], walls[p + 1]
        capacity = case.mass_flow * CP
        along, nothing = range(self.n), np.zeros(self.n)
        self.streams = []
        fed, turned = None, case.inlet
        if front0 > 0.0:
            film = self.films(box.front, (front0, front1), walls[p - 1], sheet)
            passes = box.arrangement == "through"
            on_sheet = nothing if passes else film * box.absorber.front_area
            flow, beside = (capacity * front0, capacity * front1), (walls[p - 1], sheet)
            stream, cells = march(case.inlet, along, flow, (film, on_sheet), beside, None, self.area)
            turned = stream.leaving
            if passes:
                assert box.absorber.perforation is not None
                share = effectiveness(box.absorber.perforation, case)
                fed = cells + share * (sheet[:, None] - cells)
                each = capacity * (front0 - front1) / (self.n * CELLS)
                stream.drawn = (each * (fed - cells)).sum(axis=1)
            self.streams.append(stream)
            gains[p - 1] -= stream.outer / self.area
            gains[p] -= (stream.inner + stream.drawn) / self.area
        elif p:
            rest = self._rest(box.front, walls[p - 1], sheet, box.absorber.front_area)
            gains[p - 1] += rest
            gains[p] -= rest
        if rear0 + rear1 == 0.0 or box.arrangement == "tubes":
            ribs = 1.0 if box.arrangement == "tubes" else box.absorber.rear_area
            rest = self._rest(box.rear, sheet, lining, ribs)
            gains[p] += rest
            gains[p + 1] -= rest
        if rear0 + rear1 > 0.0:
            self._behind((rear0, rear1), walls, gains, fed, turned)

    def _behind(
        self, share: tuple[float, float], walls: Array, gains: Array, fed: Array | None, turned: float
    ) -> None:
        box, case, p = self.case.collector, self.case, self.panes
        sheet, lining = walls[p], walls[p + 1]
        capacity = case.mass_flow * CP
        order = range(self.n - 1, -1, -1) if box.arrangement == "two_pass" else range(self.n)
        nothing = np.zeros(self.n)
        if box.arrangement == "tubes":
            bank = box.absorber.tubes
            assert bank is not None
            film = 0.5 * (case.inlet + float(sheet.mean()))
            inside = tube(case.mass_flow, case, film) * math.pi * bank.diameter / bank.pitch
            films = (np.full(self.n, inside), nothing)
        else:
            both = self.films(box.rear, share, sheet, lining)
            passes = box.arrangement == "through"
            films = (nothing if passes else both * box.absorber.rear_area, both)
        entering = turned if box.arrangement == "two_pass" else case.inlet
        flow = (capacity * share[0], capacity * share[1])
        stream, _ = march(entering, order, flow, films, (sheet, lining), fed, self.area)
        self.streams.append(stream)
        gains[p] -= stream.outer / self.area
        gains[p + 1] -= stream.inner / self.area


def solve(case: Case) -> Answer:
    """Return the steady state of a case; several starts, since convection sets in with a kink."""
    equations = Equations(case)
    best: Answer | None = None
    for rise in (20.0, 40.0, 8.0, 70.0):
        start = np.full((equations.panes + 2, equations.n), case.ambient + 0.4 * rise)
        start[equations.panes :] = max(case.inlet, case.ambient) + rise
        found = root(equations.residuals, start.ravel(), method="hybr", options={"xtol": 1.0e-10})
        left = float(np.abs(equations.residuals(found.x)).max())
        if best is None or left < best.residual:
            best = _answer(equations, found.x, left)
        if left < 1.0e-6:
            break
    assert best is not None
    return best


def _answer(equations: Equations, flat: Array, left: float) -> Answer:
    case = equations.case
    leaving = [stream.leaving for stream in equations.streams]
    arrangement = case.collector.arrangement
    if not leaving:
        leaving = [case.inlet]  # no air moves
    outlet = sum(leaving) / len(leaving) if arrangement == "both_sides" else leaving[-1]
    gain = case.mass_flow * CP * (outlet - case.inlet)
    walls = flat.reshape(equations.panes + 2, equations.n)
    return Answer(walls, float(outlet), float(gain), left)
