"""One stage of a segment: what it reads from the tables, and how frozen conductances enter its answer."""

import numpy as np
import pytest

from simengine.air.properties import dynamic_viscosity, prandtl, thermal_conductivity
from simengine.collector.build import flow_path, segment_depths
from simengine.collector.films import still_conductance
from simengine.collector.flow_table import FILM_TEMPERATURE
from simengine.collector.network import FlowTable, read_air_flow
from simengine.collector.segments import new_stage, read_flow_table
from simengine.collector.spec import Back, Collector
from simengine.constants import STEFAN_BOLTZMANN
from simengine.heat_transfer.forced_convection import channel_nusselt
from tests.collector.by_hand import BOARD, CLEAR, collector, numbers, thin_glass, turn, with_box

GUESS = np.linspace(340.0, 290.0, 5)[:, None] * np.ones((1, 3))


def read(table: FlowTable, speed: float) -> tuple[np.ndarray, np.ndarray]:
    """Return flow [AirFlow] and films [2, segment] at a speed."""
    stage = new_stage(1, 5, table.film.shape[2], 1)
    read_flow_table(table, speed, stage, 0)
    return stage.flow[:, 0], stage.film[:, :, 0]


def table_of(rows: int) -> FlowTable:
    """Return a made-up table whose numbers grow with the square of the row."""
    _, table = numbers(collector("both_sides"))
    square = np.arange(rows, dtype=float) ** 2
    flow = square[:, None, None] * np.arange(1.0, 12.0)[None, :, None]
    return table._replace(flow=flow, film=square[:, None, None, None] * np.ones((rows, 2, 3, 1)))


@pytest.mark.parametrize("rows", [2, 3, 5])
def test_at_its_rows_the_table_is_read_exactly(rows):
    table = table_of(rows)
    for row in range(rows):
        flow, film = read(table, row / (rows - 1))
        assert flow == pytest.approx(table.flow[row, :, 0], rel=1e-14)
        assert film == pytest.approx(table.film[row, :, :, 0], rel=1e-14)


def test_between_rows_the_table_is_linear():
    flow, film = read(table_of(3), 0.75)  # half way between 1 and 4
    assert flow == pytest.approx(2.5 * np.arange(1.0, 12.0), rel=1e-14)
    assert film == pytest.approx(np.full((2, 3), 2.5), rel=1e-14)


@pytest.mark.parametrize(("speed", "held"), [(-1.5, 1.0), (1.5, 1.0)])
def test_speeds_beyond_the_table_are_held(speed, held):
    assert read(table_of(3), speed)[0].tolist() == read(table_of(3), held)[0].tolist()


def test_air_that_flows_back_is_as_much_as_air_that_flows_forward():
    assert read(table_of(3), -0.75)[0].tolist() == read(table_of(3), 0.75)[0].tolist()


def test_every_lane_reads_its_own_speed():
    table = table_of(3)
    double = FlowTable(np.repeat(table.flow, 2, axis=2), np.repeat(table.film, 2, axis=3))
    stage = new_stage(1, 5, 3, 2)
    for lane, speed in enumerate((0.5, 1.0)):
        read_flow_table(double, speed, stage, lane)
    assert stage.flow[0].tolist() == [1.0, 4.0] and stage.film[1, 2].tolist() == [1.0, 4.0]
    assert read_air_flow(stage.flow, 1).leak_out == 44.0


def test_cover_conductances_are_kept_for_the_ledger():
    network, table = numbers(collector())
    network = thin_glass(network)
    kept = turn(network, table, GUESS).stage.cover[:, 0, 0]
    view = 0.5 * (1.0 + np.cos(np.radians(60.0)))

    def emitted(other: float) -> float:
        return 0.84 * STEFAN_BOLTZMANN * (340.0**4 - other**4) / (340.0 - other)

    assert kept[0] == pytest.approx(view * emitted(CLEAR.sky), rel=1e-12)
    assert kept[1] == pytest.approx((1.0 - view) * emitted(CLEAR.ambient), rel=1e-12)


def test_what_is_frozen_is_the_guess_and_not_the_answer():
    network, table = numbers(collector(panes=2))
    guess = np.linspace(350.0, 290.0, 6)[:, None] * np.ones((1, 3))
    cold, warm = turn(network, table, guess), turn(network, table, guess + 20.0)
    assert (warm.stage.pane[0, 0] > cold.stage.pane[0, 0]).all()  # radiation grows with temperature
    one = turn(network, table, guess, absorbed=np.array([0.0, 0.0, 300.0]))
    two = turn(network, table, guess, absorbed=np.array([0.0, 0.0, 900.0]))
    half = turn(network, table, guess, absorbed=np.array([0.0, 0.0, 600.0]))
    assert half.nodes == pytest.approx(0.5 * (one.nodes + two.nodes), rel=1e-12)  # a linear system


