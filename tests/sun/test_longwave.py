"""Sky temperature against published and remembered values, and a real file's own long-wave."""

import dataclasses

import numpy as np
import pytest

from simengine.constants import STEFAN_BOLTZMANN, ZERO_CELSIUS
from simengine.errors import InputError
from simengine.sun import CLEAR_SKIES, sky_temperature, solar_position
from simengine.sun.longwave import (
    berdahl_martin,
    clark_allen,
    clear_sky_emissivity,
    cloudy,
    sky_temperature_from_longwave,
    swinbank,
    whillier,
)

TEN = np.array([10.0])
NOON, MIDNIGHT = np.array([12.0]), np.array([0.0])


@pytest.mark.parametrize(
    ("value", "expected", "tolerance"),
    [
        pytest.param(
            swinbank(np.array([293.0]), TEN, NOON), 276.85, 0.05, id="6.01a Swinbank, published, read"
        ),
        pytest.param(whillier(np.array([293.0]), TEN, NOON), 287.0, 0.0, id="6.02 Whillier, published, read"),
        pytest.param(
            clear_sky_emissivity(TEN),
            0.7743,
            1e-4,
            id="6.03a from memory of Berdahl and Martin, no hour term",
        ),
        pytest.param(
            clear_sky_emissivity(TEN, NOON), 0.7613, 1e-4, id="6.03b from memory of Berdahl and Martin, noon"
        ),
        pytest.param(
            berdahl_martin(np.array([293.15]), TEN, MIDNIGHT),
            276.15,
            0.1,
            id="6.03c from memory of Berdahl and Martin, 20 degC, midnight [K]",
        ),
        pytest.param(
            clear_sky_emissivity(TEN),
            0.564 + 0.059 * np.sqrt(12.27),
            0.006,
            id="6.03d vapour-pressure form of Berdahl and Martin 1984, 12.27 hPa, published, read",
        ),
        pytest.param(
            sky_temperature_from_longwave(np.array([315.0])) - ZERO_CELSIUS,
            -0.15,
            0.1,
            id="6.04 mathematics: 315 W/m2 [degC]",
        ),
        pytest.param(
            (clark_allen(np.array([293.15]), TEN, NOON) / 293.15) ** 4,
            0.8149,
            3e-4,
            id="6.05 from memory of Clark and Allen",
        ),
    ],
)
def test_values_from_outside(value: np.ndarray, expected: float, tolerance: float) -> None:
    assert value[0] == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize("name", CLEAR_SKIES)
def test_key_gives_that_relation_and_a_sky_colder_than_the_air(name: str) -> None:
    relation = CLEAR_SKIES[name]
    assert relation.__name__ == name
    air = np.array([263.15, 283.15, 303.15])
    assert np.all(relation(air, air - 275.15, np.full(3, 6.0)) < air)


def test_long_wave_of_the_file_comes_first(make_series) -> None:
    longwave = np.array([300.0, np.nan, 350.0])
    series = make_series(count=3, longwave_down=longwave)
    sun = solar_position(series)
    sky = sky_temperature(series, sun)
    assert STEFAN_BOLTZMANN * sky[[0, 2]] ** 4 == pytest.approx([300.0, 350.0])
    assert sky[1] == sky_temperature(make_series(count=3), sun)[1]
    all_there = make_series(count=3, longwave_down=300.0)
    assert STEFAN_BOLTZMANN * sky_temperature(all_there, sun) ** 4 == pytest.approx(300.0)


def test_clouds_warm_the_sky_up_to_the_air_at_most() -> None:
    air, clear = np.full(5, 283.15), np.full(5, 263.15)
    sky = cloudy(clear, air, np.linspace(0.0, 1.0, 5))
    assert sky[0] == 263.15
    assert np.all(np.diff(sky) > 0.0)
    assert sky[-1] < 283.15
    # Martin and Berdahl 1984 (from memory): full cover at a base of 2.5 km closes exp(-2.5/8.2) of the window
    emissivity = (263.15 / 283.15) ** 4
    assert (sky[-1] / 283.15) ** 4 == pytest.approx(
        emissivity + (1.0 - emissivity) * np.exp(-2.5 / 8.2), abs=1e-3
    )


def test_cloudless_night_has_the_clear_sky(make_series) -> None:
    series = make_series(count=48, opaque_cloud_cover=0.0)
    sun = solar_position(series)
    expected = berdahl_martin(np.full(48, 283.15), np.full(48, 5.0), sun.solar_time)
    assert sky_temperature(series, sun) == pytest.approx(expected)


def test_year_without_long_wave_is_plausible(greensboro, greensboro_sun) -> None:
    # common practice: the sky is some 5-20 K below the air, more under clear dry skies
    blind = dataclasses.replace(greensboro, data=greensboro.data.assign(longwave_down=np.nan))
    air = greensboro.data.temp_air.to_numpy() + ZERO_CELSIUS
    below = air - sky_temperature(blind, greensboro_sun)
    assert 7.0 < below.mean() < 16.0
    assert below.min() > 0.0
    assert below.max() < 35.0


def test_unknown_relation_is_refused(make_series) -> None:
    series = make_series()
    with pytest.raises(InputError, match="accepted: berdahl_martin, swinbank, whillier, clark_allen"):
        sky_temperature(series, solar_position(series), clear_sky="warm")
