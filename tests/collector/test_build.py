"""From what a collector is made of to the numbers of its network: sums, series and shares by hand."""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import quad

from simengine.collector.build import (
    ARRANGEMENTS,
    build_network,
    flow_path,
    segment_depths,
    stream_logs,
)
from simengine.collector.network import read_box
from simengine.collector.spec import Absorber, AirSpace, Back, Layer, Pane, SealedGap, Tubes
from simengine.errors import InputError
from tests.collector.by_hand import BOARD, PRESSURE, collector

WOOD = Layer("wood", 0.012, 0.12, 500.0, 1600.0, "wood")


def built(*args, **changes):
    return build_network(collector(*args, **changes), PRESSURE)


def box(*args, **changes):
    return read_box(built(*args, **changes).box, 0)


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_what_enters_a_collector_leaves_it(arrangement):
    path = flow_path(arrangement)
    if path.counterflow:  # the same air twice
        assert path == (1.0, 1.0, 1.0, 1.0, True)
    else:
        assert path.front_inlet + path.rear_inlet == path.front_outlet + path.rear_outlet == 1.0


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_no_segment_loses_air(arrangement):
    path = built(arrangement, 7).path[:, :, 0]
    assert path[0] + path[3] == pytest.approx(path[1] + path[4], abs=1e-15)
    assert path[1, :-1].tolist() == path[0, 1:].tolist() and path[4, :-1].tolist() == path[3, 1:].tolist()


# mathematics: the geometry number is the integral of dx / flow over the segment
@pytest.mark.parametrize(("inlet", "outlet"), [(1.0, 1.0), (0.5, 0.5), (1.0, 0.4), (0.2, 0.9)])
def test_geometry_number_is_the_integral_of_one_over_the_flow(inlet, outlet):
    logs = stream_logs(inlet, outlet, 4)
    edges = np.linspace(inlet, outlet, 5)
    for first, last, log in zip(edges[:-1], edges[1:], logs, strict=True):
        expected, _ = quad(lambda x, a=first, b=last: 1.0 / (a + (b - a) * x), 0.0, 1.0)
        assert log == pytest.approx(expected, rel=1e-10)


@pytest.mark.parametrize(("inlet", "outlet", "infinite"), [(1.0, 0.0, 3), (0.0, 1.0, 0)])
def test_a_stream_from_or_to_nothing_forgets_its_inlet_there(inlet, outlet, infinite):
    logs = stream_logs(inlet, outlet, 4)
    assert logs[infinite] == 1e12 and (np.delete(logs, infinite) < 10.0).all()
    assert (stream_logs(0.0, 0.0, 3) == 1e12).all()


def test_depths_are_those_of_the_middle_of_each_segment():
    assert segment_depths(AirSpace(0.06, 0.02), 4).tolist() == pytest.approx([0.055, 0.045, 0.035, 0.025])
    depth = 1.0 / built("through", 4, 2).gap[:, 0, :, 0]
    assert depth[0].tolist() == [0.014] * 4
    assert depth[1] + depth[2] == pytest.approx(np.full(4, 0.08))


def test_heat_capacities_by_hand():
    # glass 4 mm x 2500 x 750; board 0.05 x 30 x 1400 and wood 0.012 x 500 x 1600
    made = collector(panes=2, back=Back((BOARD, WOOD), lining_heat_capacity=900.0), box_heat_capacity=7000.0)
    expected = [7500.0, 7500.0, 1350.0, 900.0, 2100.0 + 9600.0, 7000.0, 0.0]
    assert build_network(made, PRESSURE).capacity[:, 0] == pytest.approx(expected, rel=1e-12)


def test_exchange_factors_by_hand():
    panes = (Pane("outer", 0.004, emittance_inside=0.84), Pane("inner", 0.004, emittance_outside=0.1))
    coated = build_network(replace(collector(panes=2), panes=panes), PRESSURE).exchange[:, 0]
    assert built(panes=2).exchange[0, 0] == pytest.approx(1.0 / (2.0 / 0.84 - 1.0))
    assert coated[0] == pytest.approx(1.0 / (1.0 / 0.84 + 1.0 / 0.1 - 1.0))
    assert coated[1] == pytest.approx(1.0 / (1.0 / 0.84 + 1.0 / 0.95 - 1.0))
    assert coated[2] == pytest.approx(1.0 / (1.0 / 0.88 + 1.0 / 0.9 - 1.0))


