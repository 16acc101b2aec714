"""The loss of a one-cover flat plate: network of this room's own functions, and Klein's closed form."""

import itertools

import pytest
from scipy.optimize import brentq

from simengine.air.properties import thermal_conductivity
from simengine.heat_transfer.natural_convection import hollands, rayleigh
from simengine.heat_transfer.radiation import between_plates, to_sky
from simengine.heat_transfer.top_loss import klein_top_loss

AMBIENT, DEPTH, TILT, COVER = 283.15, 0.025, 45.0, 0.88


def _gap_film(plate, cover):
    number = rayleigh(plate, cover, DEPTH, 101325.0)
    return hollands(number, TILT, 80.0) * thermal_conductivity(0.5 * (plate + cover)) / DEPTH


def _network(plate, wind, emittance):
    """Return the top loss coefficient [W/m2K] and the cover temperature [K], ambient and sky alike."""

    def inside(cover):
        return _gap_film(plate, cover) + between_plates(plate, cover, emittance, COVER)

    def outside(cover):
        return wind + to_sky(cover, AMBIENT, COVER, 0.0)

    def balance(cover):
        return inside(cover) * (plate - cover) - outside(cover) * (cover - AMBIENT)

    cover = brentq(balance, AMBIENT, plate)
    return 1.0 / (1.0 / inside(cover) + 1.0 / outside(cover)), cover


# Plate 100 degC, air and sky 10 degC, h_w 10, e_p 0.95, 45 deg, 25 mm (from memory of Duffie and Beckman,
# reproduced from its own inputs).
def test_one_cover_collector_of_a_solar_text():
    loss, cover = _network(373.15, 10.0, 0.95)
    assert loss == pytest.approx(6.62, abs=0.03)
    assert cover - 273.15 == pytest.approx(48.4, abs=0.3)
    assert between_plates(373.15, cover, 0.95, COVER) == pytest.approx(8.03, abs=0.05)
    assert _gap_film(373.15, cover) == pytest.approx(3.50, abs=0.06)
    assert to_sky(cover, AMBIENT, COVER, 0.0) == pytest.approx(5.53, abs=0.05)
    assert _gap_film(373.15, 308.15) == pytest.approx(3.73, abs=0.03)


def test_closed_form_on_the_same_case():
    # 6.60 +-0.06 (from memory, reproduced from its own inputs)
    assert klein_top_loss(373.15, AMBIENT, 1, 10.0, 0.95) == pytest.approx(6.60, abs=0.06)


def test_closed_form_at_its_worst():
    # 50 to 150 degC, e 0.1 to 0.95, h_w 5 to 45: worst error 0.15 to 0.35 (half read, half from memory)
    cases = itertools.product((323.15, 373.15, 423.15), (0.1, 0.5, 0.95), (5.0, 15.0, 45.0))
    errors = [
        abs(klein_top_loss(plate, AMBIENT, 1, wind, emittance) / _network(plate, wind, emittance)[0] - 1.0)
        for plate, emittance, wind in cases
    ]
    assert 0.15 < max(errors) < 0.35


def test_closed_form_on_usual_collectors():
    # 50 to 100 degC, e 0.5 to 0.95, h_w 5 to 15: within 0.8 W/m2K (from memory, reproduced)
    cases = itertools.product((323.15, 373.15), (0.5, 0.95), (5.0, 15.0))
    errors = [
        abs(klein_top_loss(plate, AMBIENT, 1, wind, emittance) - _network(plate, wind, emittance)[0])
        for plate, emittance, wind in cases
    ]
    assert max(errors) < 0.8
