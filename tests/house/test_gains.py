"""Gains against hand sums and the monthly utilisation of ISO 13790."""

from dataclasses import replace

import numpy as np
import pytest

from simengine.errors import InputError, RangeError
from simengine.house import gains
from simengine.house.presets import standard
from simengine.house.spec import Window

SOUTH = Window(180.0, 10.0, 0.75, frame_share=0.3, shading_factor=0.9)
EAST = Window(90.0, 4.0, 0.5, frame_share=0.25, shading_factor=0.8)


def test_solar_gain_is_the_sum_over_the_windows():
    # Hand sum: 10 x 0.7 x 0.75 x 0.9 x 0.9 x 500 + 4 x 0.75 x 0.5 x 0.8 x 0.9 x 100 W.
    gain = gains.solar_gain([SOUTH, EAST], np.array([[0.0, 500.0], [0.0, 100.0]]))
    assert gain.tolist() == pytest.approx([0.0, 2126.25 + 108.0])


def test_solar_gain_may_follow_the_angle():
    factor = np.array([[1.0, 0.5]])
    gain = gains.solar_gain([SOUTH], np.array([[400.0, 400.0]]), factor)
    assert gain[1] == pytest.approx(0.5 * gain[0])


def test_more_sun_never_gives_less():
    sun = np.linspace(0.0, 1000.0, 11)
    assert (np.diff(gains.solar_gain([SOUTH], sun)) > 0.0).all()


def test_aperture_carries_the_angular_factor():
    # ISO 13790 (from memory): 0.9 from normal incidence to the day's mean.
    assert gains.solar_aperture(SOUTH) == pytest.approx(0.9 * gains.solar_aperture(SOUTH, 1.0))


def test_internal_profile_keeps_its_mean():
    profile = gains.internal_profile(420.0)
    assert len(profile) == 24
    assert np.mean(profile) == pytest.approx(420.0)
    # ISO 13790 annex G (from memory): evening highest, night lowest.
    assert max(profile) == profile[19]
    assert min(profile) == profile[3] == profile[23]


def test_schedule_is_laid_out_by_the_hour():
    values = tuple(float(hour) for hour in range(24))
    hours = np.arange(0, 48 * 4) // 4 % 24  # quarter hours of two days
    laid_out = gains.by_hour(values, hours)
    assert laid_out.reshape(2, 24, 4).mean(axis=(0, 2)).tolist() == list(values)


def test_gains_of_a_house():
    house = standard(100.0)
    found = gains.house_gains(house, np.arange(24), np.full((4, 24), 100.0))
    assert found.internal.mean() == pytest.approx(300.0)
    apertures = [gains.solar_aperture(window) for window in house.windows]
    assert found.solar == pytest.approx(np.full(24, 100.0 * sum(apertures)))


@pytest.mark.parametrize(
    ("ratio", "exponent", "expected"),
    [
        # From memory of ISO 13790 clause 12.2.1, 0.05 %.
        (0.3, 2.0, 0.9353),
        (0.8, 2.0, 0.7377),
        # Mathematics: a / (a + 1) where gains equal losses.
        (1.0, 2.0, 2.0 / 3.0),
        (1.0 + 1e-7, 2.0, 2.0 / 3.0),
    ],
)
def test_utilisation_of_iso_13790(ratio, exponent, expected):
    assert gains.gain_utilisation(ratio, exponent) == pytest.approx(expected, rel=5e-4)


@pytest.mark.parametrize(
    ("ratio", "exponent", "expected"),
    [
        # Closed form against a numerical derivative, derived; 0.01 %: the worth of a little more heat
        # in a standard house, and in a low-energy house in a month whose gains equal its losses.
        (0.30, 2.567, 0.897118),
        (1.00, 7.625, 0.442031),
    ],
)
def test_marginal_utilisation(ratio, exponent, expected):
    step = 1e-4
    low, high = (x * gains.gain_utilisation(x, exponent) for x in (ratio - step, ratio + step))
    assert (high - low) / (2.0 * step) == pytest.approx(expected, rel=1e-4)


def test_marginal_utilisation_at_equal_gains_is_half_of_the_mean():
    # Mathematics: the limit a / (2 (a + 1)).
    half = gains.gain_utilisation(1.0, 7.625) / 2.0
    assert half == pytest.approx(7.625 / (2.0 * 8.625))
    assert half == pytest.approx(0.442031, rel=1e-5)


@pytest.mark.parametrize(
    ("call", "error"),
    [
        (lambda: gains.solar_gain([SOUTH, EAST], np.zeros((1, 3))), InputError),
        (lambda: gains.solar_aperture(Window(180.0, 1.0, 1.4)), RangeError),
        (lambda: gains.solar_aperture(Window(180.0, -1.0, 0.5)), RangeError),
        (lambda: gains.internal_profile(100.0, (1.0,) * 23), InputError),
        (lambda: gains.internal_profile(100.0, (0.0,) * 24), InputError),
        (lambda: gains.by_hour((1.0,) * 24, np.array([24])), InputError),
        (lambda: gains.by_hour((1.0,) * 23, np.array([0])), InputError),
        (lambda: gains.gain_utilisation(0.0, 2.0), RangeError),
    ],
)
def test_what_cannot_be_is_refused(call, error):
    with pytest.raises(error):
        call()


def test_a_house_without_windows_gains_no_sun():
    house = replace(standard(100.0), windows=())
    assert gains.house_gains(house, np.arange(24), []).solar.sum() == 0.0
