"""Hints against rules of the trade."""

import pytest

from simengine.airflow.circuit import PartLoss
from simengine.airflow.hints import CFM_PER_SQUARE_FOOT, flow_hints
from simengine.constants import SPECIFIC_HEAT_AIR, STANDARD_AIR_DENSITY

QUIET = PartLoss("duct", 10.0, 3.0, 3.0e4)


@pytest.mark.parametrize(("cfm", "expected"), [(2.0, 10.16), (4.0, 20.32)])
def test_flow_per_area_in_litres(cfm, expected):
    # 10.16 and 20.32 +-0.01 L/s m2 (mathematics)
    assert cfm * CFM_PER_SQUARE_FOOT * 1000.0 == pytest.approx(expected, abs=0.01)


def test_three_cfm_per_square_foot_as_mass_flux():
    # 0.0183 kg/s m2 +-0.3 % (unit identity)
    assert pytest.approx(0.0183, rel=3e-3) == 3.0 * CFM_PER_SQUARE_FOOT * STANDARD_AIR_DENSITY


def test_usual_flow_on_sixty_four_square_feet():
    # 2.5 and 3 cfm/ft2 on 64 ft2: within 160 to 200 cfm (common practice), and without a hint
    area = 64.0 * 0.3048**2
    for cfm in (160.0, 176.0, 200.0):
        flow = cfm * 0.3048**3 / 60.0 * STANDARD_AIR_DENSITY
        assert flow_hints([QUIET], flow, area) == ()


def test_sensible_heat_constant_of_the_trade():
    # 60 x 0.075 x 0.24 = 1.08 Btu/h per cfm and degF (unit identity; own c_p leaves 0.2 %)
    watts = STANDARD_AIR_DENSITY * SPECIFIC_HEAT_AIR * 0.3048**3 / 60.0 * 5.0 / 9.0
    assert watts * 3600.0 / 1055.05585262 == pytest.approx(1.08, rel=2e-3)


@pytest.mark.parametrize(("mass_flow", "word"), [(0.005, "little"), (0.3, "much")])
def test_unusual_flow_is_named(mass_flow, word):
    assert f"is {word} air" in flow_hints([QUIET], mass_flow, 2.9)[0]


def test_fast_duct_and_unsure_part_are_named():
    fast = PartLoss("supply", 30.0, 7.0, 7.0e4)
    unsure = PartLoss("sheet", 0.1, 0.02, 9.0, "outside the range")
    hints = flow_hints([fast, unsure], 0.05, 2.9)
    assert "supply: 7.0 m/s" in hints[0]
    assert hints[1] == "sheet: outside the range"