@pytest.mark.parametrize("arrangement", ["behind", "in_front", "both_sides", "two_pass", "through", "tubes"])
def test_no_flow_leaves_still_gaps(arrangement):
    """With the fan at rest glass and sheet exchange radiation and the still gap, exactly."""
    network, table = numbers(collector(arrangement))
    still = turn(network, table, GUESS, speed=0.0)
    radiation = network.exchange[0, 0] * STEFAN_BOLTZMANN * (340.0**4 - 327.5**4) / (340.0 - 327.5)
    gaps = np.array([still_conductance(network, 0, s, 0, 340.0, 327.5) for s in range(3)])
    given_off = network.box[0, 0] * np.sum((radiation + gaps) * (still.nodes[1] - still.nodes[5]))
    assert given_off == pytest.approx(still.losses.convection + still.losses.longwave, rel=1e-9)


def forced_alone(made: Collector, flow: float) -> np.ndarray:
    """Return the films [space, segment] of the forced flow by itself, none where no air runs [W/m2K]."""
    viscosity, conductivity = dynamic_viscosity(FILM_TEMPERATURE), thermal_conductivity(FILM_TEMPERATURE)
    number, path, films = prandtl(FILM_TEMPERATURE), flow_path(made.arrangement), np.zeros((2, 3))
    ends = ((path.front_inlet, path.front_outlet), (path.rear_inlet, path.rear_outlet))
    for side, (space, (first, last)) in enumerate(zip((made.front, made.rear), ends, strict=True)):
        for s, depth in enumerate(segment_depths(space, 3)):
            local = flow * (first + (last - first) * (s + 0.5) / 3.0)
            nusselt = channel_nusselt(2.0 * local / (1.2 * viscosity), number, 2.0 * depth / 2.4)
            films[side, s] = nusselt * conductivity / (2.0 * depth) if first + last > 0.0 else 0.0
    return films


# own bridge between still gap and flow: forced value within 1 % above Re 1000 where there is no buoyancy
@pytest.mark.parametrize("flow", [0.06, 0.12])
@pytest.mark.parametrize("arrangement", ["behind", "in_front", "both_sides", "two_pass", "through"])
def test_without_buoyancy_the_stage_takes_the_film_of_the_forced_flow(arrangement, flow):
    """Its answer is no further from that of the forced films alone than 1 % of these would move it."""
    made = collector(arrangement)
    network, table = numbers(made, flow)
    network.nusselt[:] = 1.0
    found = turn(network, table, GUESS).nodes
    films = forced_alone(made, flow)
    still = network.nusselt.copy()
    still[films.any(axis=1)] = 0.0
    alone = network._replace(nusselt=still)
    exact, more = (
        turn(alone, table._replace(film=np.stack([0.0 * films, f * films])[..., None]), GUESS).nodes
        for f in (1.0, 1.01)
    )
    assert np.abs(found - exact).max() < np.abs(more - exact).max()


def test_the_gap_round_a_bank_of_tubes_does_not_stir_the_air_inside_them():
    """More convection in the gap behind the tubes passes heat to the back, not to the air."""
    network, table = numbers(collector("tubes"), 0.02)
    calm, stirred = network.nusselt.copy(), network.nusselt.copy()
    calm[1], stirred[1] = 1.0, 5.0
    one, other = (turn(network._replace(nusselt=nusselt), table, GUESS) for nusselt in (calm, stirred))
    assert other.outlet < one.outlet
    assert (other.nodes[2] > one.nodes[2]).all()


def test_a_wall_behind_ties_the_box_to_the_room():
    network, table = numbers(collector(back=Back((BOARD,), wall_resistance=1.0)))
    cold, warm = (
        turn(network, table, GUESS, room=283.15, inlet=(293.15, 0.0)),
        turn(network, table, GUESS, inlet=(293.15, 0.0)),
    )
    assert (warm.nodes > cold.nodes).all()
    assert warm.losses.back == 0.0 and warm.losses.wall < cold.losses.wall
    outdoors, table = numbers(collector())
    same = [turn(outdoors, table, GUESS, room=room, inlet=(293.15, 0.0)).nodes for room in (283.15, 293.15)]
    assert same[0].tolist() == same[1].tolist()


def test_a_step_without_length_moves_nothing():
    network, table = numbers(collector(panes=2))
    begin = np.linspace(300.0, 320.0, 6)[:, None] * np.ones((1, 3))
    after = turn(network, table, begin + 5.0, begin=begin, duration=1e-9)
    assert after.nodes[:-1] == pytest.approx(begin, abs=1e-9)  # the cover's inner face stores nothing


def test_edges_lose_to_ambient():
    network, table = numbers(collector())
    leaky = turn(with_box(network, edge=0.5), table, GUESS)
    assert leaky.losses.edge == pytest.approx(0.5 * 0.96 * (leaky.nodes[1] - CLEAR.ambient).sum(), rel=1e-12)
    assert leaky.outlet < turn(network, table, GUESS).outlet
