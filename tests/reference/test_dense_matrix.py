"""Every flow arrangement against one dense matrix of all nodes and both streams of all segments.

The matrix is written from the heat balances, node by node and stream by stream, with its own forms of the
stream profiles; only the conductance of a still gap is taken from the package (it has tests of its own).
"""

from dataclasses import dataclass

import numpy as np
import pytest

from simengine.collector.films import still_conductance
from simengine.collector.network import (
    AirFlow,
    Array,
    Box,
    FlowTable,
    Network,
    Path,
    Weather,
    read_air_flow,
    read_box,
    read_path,
)
from simengine.collector.spec import Back
from simengine.collector.steady import FOREVER, steady_point
from simengine.constants import SPECIFIC_HEAT_AIR, STEFAN_BOLTZMANN
from tests.collector.by_hand import BOARD, CLEAR, collector, numbers, turn, with_box

ARRANGEMENTS = ["behind", "in_front", "both_sides", "two_pass", "through", "tubes"]
ROOM = 293.15


def radiation(one: float, other: float, exchange: float) -> float:
    """Return the coefficient of sigma e (T1^4 - T2^4), the difference taken out by hand."""
    if one == other:
        return 4.0 * STEFAN_BOLTZMANN * exchange * one**3
    return STEFAN_BOLTZMANN * exchange * (one**4 - other**4) / (one - other)


def thinning(wall: float, capacity: float, first: float, last: float) -> tuple[float, float]:
    """Return what a stream that loses air evenly keeps of its inlet excess: at the end, on average."""
    if capacity * first == 0.0:
        return 0.0, 0.0
    if first == last:
        units = wall / (capacity * first)
        return float(np.exp(-units)), float(-np.expm1(-units) / units)
    power = wall / (capacity * (first - last))
    ratio = last / first
    return ratio**power, first * (1.0 - ratio ** (power + 1.0)) / ((first - last) * (power + 1.0))


def growing(wall: float, capacity: float, first: float, last: float) -> tuple[float, float, float]:
    """Return weight of the walls in what a stream that is fed evenly tends to, and what it keeps."""
    if capacity * last == 0.0:
        return 1.0, 0.0, 0.0
    if first == last:
        return 1.0, *thinning(wall, capacity, first, last)
    fed = capacity * (last - first)
    ratio = first / last
    kept = first * (1.0 - ratio ** (wall / fed)) / ((last - first) * (wall / fed))
    return wall / (wall + fed), ratio ** (1.0 + wall / fed), kept


@dataclass
class Matrix:
    """Rows are balances; columns are nodes and mean streams, segment by segment, then the edges."""

    a: Array
    b: Array

    def link(self, row: int, other: int, conductance: float) -> None:
        """Let two unknowns exchange heat."""
        for one, two in ((row, other), (other, row)):
            self.a[one, one] += conductance
            self.a[one, two] -= conductance

    def outside(self, row: int, conductance: float, temperature: float) -> None:
        """Let an unknown lose heat to a given temperature."""
        self.a[row, row] += conductance
        self.b[row] += conductance * temperature

    def stream(self, row: int, entering: int, kept: float, goal: dict[int, float]) -> None:
        """Set an unknown to goal + kept (entering - goal)."""
        self.a[row, row] += 1.0
        self.a[row, entering] -= kept
        for column, weight in goal.items():
            self.a[row, column] -= (1.0 - kept) * weight


@dataclass(frozen=True)
class Case:
    """A collector in its weather, with the temperatures at which conductances are taken."""

    network: Network
    table: FlowTable
    guess: Array
    sun: Array
    weather: Weather = CLEAR
    begin: Array | None = None
    duration: float = FOREVER
    speed: int = 1
    inlet: float = ROOM


