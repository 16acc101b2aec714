"""Laws of one steady operating point, for every flow arrangement."""

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.collector.network import Weather
from simengine.collector.spec import Absorber, Back, Collector, Tubes
from simengine.collector.steady import SteadyPoint, steady_point
from simengine.constants import SPECIFIC_HEAT_AIR
from simengine.errors import InputError, RunEnded
from tests.collector.by_hand import BOARD, CLEAR, SCREEN, collector, numbers

ARRANGEMENTS = ["behind", "in_front", "both_sides", "two_pass", "through", "tubes"]
AREA = 2.88
arrangements = st.sampled_from(ARRANGEMENTS)
weathers = st.builds(
    lambda ambient, below, wind, sun: Weather(ambient, ambient - below, wind, sun),
    st.floats(255.0, 305.0), st.floats(0.0, 25.0), st.floats(3.0, 40.0), st.floats(50.0, 1000.0),
)  # fmt: skip
mass_flows = st.floats(0.01, 0.15)


def run(
    made: Collector, weather: Weather, mass_flow: float, inlet: float = 293.15, speed: float = 1.0
) -> tuple[SteadyPoint, float]:
    """Return the steady point and the absorbed sun [W]: 3 % of it in each pane, 75 % in the absorber."""
    network, table = numbers(made, mass_flow)
    sun = weather.incident * np.array([0.03] * network.panes + [0.75])
    return steady_point(network, table, weather, sun, inlet, speed), AREA * float(sun.sum())


@settings(derandomize=True, deadline=None, max_examples=30)
@given(arrangements, st.integers(1, 2), weathers, mass_flows, st.sampled_from([0.0, 1.0]))
def test_absorbed_sun_is_gain_and_losses(arrangement, panes, weather, mass_flow, speed):
    point, absorbed = run(collector(arrangement, 3, panes), weather, mass_flow, speed=speed)
    size = abs(point.useful_gain) + sum(abs(loss) for loss in point.losses)
    assert point.useful_gain + sum(point.losses) == pytest.approx(absorbed, abs=1e-9 * size)


@settings(derandomize=True, deadline=None, max_examples=30)
@given(arrangements, st.integers(1, 2), weathers, mass_flows)
def test_temperatures_lie_between_the_surroundings_and_stagnation(arrangement, panes, weather, mass_flow):
    made = collector(arrangement, 3, panes)
    running, absorbed = run(made, weather, mass_flow, inlet=weather.ambient)
    still, _ = run(made, weather, mass_flow, inlet=weather.ambient, speed=0.0)
    assert running.nodes.min() > weather.sky - 1e-9
    # an absorber in the stream is hottest with the fan at rest; no air gets above the hottest wall
    assert running.nodes[panes].max() <= still.nodes[panes].max() + 1e-9
    assert weather.ambient <= running.outlet <= running.nodes.max() + 1e-9
    assert 0.0 < running.useful_gain < absorbed
    assert 0.0 < running.efficiency < absorbed / (AREA * weather.incident)


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
@pytest.mark.parametrize("speed", [0.0, 1.0])
def test_without_sun_everything_at_one_temperature_stays_there(arrangement, speed):
    level = 288.15
    point, _ = run(collector(arrangement), Weather(level, level, 12.0, 0.0), 0.06, inlet=level, speed=speed)
    assert np.abs(point.nodes - level).max() < 1e-9
    assert point.outlet == pytest.approx(level, abs=1e-9)
    assert point.useful_gain == pytest.approx(0.0, abs=1e-7)
    assert point.efficiency == 0.0


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_without_flow_nothing_is_gained_and_the_inlet_does_not_matter(arrangement):
    weather = Weather(275.0, 260.0, 12.0, 900.0)
    cold, _ = run(collector(arrangement), weather, 0.06, inlet=280.0, speed=0.0)
    warm, _ = run(collector(arrangement), weather, 0.06, inlet=310.0, speed=0.0)
    assert cold.useful_gain == warm.useful_gain == cold.mass_flow == 0.0
    assert np.abs(cold.nodes - warm.nodes).max() < 1e-8


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
@pytest.mark.parametrize("speed", [0.0, 1.0])
def test_more_insulation_never_loses_more_through_the_back(arrangement, speed):
    weather = Weather(270.0, 255.0, 15.0, 800.0)
    losses = [
        run(collector(arrangement, back=Back((replace(BOARD, thickness=t),))), weather, 0.06, speed=speed)[
            0
        ].losses.back
        for t in (0.01, 0.02, 0.05, 0.1, 0.3)
    ]
    assert all(thick < thin for thin, thick in pairwise(losses))


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_more_sun_never_gives_less(arrangement):
    gains = [
        run(collector(arrangement), Weather(270.0, 255.0, 15.0, sun), 0.06)[0].useful_gain
        for sun in range(0, 1001, 100)
    ]
    assert (np.diff(gains) > 0.0).all()
    assert gains[0] < 0.0  # without sun room air is cooled


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_more_flow_and_a_colder_inlet_give_more(arrangement):
    weather = Weather(275.0, 260.0, 12.0, 800.0)
    by_flow = [run(collector(arrangement), weather, flow)[0].useful_gain for flow in (0.02, 0.05, 0.1, 0.2)]
    by_inlet = [
        run(collector(arrangement), weather, 0.06, inlet)[0].useful_gain for inlet in (310.0, 300.0, 290.0)
    ]
    assert (np.diff(by_flow) > 0.0).all() and (np.diff(by_inlet) > 0.0).all()


