"""A steady point of every build: its heat balance, its laws, and what the fan costs."""

from dataclasses import replace
from typing import Any

import pytest

from simengine.airflow.circuit import loop_pressure
from simengine.errors import InputError
from simengine.scenario import Scenario
from simengine.simulate import Conditions, Resolved, flow_of, point, resolve
from simengine.simulate.fan_at_flow import fan_power, pressure_drop
from simengine.simulate.operating_point import figures

SCREEN = {"porosity": 0.4, "effectiveness": 0.75, "rated_flow": "0.02 kg/s.m2"}
BUILDS: dict[str, dict[str, Any]] = {
    "behind": {},
    "in_front": {"collector.arrangement": "in_front"},
    "both_sides": {"collector.arrangement": "both_sides"},
    "two_pass": {"collector.arrangement": "two_pass"},
    "through": {"collector.arrangement": "through", "collector.absorber.perforation": SCREEN},
    "tubes": {
        "collector.arrangement": "tubes",
        "collector.absorber.tubes": {"diameter": "60 mm", "pitch": "70 mm"},
    },
    "bare": {"collector.cover": None},
    "two panes": {"collector.cover": [{"gap": "12 mm", "gas": "argon", "fill_share": 0.9}, {}]},
    "ribbed": {"collector.absorber.rear_area": 1.6},
}


@pytest.mark.parametrize("build", BUILDS)
def test_sun_taken_up_is_heat_gained_and_lost(demo: Scenario, build: str) -> None:
    found = point(demo.changed(BUILDS[build]))
    losses = ("cover_convection_loss", "cover_longwave_loss", "back_loss", "edge_loss")
    # first law; the steady point rests within 1e-8 K
    assert found["useful_gain"] + sum(found[name] for name in losses) == pytest.approx(
        found["absorbed"], rel=1e-6
    )
    assert 0.0 < found["efficiency"] < 1.0


@pytest.mark.parametrize("build", BUILDS)
def test_more_air_brings_more_heat_and_leaves_cooler(demo: Scenario, build: str) -> None:
    here = resolve(demo.changed(BUILDS[build]))
    own = here.parts.fan.mass_flow
    slow, usual, fast = (figures(here, Conditions(flow=share * own)) for share in (0.5, 1.0, 2.0))
    assert slow["useful_gain"] < usual["useful_gain"] < fast["useful_gain"]
    assert slow["outlet_temperature"] > usual["outlet_temperature"] > fast["outlet_temperature"]


def test_ribs_and_a_second_pane_help_a_warm_room_in_the_cold(demo: Scenario) -> None:
    plain, ribbed, two = (point(demo.changed(BUILDS[b])) for b in ("behind", "ribbed", "two panes"))
    bare = point(demo.changed(BUILDS["bare"]))
    assert bare["useful_gain"] < plain["useful_gain"] < ribbed["useful_gain"]
    assert two["cover_convection_loss"] < plain["cover_convection_loss"]


def test_a_bare_absorber_has_no_pane_to_tell_of(demo: Scenario) -> None:
    assert "cover_temperature" in point(demo)
    assert "cover_temperature" not in point(demo.changed(BUILDS["bare"]))


def test_two_layers_of_a_screen_are_better_than_one(demo: Scenario) -> None:
    one = demo.changed(BUILDS["through"])
    two = one.changed({"collector.absorber.perforation.layers": 2})
    assert point(two)["useful_gain"] > point(one)["useful_gain"]


def test_the_pressure_is_that_of_the_parts_and_zero_at_rest(resolved: Resolved) -> None:
    flow = resolved.parts.fan.mass_flow
    expected = loop_pressure(resolved.parts.air_path.parts, flow, resolved.pressure)
    assert pressure_drop(resolved, flow) == pytest.approx(expected)
    assert pressure_drop(resolved, 0.0) == 0.0


def test_the_fan_has_its_own_power_at_its_own_flow_and_about_the_cube_elsewhere(resolved: Resolved) -> None:
    fan = resolved.parts.fan
    assert fan_power(resolved, fan.mass_flow) == fan.electric_power
    assert fan_power(resolved, 0.0) == 0.0
    # fan laws: the third power where fittings cost most; ducts and channels take a little off
    ratio = fan_power(resolved, 2.0 * fan.mass_flow) / fan.electric_power
    assert 2.0**2.75 < ratio <= 2.0**3


def test_net_heat_per_fan_watt_by_hand(demo: Scenario) -> None:
    found = point(demo)
    by_hand = (found["useful_gain"] - found["fan_power"]) / found["fan_power"]
    assert found["net_heat_per_fan_watt"] == pytest.approx(by_hand)
    assert "net_heat_per_fan_watt" not in point(demo, flow=0.0)


def test_a_flow_is_read_at_the_fan_of_the_scenario(demo: Scenario, resolved: Resolved) -> None:
    assert flow_of(demo, "105 cfm") == pytest.approx(resolved.parts.fan.mass_flow)
    assert flow_of(demo, "0.05 kg/s") == 0.05
    assert flow_of(demo, "0 cfm") == flow_of(demo, "0") == 0.0
    with pytest.raises(InputError, match="unknown unit"):
        flow_of(demo, "12 furlongs")


def test_the_sky_is_ten_kelvin_below_the_air_where_nothing_is_said() -> None:
    assert Conditions(ambient=280.0).sky_temperature == 270.0
    assert replace(Conditions(ambient=280.0), sky=275.0).sky_temperature == 275.0
