"""Tables of steady points, and what the test standards read from them."""

import numpy as np
import pytest

from simengine.cli.point import FIGURES
from simengine.collector.angular import beam_shares
from simengine.errors import InputError
from simengine.scenario import Scenario
from simengine.simulate import Conditions, point_table
from simengine.simulate.point_table import STEPS, line_fit, modifier_fit


def test_the_command_offers_every_table() -> None:
    assert set(FIGURES) == set(STEPS)


@pytest.mark.parametrize("over", STEPS)
def test_a_table_has_a_point_for_every_step(demo: Scenario, over: str) -> None:
    table = point_table(demo, over, Conditions())
    column = [one[FIGURES[over]] for one in table["points"]]
    assert len(column) == len(STEPS[over])
    assert column == sorted(column)


def test_the_line_of_a_test_returns_what_it_was_made_from() -> None:
    # from memory, reproduced from its own inputs: two covers, air, F_R(tau alpha) 0.49 and F_R U_L 2.84 give
    # an efficiency of 0.395 at 20 K and 600 W/m2
    made = [{"reduced_difference": x, "efficiency": 0.49 - 2.84 * x} for x in (0.0, 0.02, 0.05)]
    fit = line_fit(made)
    assert fit["heat_removal_optical"] == pytest.approx(0.49)
    assert fit["heat_removal_loss"] == pytest.approx(2.84)
    at = fit["heat_removal_optical"] - fit["heat_removal_loss"] * 20.0 / 600.0
    assert at == pytest.approx(0.395, abs=0.001)


def test_b0_of_a_certificate() -> None:
    # published, read: modifiers of a certificate at 10 to 60 deg, held against b0 = 0.10, +-0.02
    printed = {10.0: 1.0, 20.0: 0.99, 30.0: 0.98, 40.0: 0.97, 60.0: 0.90, 80.0: 0.50}
    points = [{"incidence_angle": angle, "incidence_modifier": k} for angle, k in printed.items()]
    assert modifier_fit(points)["incidence_b0"] == pytest.approx(0.10, abs=0.02)


def test_the_modifier_is_mostly_that_of_the_optics(demo: Scenario) -> None:
    table = point_table(demo, "incidence", Conditions())
    angles = np.array([one["incidence_angle"] for one in table["points"]])
    box = demo.assemble().collector
    absorbed = beam_shares(box.panes, box.absorber, angles).absorber
    modifiers = np.array([one["incidence_modifier"] for one in table["points"]])
    # at ambient inlet the losses fall with the sun, so that efficiency follows the absorbed share; at 75 deg
    # the box is so much cooler that it loses less for each kelvin
    assert modifiers[:5] == pytest.approx(absorbed[:5] / absorbed[0], abs=0.02)
    assert 0.08 < table["fit"]["incidence_b0"] < 0.20


def test_the_line_and_the_time_constant_of_the_demo_hang_together(demo: Scenario) -> None:
    table = point_table(demo, "inlet", Conditions())
    fit, points = table["fit"], table["points"]
    for one in points:
        line = fit["heat_removal_optical"] - fit["heat_removal_loss"] * one["reduced_difference"]
        assert one["efficiency"] == pytest.approx(line, abs=fit["line_error"] + 1e-12)
    assert points[0]["sky_temperature"] == points[0]["ambient_temperature"]
    assert 30.0 < fit["time_constant"] < 1800.0


def test_a_given_sky_and_inlet_are_kept(demo: Scenario) -> None:
    table = point_table(demo, "inlet", Conditions(ambient=280.0, sky=265.0))
    assert {one["sky_temperature"] for one in table["points"]} == {265.0}
    assert table["points"][0]["inlet_temperature"] == 280.0


def test_a_table_over_flow_goes_round_the_flow_that_is_asked_for(demo: Scenario) -> None:
    table = point_table(demo, "flow", Conditions(flow=0.08))
    assert 0.08 in [one["mass_flow"] for one in table["points"]]
    assert table["own_flow"] == 0.08


@pytest.mark.parametrize("over", ["inlet", "incidence"])
def test_nothing_can_be_tested_without_sun_or_flow(demo: Scenario, over: str) -> None:
    for conditions in (Conditions(irradiance=0.0), Conditions(flow=0.0)):
        with pytest.raises(InputError, match="without sun or flow"):
            point_table(demo, over, conditions)