@pytest.mark.parametrize("arrangement", ARRANGEMENTS)
def test_a_trickle_of_air_is_nearly_stagnation(arrangement):
    """No step between standing and moving air."""
    weather = Weather(275.0, 260.0, 12.0, 800.0)
    still, _ = run(collector(arrangement), weather, 0.06, speed=0.0)
    trickle, _ = run(collector(arrangement), weather, 1e-7, speed=1.0)
    assert np.abs(trickle.nodes - still.nodes).max() < 0.05


def test_a_second_pane_makes_the_box_hotter_at_rest():
    weather = Weather(275.0, 260.0, 12.0, 800.0)
    single, _ = run(collector(), weather, 0.06, speed=0.0)
    double, _ = run(collector(panes=2), weather, 0.06, speed=0.0)
    assert double.nodes[2].max() > single.nodes[1].max() + 5.0


def test_a_bare_absorber_stands_at_its_own_outer_face_and_loses_more():
    weather = Weather(275.0, 260.0, 12.0, 800.0)
    bare, _ = run(collector(panes=0), weather, 0.06)
    covered, _ = run(collector(), weather, 0.06)
    assert np.abs(bare.nodes[0] - bare.nodes[1]).max() < 0.01
    assert 0.0 < bare.useful_gain < covered.useful_gain


def test_fins_in_the_channel_give_more_heat():
    weather = Weather(275.0, 260.0, 12.0, 800.0)
    plain, _ = run(collector(absorber=Absorber("sheet")), weather, 0.06)
    finned, _ = run(collector(absorber=Absorber("sheet", rear_area=2.0)), weather, 0.06)
    assert finned.useful_gain > plain.useful_gain


def test_tubes_close_together_give_more_heat_than_far_apart():
    weather = Weather(275.0, 260.0, 12.0, 800.0)
    near, far = (
        run(collector("tubes", absorber=Absorber("bank", tubes=Tubes(0.05, pitch))), weather, 0.06)[0]
        for pitch in (0.06, 0.30)
    )
    assert near.useful_gain > far.useful_gain


def test_two_screens_give_more_heat_than_one():
    weather = Weather(275.0, 260.0, 12.0, 800.0)
    one, two = (
        run(
            collector("through", absorber=Absorber("screen", perforation=replace(SCREEN, layers=layers))),
            weather,
            0.06,
        )[0]
        for layers in (1, 2)
    )
    assert two.useful_gain > one.useful_gain


def test_gain_is_flow_times_rise():
    point, _ = run(collector("two_pass"), Weather(275.0, 260.0, 12.0, 800.0), 0.05, inlet=290.0)
    assert point.mass_flow == 0.05
    assert point.useful_gain == pytest.approx(0.05 * SPECIFIC_HEAT_AIR * (point.outlet - 290.0), rel=1e-12)
    assert point.efficiency == pytest.approx(point.useful_gain / (800.0 * AREA), rel=1e-12)


@pytest.mark.parametrize(
    "weather", [Weather(math.nan, 260.0, 12.0, 800.0), Weather(275.0, 260.0, math.inf, 800.0)]
)
def test_an_input_that_is_no_number_ends_with_a_reason(weather):
    with pytest.raises(RunEnded, match="not a finite number"):
        run(collector(), weather, 0.05)


def test_absorbed_sun_that_does_not_fit_the_panes_is_refused():
    network, table = numbers(collector(panes=2))
    with pytest.raises(InputError, match="2 figures of absorbed sun; accepted: 3"):
        steady_point(network, table, CLEAR, np.array([10.0, 600.0]), 293.15)
