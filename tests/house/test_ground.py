"""The ground's yearly wave: its limits, its damping and its delay."""

import math

import numpy as np
import pytest

from simengine.house.ground import YearlyWave, ground_temperature, yearly_wave

WAVE = YearlyWave(284.0, 11.0, 0.06)
YEAR = (np.arange(8760) + 0.5) / 8760.0


def test_the_surface_is_the_wave_itself() -> None:
    surface = ground_temperature(WAVE, YEAR, 0.0, 0.6e-6)
    assert surface == pytest.approx(284.0 - 11.0 * np.cos(2.0 * np.pi * (YEAR - 0.06)), abs=1e-9)


def test_a_damping_depth_down_the_wave_is_1_over_e_and_58_days_late() -> None:
    # closed form: d = sqrt(2 a/omega) = 2.454 m for 0.6e-6 m2/s; delay 1 rad = 365/(2 pi) days
    depth = math.sqrt(2.0 * 0.6e-6 * 365.0 * 86400.0 / (2.0 * math.pi))
    assert depth == pytest.approx(2.454, abs=0.002)
    found = yearly_wave(ground_temperature(WAVE, YEAR, depth, 0.6e-6), YEAR)
    assert found.amplitude == pytest.approx(11.0 / math.e, rel=1e-6)
    assert (found.coldest - 0.06) * 365.0 == pytest.approx(58.09, abs=0.02)
    assert found.mean == pytest.approx(284.0, abs=1e-9)


def test_noise_of_days_does_not_move_the_wave() -> None:
    daily = 6.0 * np.cos(2.0 * np.pi * 365.0 * YEAR)
    found = yearly_wave(284.0 - 11.0 * np.cos(2.0 * np.pi * (YEAR - 0.06)) + daily, YEAR)
    assert tuple(found) == pytest.approx(WAVE, abs=1e-9)