@pytest.mark.parametrize(
    ("wall", "resistance"),
    # ISO 6946 surface resistances, from memory: 0.04 outside; 0.13 (rounded) inside, horizontal heat flow
    [(None, 0.05 / 0.024 + 0.012 / 0.12 + 0.04), (2.0, 0.05 / 0.024 + 0.012 / 0.12 + 2.0 + 0.13)],
)
def test_back_is_the_series_of_its_layers_and_what_lies_behind(wall, resistance):
    made = box(back=Back((BOARD, WOOD), wall_resistance=wall))
    in_series = 1.0 / made.face_link + 1.0 / made.box_link + 1.0 / made.outer_link
    assert in_series == pytest.approx(resistance, rel=1e-12 if wall is None else 1e-3)
    assert made.wall_share == (0.0 if wall is None else 1.0)


def test_areas_views_and_edges_by_hand():
    made = box("behind", 4, edge_conductance=1.44, tilt=90.0)
    assert made.segment_area == pytest.approx(0.72)
    assert made.edge == pytest.approx(0.5)
    assert made.sky_view == pytest.approx(0.5)
    assert made.cover_emittance == 0.84
    assert (made.front_area, made.rear_area, made.tubes) == (1.0, 1.0, 0.0)


def test_a_bank_of_tubes_offers_its_inner_surface():
    made = box("tubes", absorber=Absorber("bank", tubes=Tubes(0.05, 0.06)))
    assert made.rear_area == pytest.approx(math.pi * 0.05 / 0.06)
    assert made.tubes == 1.0


def test_fins_multiply_the_surface():
    made = box("both_sides", absorber=Absorber("ribbed", front_area=1.3, rear_area=1.6))
    assert (made.front_area, made.rear_area) == (1.3, 1.6)


@pytest.mark.parametrize(("place", "row"), [("absorber", 9), ("box_air", 10), ("outlet_air", 11)])
def test_sensor_sits_in_one_place(place, row):
    weights = build_network(collector(), PRESSURE, place).box[9:12, 0]
    assert weights.sum() == 1.0 and weights[row - 9] == 1.0


def test_a_bare_absorber_has_an_outer_face_of_its_own_and_no_heat_in_it():
    bare = built(panes=0)
    assert bare.panes == 1
    assert bare.capacity[0, 0] == 0.0
    assert bare.exchange[0, 0] == 0.0
    assert bare.box[1, 0] == 0.95  # emittance of the absorber's own front


def test_each_space_has_its_own_gas():
    filled = built(panes=2, pane_gaps=(SealedGap(0.014, "krypton"),)).gas
    assert filled[0].tolist() != filled[1].tolist() and filled[1].tolist() == filled[2].tolist()


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"arrangement": "sideways"}, "collector arrangement 'sideways' is unknown; accepted: behind"),
        ({"arrangement": "in_front", "panes": 0}, "needs at least one pane"),
        ({"arrangement": "tubes", "absorber": Absorber("no tubes")}, "diameter and pitch"),
        ({"arrangement": "through", "panes": 0}, "bare absorber that air is drawn through"),
        ({"back": Back(())}, "no layers; accepted: at least one"),
        ({"back": Back((replace(BOARD, conductivity=0.0),))}, "'board' has a thickness of 0.05 m"),
        ({"panes": 2, "pane_gaps": ()}, "2 panes with 0 gaps"),
    ],
)
def test_what_cannot_be_built_is_refused_with_a_reason(changes, message):
    with pytest.raises(InputError, match=message):
        built(**changes)


def test_a_sensor_in_no_known_place_is_refused_with_the_places_there_are():
    with pytest.raises(InputError, match="place 'roof' is unknown; accepted: absorber, box_air, outlet_air"):
        build_network(collector(), PRESSURE, "roof")