def solve(case: Case) -> tuple[Array, float]:
    """Return node temperatures [node, segment] and the outlet [K]."""
    network = case.network
    nodes, segments = case.guess.shape
    width = nodes + 2
    front = width * segments  # edges of the front stream, then those of the rear stream
    rear = front + segments + 1
    system = Matrix(np.zeros((rear + segments + 1,) * 2), np.zeros(rear + segments + 1))
    box, flow = read_box(network.box, 0), read_air_flow(case.table.flow[case.speed], 0)
    for s in range(segments):
        back = segments - 1 - s if network.counterflow else s
        _nodes(system, case, box, s, width * s)
        _streams(system, case, box, flow, s, (width * s, front + s, rear + back))
    system.a[front, front] = system.a[rear, rear] = 1.0
    system.b[front] = system.b[rear] = case.inlet
    if network.counterflow:
        system.a[rear, front + segments], system.b[rear] = -1.0, 0.0
    x = np.linalg.solve(system.a, system.b)
    share = 1.0 if network.counterflow else box.rear_share
    outlet = (1.0 - share) * x[front + segments] + share * x[rear + segments]
    return x[:front].reshape(segments, width)[:, :nodes].T, float(outlet)


def _nodes(system: Matrix, case: Case, box: Box, s: int, first: int) -> None:
    network, guess, weather = case.network, case.guess[:, s], case.weather
    begin = guess if case.begin is None else case.begin[:, s]
    plate = network.panes
    for node in range(plate + 5):
        system.outside(first + node, network.capacity[node, 0] / case.duration, begin[node])
    system.b[first : first + plate + 1] += case.sun
    _sky(system, case, box, s, first)
    for space in range(plate - 1):
        system.link(first + space, first + space + 1, _between_panes(network, guess, space, s))
    face = plate + 4
    system.link(first + plate - 1, first + face, network.pane_link[plate - 1, 0])
    before = radiation(guess[face], guess[plate], network.exchange[plate - 1, 0])
    system.link(first + face, first + plate, before)
    beside = radiation(guess[plate], guess[plate + 1], network.exchange[plate, 0])
    beside += box.tubes * still_conductance(network, plate, s, 0, guess[plate], guess[plate + 1])
    system.link(first + plate, first + plate + 1, beside)
    system.outside(first + plate, box.edge, weather.ambient)
    system.link(first + plate + 1, first + plate + 2, box.face_link)
    system.link(first + plate + 2, first + plate + 3, box.box_link)
    behind = ROOM if box.wall_share == 1.0 else weather.ambient
    system.outside(first + plate + 3, box.outer_link, behind)


def _sky(system: Matrix, case: Case, box: Box, s: int, first: int) -> None:
    """Wind and long-wave past half the outermost pane, taken at its face."""
    weather, middle, link = case.weather, case.guess[0, s], case.network.pane_link[0, 0]
    face = middle
    for _ in range(2):
        outsides = [
            (weather.wind_coefficient, weather.ambient),
            (radiation(face, weather.sky, box.cover_emittance * box.sky_view), weather.sky),
            (radiation(face, weather.ambient, box.cover_emittance * (1 - box.sky_view)), weather.ambient),
        ]
        total = sum(h for h, _ in outsides)
        face = (link * middle + sum(h * t for h, t in outsides)) / (link + total)
    for h, t in outsides:
        system.outside(first, h * link / (link + total), t)


def _between_panes(network: Network, guess: Array, space: int, s: int) -> float:
    """Half of each pane and the gap between their faces, in series; the gap is taken at its faces."""
    one, other = guess[space], guess[space + 1]
    behind, before = 1.0 / network.pane_link[space, 0], 1.0 / network.pane_link[space + 1, 0]
    faces = one, other
    for _ in range(2):
        gap = radiation(*faces, network.exchange[space, 0]) + still_conductance(network, space, s, 0, *faces)
        whole = 1.0 / (behind + 1.0 / gap + before)
        faces = one + behind * whole * (other - one), other - before * whole * (other - one)
    return float(whole)


