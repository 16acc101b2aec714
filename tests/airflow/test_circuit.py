"""Pressure of the parts against duct charts, exact laminar flow and other formulas for friction."""

import fluids
import pytest

from simengine.air.properties import density, dynamic_viscosity
from simengine.airflow.circuit import flexible_factor, friction_factor, loop_pressure, losses
from simengine.airflow.parts import (
    Bend,
    Channel,
    Filter,
    Fitting,
    FlexibleDuct,
    Grille,
    PerforatedSheet,
    RectangularDuct,
    Reducer,
    RoundDuct,
    inlet_port,
    outlet_port,
)
from simengine.constants import STANDARD_AIR_DENSITY
from simengine.errors import InputError

CFM = 0.3048**3 / 60.0
IN_WG = 249.08891
PRESSURE = 101325.0

PARTS = [
    inlet_port("intake", 0.1524),
    RoundDuct("return", 3.0, 0.1524),
    FlexibleDuct("flexible", 2.0, 0.1524),
    RectangularDuct("stud space", 2.4, 0.35, 0.09),
    Channel("air space", 2.4, 1.2, 0.025),
    Bend("bend", 0.1524),
    Bend("elbow", 0.1524, 90.0, 0.0),
    Reducer("narrower", 0.1524, 0.125),
    Reducer("wider", 0.125, 0.1524),
    Grille("grille", 0.04),
    PerforatedSheet("absorber", 2.88, 1.6e-3, 0.00823),
    Filter("filter", 0.05, 1.0, 25.0),
    Fitting("turn", 0.03, 2.0),
    outlet_port("supply", 0.1524),
]


def _gradient(inches, cfm):
    """Return the friction of a round steel duct with standard air in in.wg per 100 ft."""
    duct = RoundDuct("duct", 30.48, inches * 0.0254)
    return losses([duct], cfm * CFM * STANDARD_AIR_DENSITY, PRESSURE)[0].pressure / IN_WG


# 0.10 +-0.012 in.wg per 100 ft (from memory of a duct friction chart, reproduced).
@pytest.mark.parametrize(("inches", "cfm"), [(6, 110), (8, 235), (10, 430), (12, 700)])
def test_friction_chart(inches, cfm):
    assert _gradient(inches, cfm) == pytest.approx(0.10, abs=0.012)


@pytest.mark.parametrize(
    ("inches", "expected", "tolerance"),
    [
        (6, 0.0984027, 0.03),  # Colebrook and Swamee-Jain, roughness 0.09 mm (derived)
        (6, 0.1024, 0.05),  # empirical formula 0.109136 q^1.9 / d^5.02 (derived)
        (4, 0.721645, 0.03),
        (4, 0.784, 0.10),
    ],
)
def test_friction_of_110_cfm(inches, expected, tolerance):
    assert _gradient(inches, 110) == pytest.approx(expected, rel=tolerance)


def test_velocity_and_friction_of_160_cfm():
    # 6 in: 4.14 +-0.02 m/s and 1.62 +-0.06 Pa/m (independent solution)
    loss = losses([RoundDuct("duct", 1.0, 0.1524)], 160.0 * CFM * density(293.15, PRESSURE), PRESSURE)[0]
    assert loss.velocity == pytest.approx(4.14, abs=0.02)
    assert loss.pressure == pytest.approx(1.62, abs=0.06)


def test_velocity_by_continuity():
    # 100 cfm in 7 in: 370 fpm +-2 % (derived)
    loss = losses([RoundDuct("duct", 1.0, 7 * 0.0254)], 100.0 * CFM * density(293.15, PRESSURE), PRESSURE)[0]
    assert loss.velocity / 0.3048 * 60.0 == pytest.approx(370.0, rel=0.02)


@pytest.mark.parametrize("reynolds", [5e3, 3e4, 2e5])
def test_turbulent_friction_against_swamee_jain(reynolds):
    # explicit formula of Swamee and Jain 1976 (fluids); it leaves 3 % against Colebrook
    expected = fluids.friction.Swamee_Jain_1976(reynolds, 6e-4)
    assert friction_factor(reynolds, 6e-4) == pytest.approx(expected, rel=0.03)


def test_friction_is_continuous_through_the_transition():
    for edge in (2300.0, 4000.0):
        assert friction_factor(edge * (1 - 1e-9), 1e-3) == pytest.approx(
            friction_factor(edge * (1 + 1e-9), 1e-3), rel=1e-6
        )


def test_laminar_channel_against_plane_poiseuille_flow():
    # dp = 12 mu v L / d^2 (mathematics)
    channel = Channel("air space", 2.0, 1.0, 0.01, temperature=300.0)
    velocity = 0.5
    flow = velocity * density(300.0, PRESSURE) * channel.area
    expected = 12.0 * dynamic_viscosity(300.0) * velocity * 2.0 / 0.01**2
    assert losses([channel], flow, PRESSURE)[0].pressure == pytest.approx(expected, rel=1e-9)


