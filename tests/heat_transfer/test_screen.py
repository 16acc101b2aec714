"""Screens: a measured effectiveness at other flows, and wires as cylinders in cross flow."""

import math

import ht
import pytest

from simengine.heat_transfer.screen import scaled_effectiveness, screen_effectiveness


def test_measured_effectiveness_holds_at_its_own_flow():
    assert scaled_effectiveness(0.8, 0.02, 0.02, 0.5) == pytest.approx(0.8, rel=1e-12)


def test_transfer_units_follow_the_stated_exponent():
    # NTU ~ flow ** -n (definition)
    units = -math.log(1.0 - scaled_effectiveness(0.8, 0.06, 0.02, 0.7))
    assert units == pytest.approx(-math.log(0.2) * 3.0**-0.7, rel=1e-12)


def test_effectiveness_goes_to_one_without_flow():
    assert scaled_effectiveness(0.8, 0.0, 0.02, 0.5) == 1.0


# Perforated cross-flow air heater at 0.03 kg/s: (34 - T_in)/(41 - T_in) in the bands given for inlets of
# 10 and 20 degC (published, read); measured screens stand around 0.6 to 0.85.
@pytest.mark.parametrize(("inlet", "low", "high"), [(10.0, 0.75, 0.85), (20.0, 0.60, 0.77)])
def test_measured_effectiveness_is_in_the_usual_band(inlet, low, high):
    assert low < (34.0 - inlet) / (41.0 - inlet) < high


def test_wire_against_a_library_cylinder():
    # ht's Churchill-Bernstein cylinder
    wire, pitch, velocity, nu, alpha = 0.28e-3, 1.5e-3, 0.15, 1.57e-5, 2.22e-5
    reynolds = velocity / (1.0 - wire / pitch) ** 2 * wire / nu
    nusselt = ht.Nu_cylinder_Churchill_Bernstein(reynolds, nu / alpha)
    expected = 1.0 - math.exp(-nusselt * alpha * 2.0 * math.pi / pitch / velocity)
    assert screen_effectiveness(wire, pitch, velocity, nu, alpha) == pytest.approx(expected, rel=1e-9)


def test_finer_screen_takes_up_more():
    coarse = screen_effectiveness(0.28e-3, 1.5e-3, 0.1, 1.57e-5, 2.22e-5)
    fine = screen_effectiveness(0.14e-3, 0.75e-3, 0.1, 1.57e-5, 2.22e-5)
    assert 0.0 < coarse < fine < 1.0