def _streams(
    system: Matrix, case: Case, box: Box, flow: AirFlow, s: int, places: tuple[int, int, int]
) -> None:
    first, front, rear = places
    network, guess, plate = case.network, case.guess[:, s], case.network.panes
    glass, sheet, lining = first + plate + 4, first + plate, first + plate + 1
    front_mean, rear_mean = first + plate + 5, first + plate + 6
    path: Path = read_path(network.path, s, 0)
    capacity = flow.mass_flow * SPECIFIC_HEAT_AIR / box.segment_area
    films = []
    for side in range(2):
        walls = (guess[plate + 4], guess[plate]) if side == 0 else (guess[plate], guess[plate + 1])
        still = still_conductance(network, plate - 1 + side, s, 0, *walls)
        enclosed = side == 1 and box.tubes == 1.0  # the gap round the tubes is not the air in them
        beside = 0.0 if enclosed else 2.0 * flow.contact * still
        films.append(np.cbrt(case.table.film[case.speed, side, s, 0] ** 3 + beside**3))
    to_glass, from_front = films[0], films[0] * flow.contact * box.front_area
    from_rear, to_lining = films[1] * flow.contact * box.rear_area, films[1] * (1.0 - box.tubes)
    drawn = capacity * (path.front_in - path.front_out) * flow.effectiveness
    # walls see the mean air; what the streams gain is in their own rows
    for wall, air, film in (
        (glass, front_mean, to_glass),
        (sheet, front_mean, from_front + drawn),
        (sheet, rear_mean, from_rear),
        (lining, rear_mean, to_lining),
    ):
        system.a[wall, wall] += film
        system.a[wall, air] -= film
    walls = to_glass + from_front
    end, mean = thinning(walls, capacity, path.front_in, path.front_out)
    goal = {glass: to_glass / walls, sheet: from_front / walls}
    system.stream(front_mean, front, mean, goal)
    system.stream(front + 1, front, end, goal)
    walls = from_rear + to_lining
    pull, end, mean = growing(walls, capacity, path.rear_in, path.rear_out)
    fed = 1.0 - pull
    goal = {
        sheet: pull * from_rear / walls + fed * flow.effectiveness,
        lining: pull * to_lining / walls,
        front_mean: fed * (1.0 - flow.effectiveness),
    }
    system.stream(rear_mean, rear, mean, goal)
    system.stream(rear + 1, rear, end, goal)


def random_case(arrangement: str, segments: int, panes: int, *, wall: bool = False, speed: int = 1) -> Case:
    """Return an invented collector with uneven temperatures, an uneven past and sun in every pane."""
    rng = np.random.default_rng(segments + 10 * panes)
    back = Back((BOARD,), wall_resistance=2.0 if wall else None)
    network, table = numbers(collector(arrangement, segments, panes, back=back, edge_conductance=0.5))
    network = with_box(network, front_area=1.2)
    guess = rng.uniform(275.0, 350.0, (panes + 5, segments))
    begin = rng.uniform(275.0, 350.0, (panes + 5, segments))
    sun = np.append(rng.uniform(5.0, 30.0, panes), 600.0)
    return Case(network, table, guess, sun, begin=begin, duration=17.0, speed=speed)


def assert_same(case: Case) -> None:
    """Compare one stage of the package with the dense matrix, to 1e-9 K."""
    nodes, outlet = solve(case)
    found = turn(
        case.network, case.table, case.guess, absorbed=case.sun, begin=case.begin, duration=case.duration,
        speed=float(case.speed), room=ROOM, inlet=(0.0, 1.0),
    )  # fmt: skip
    assert np.abs(found.nodes - nodes).max() < 1e-9
    assert abs(found.outlet - outlet) < 1e-9


# mathematics: the same balances, solved at once
@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
@pytest.mark.parametrize(("segments", "panes", "wall"), [(1, 1, False), (3, 2, True), (25, 1, False)])
def test_stage_equals_the_dense_matrix(arrangement, segments, panes, wall):
    assert_same(random_case(arrangement, segments, panes, wall=wall))


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_stage_without_flow_equals_the_dense_matrix(arrangement):
    assert_same(random_case(arrangement, 3, 1, speed=0))


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
@pytest.mark.parametrize("speed", [0, 1])
def test_steady_point_equals_the_dense_matrix_repeated(arrangement, speed):
    case = random_case(arrangement, 3, 1, speed=speed)
    guess = np.full_like(case.guess, 300.0)
    for _ in range(60):
        nodes, outlet = solve(Case(case.network, case.table, guess, case.sun, speed=speed))
        guess = nodes
    found = steady_point(case.network, case.table, CLEAR, case.sun, ROOM, float(speed))
    assert np.abs(found.nodes - nodes).max() < 1e-7
    if speed:
        assert found.outlet == pytest.approx(outlet, abs=1e-7)