def test_wide_rectangle_has_the_hydraulic_diameter_of_a_channel():
    assert RectangularDuct("a", 1.0, 1000.0, 0.02).hydraulic_diameter == pytest.approx(0.04, rel=1e-4)


def test_screen_alone_costs_next_to_nothing():
    # K about 10 at 0.0152 m/s: between 0 and 0.01 Pa (independent solution)
    flow = 0.0152 * density(293.15, PRESSURE) * 2.9
    assert 0.0 < loop_pressure([Fitting("screen", 2.9, 10.0)], flow, PRESSURE) < 0.01


def test_perforated_absorber_against_a_second_coding():
    # D 1.6 mm, P 16.8 mm, 0.05 m/s, 300 K: 32 +-0.5 Pa (independent solution)
    sheet = PerforatedSheet("absorber", 1.0, 1.6e-3, 0.00822585, temperature=300.0)
    loss = losses([sheet], 0.05 * density(300.0, PRESSURE), PRESSURE)[0]
    assert loss.pressure == pytest.approx(32.0, abs=0.5)
    assert loss.reynolds == pytest.approx(620.0, abs=3.0)
    assert not loss.note


def test_open_sheet_is_flagged():
    loss = losses([PerforatedSheet("soffit", 2.9, 2.0e-3, 0.23)], 0.053, PRESSURE)[0]
    assert "outside the range" in loss.note


def test_filter_at_its_rating():
    part = Filter("filter", 0.05, 1.0, 25.0, 1.4)
    flow = density(293.15, PRESSURE) * 0.05
    assert loop_pressure([part], flow, PRESSURE) == pytest.approx(25.0, rel=1e-12)
    assert loop_pressure([part], 2.0 * flow, PRESSURE) == pytest.approx(25.0 * 2.0**1.4, rel=1e-12)


def test_slack_flexible_duct_of_the_source():
    # 6 in at 15 and 30 % compression: about 5 and 9 times the straight duct (Abushakra et al. 2004, from
    # memory)
    assert flexible_factor(0.1524, 0.85) == pytest.approx(5.0, rel=0.1)
    assert flexible_factor(0.1524, 0.70) == pytest.approx(9.0, rel=0.1)
    assert flexible_factor(0.1524, 1.0) == 1.0


def test_smooth_bend_costs_less_than_an_elbow():
    bend, elbow = losses([Bend("b", 0.15), Bend("e", 0.15, 90.0, 0.0)], 0.06, PRESSURE)
    # round bend of 1.5 diameters 0.15 to 0.35, mitred elbow 1.1 to 1.3 (handbooks of duct fittings, memory)
    head = density(293.15, PRESSURE) * bend.velocity**2 / 2.0
    assert 0.15 < bend.pressure / head < 0.35
    assert 1.1 < elbow.pressure / head < 1.3


def test_sudden_enlargement_is_borda_and_carnot():
    # (1 - A1/A2)^2 on the narrow side (mathematics: momentum)
    loss = losses([Reducer("wider", 0.1, 0.15)], 0.05, PRESSURE)[0]
    head = density(293.15, PRESSURE) * loss.velocity**2 / 2.0
    assert loss.pressure / head == pytest.approx((1.0 - (0.1 / 0.15) ** 2) ** 2, rel=1e-6)


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_every_part_costs_nothing_at_rest_and_more_with_more_flow(part):
    values = [loop_pressure([part], flow, PRESSURE) for flow in (0.0, 0.01, 0.02, 0.05, 0.1)]
    assert values[0] == 0.0
    assert values == sorted(values)
    assert values[1] > 0.0


@pytest.mark.parametrize("part", PARTS, ids=lambda part: part.name)
def test_thin_air_costs_more_at_the_same_mass_flow(part):
    assert loop_pressure([part], 0.05, 80_000.0) > loop_pressure([part], 0.05, 101_325.0)


def test_loop_is_the_sum_of_its_parts():
    total = sum(loss.pressure for loss in losses(PARTS, 0.05, PRESSURE))
    assert loop_pressure(PARTS, 0.05, PRESSURE) == pytest.approx(total, rel=1e-12)
    assert [loss.name for loss in losses(PARTS, 0.05, PRESSURE)] == [part.name for part in PARTS]


@pytest.mark.parametrize("flow", [-0.01, float("nan")])
def test_impossible_flow_is_refused(flow):
    with pytest.raises(InputError, match="accepted: 0 or more"):
        losses(PARTS, flow, PRESSURE)


def test_unknown_part_is_refused():
    class Hose:
        name, area, hydraulic_diameter, temperature = "hose", 0.01, 0.1, 293.15

    with pytest.raises(InputError, match="Hose is not known"):
        losses([Hose()], 0.01, PRESSURE)
