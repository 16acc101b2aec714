"""Layers, films and duct walls against ISO 6946 and closed forms."""

import math

import pytest

from simengine.errors import InputError
from simengine.heat_transfer.conduction import (
    black_coefficient,
    duct_conductance,
    edge_conductance,
    inside_resistance,
    insulated_pipe_conductance,
    layers_resistance,
    outside_resistance,
)

R_VALUE = 0.3048**2 / (1055.05585262 / 3600.0) * 5.0 / 9.0  # [m2K/W] per h ft2 degF/Btu


@pytest.mark.parametrize(("celsius", "expected"), [(0.0, 4.6), (20.0, 5.7)])
def test_black_coefficient_of_iso_6946(celsius, expected):
    # ISO 6946 annex, +-0.05 W/m2K (from memory)
    assert black_coefficient(celsius + 273.15) == pytest.approx(expected, abs=0.05)


@pytest.mark.parametrize(
    ("direction", "expected", "tolerance"),
    [("up", 0.10, 0.003), ("horizontal", 0.13, 0.003), ("down", 0.17, 0.003)],
)
def test_inside_film_of_iso_6946(direction, expected, tolerance):
    # ISO 6946 annex (from memory, reproduced from its own inputs)
    assert inside_resistance(direction) == pytest.approx(expected, abs=tolerance)


def test_outside_film_of_iso_6946():
    # V 4 m/s, e 0.9, 0 degC: 0.040 +-0.005 m2K/W (from memory)
    assert outside_resistance(4.0, 273.15, 0.9) == pytest.approx(0.04, abs=0.005)


@pytest.mark.parametrize(("rated", "expected"), [(4.2, 0.740), (6.0, 1.057)])
def test_duct_insulation_of_the_trade_in_si(rated, expected):
    # +-0.1 % (unit identity)
    assert rated * R_VALUE == pytest.approx(expected, rel=1e-3)


def test_bare_duct_in_the_cold():
    # 2 m of 6 in sheet metal, 45 degC inside, -5 outside, films 8 and 10: 212.8 W +-0.2 % (derived)
    heat = duct_conductance(0.1524, 8.0, 0.0, 10.0) * 2.0 * 50.0
    assert heat == pytest.approx(212.8, rel=2e-3)


def test_foam_panel_in_a_window_opening():
    # 25.4 mm polyiso of R-6 an inch, films of ISO 6946: U 0.815 W/m2K +-0.2 % (R found, derived)
    resistance = layers_resistance([(0.0254, 0.0254 / 1.057)]) + 0.13 + 0.04
    assert 1.0 / resistance == pytest.approx(0.815, rel=2e-3)


def test_curved_insulation_tends_to_the_flat_one():
    thin, conductivity = 1e-5, 1e-5
    flat = duct_conductance(0.2, 8.0, thin / conductivity, 10.0)
    assert insulated_pipe_conductance(0.2, thin, conductivity, 8.0, 10.0) == pytest.approx(flat, rel=1e-3)


def test_curved_insulation_against_the_textbook_logarithm():
    # q/L = 2 pi k dT / ln(r2/r1) without films (mathematics)
    value = insulated_pipe_conductance(0.1, 0.05, 0.04, 1e12, 1e12)
    assert value == pytest.approx(2.0 * math.pi * 0.04 / math.log(2.0), rel=1e-9)


def test_thicker_edges_lose_less():
    assert edge_conductance(7.0, 0.1, 1.0, 0.17) < edge_conductance(7.0, 0.1, 0.5, 0.17)


def test_unknown_direction_is_named_with_what_is_accepted():
    with pytest.raises(InputError, match=r"sideways.*accepted: up, horizontal, down"):
        inside_resistance("sideways")
