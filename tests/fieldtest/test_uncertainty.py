"""Propagated uncertainty against the worked examples of the GUM (JCGM 100:2008, annex H) and by hand."""

import numpy as np
import pytest
import uncertainties
from uncertainties import correlated_values, correlation_matrix, ufloat, umath

from simengine.fieldtest.reduction import instantaneous_efficiency
from simengine.fieldtest.york import york


def test_gauge_block_of_gum_h1() -> None:
    # from memory of JCGM 100:2008, H.1: l = 50.000 838 mm, u = 32 nm to first order
    length, difference = ufloat(50_000_623.0, 25.0), ufloat(215.0, 9.7)  # [nm]
    expansion, apart = ufloat(11.5e-6, 1.2e-6), ufloat(0.0, 0.58e-6)  # [1/K]
    off, between = ufloat(-0.1, 0.41), ufloat(0.0, 0.029)  # [K]
    block = length + difference - length * (apart * off + expansion * between)
    assert block.nominal_value == pytest.approx(50_000_838.0, abs=0.5)
    assert block.std_dev == pytest.approx(32.0, abs=0.5)


def test_resistance_and_reactance_of_gum_h2() -> None:
    # rows U01R (127.732, 0.001 %) and U02R (0.071, 2 %); the rest from memory of JCGM 100:2008, H.2
    deviation = np.array([0.0032, 0.0095e-3, 0.00075])
    r = np.array([[1.0, -0.36, 0.86], [-0.36, 1.0, -0.65], [0.86, -0.65, 1.0]])
    covariance = r * np.outer(deviation, deviation)
    volt, ampere, phase = correlated_values([4.999, 19.661e-3, 1.04446], covariance)
    resistance = volt / ampere * umath.cos(phase)
    reactance, impedance = volt / ampere * umath.sin(phase), volt / ampere
    assert resistance.nominal_value == pytest.approx(127.732, rel=1e-5)
    assert resistance.std_dev == pytest.approx(0.071, rel=0.02)
    assert reactance.nominal_value == pytest.approx(219.847, rel=1e-5)
    assert reactance.std_dev == pytest.approx(0.295, rel=0.02)
    assert impedance.nominal_value == pytest.approx(254.260, rel=1e-5)
    assert impedance.std_dev == pytest.approx(0.236, rel=0.02)
    both = correlation_matrix([resistance, reactance, impedance])
    assert both[0, 1] == pytest.approx(-0.588, abs=0.03)  # inputs are rounded in print
    assert both[1, 2] == pytest.approx(0.993, abs=0.003)


def test_thermometer_calibration_of_gum_h3() -> None:
    # from memory of JCGM 100:2008, H.3: y1 -0.1712 (0.0029), y2 0.00218 (0.00067), r -0.930, s 0.0035;
    # at 30 degC -0.1494 (0.0041)
    t = np.array([21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511])
    b = -np.array([0.171, 0.169, 0.166, 0.159, 0.164, 0.165, 0.156, 0.157, 0.159, 0.161, 0.160])
    line = york(t - 20.0, b, np.full(11, 1e-7), np.full(11, 0.0035), np.zeros(11))
    assert line.intercept == pytest.approx(-0.1712, abs=5e-5)
    assert line.slope == pytest.approx(0.00218, abs=5e-6)
    assert np.sqrt(line.chi_squared * 0.0035**2 / 9.0) == pytest.approx(0.0035, abs=5e-5)
    deviations = np.sqrt(np.diag(line.covariance))
    assert deviations == pytest.approx([0.0029, 0.00067], rel=0.02)
    assert line.covariance[0, 1] / np.prod(deviations) == pytest.approx(-0.930, abs=5e-4)
    intercept, slope = correlated_values([line.intercept, line.slope], line.covariance)
    at_thirty = intercept + 10.0 * slope
    assert at_thirty.nominal_value == pytest.approx(-0.1494, abs=5e-5)
    assert at_thirty.std_dev == pytest.approx(0.0041, abs=5e-5)


def test_efficiency_by_definition() -> None:
    # row U03, definition: 0.050 kg/s, 25 K, 900 W/m2, 2.0 m2 -> 0.6986 within 0.1 %
    assert instantaneous_efficiency(0.050, 25.0, 900.0, 2.0) == pytest.approx(0.6986, rel=1e-3)


def test_relative_uncertainty_of_an_efficiency() -> None:
    # row U04, derived after JCGM 100, 5.1.2: flow 2 %, each thermometer 0.2 K, sun 2 %, area 0.5 % -> 3.09 %
    rise = ufloat(45.0, 0.2) - ufloat(20.0, 0.2)
    found = instantaneous_efficiency(ufloat(0.05, 0.001), rise, ufloat(900.0, 18.0), ufloat(2.0, 0.01))
    assert found.std_dev / found.nominal_value == pytest.approx(0.0309, rel=5e-3)


def test_what_two_periods_share_does_not_average_out() -> None:
    sensor = ufloat(0.0, 0.3)
    readings = [ufloat(20.0, 0.1) + sensor for _ in range(100)]
    mean = sum(readings) / 100.0
    assert isinstance(mean, uncertainties.core.AffineScalarFunc)
    assert mean.std_dev == pytest.approx(np.hypot(0.3, 0.01), rel=1e-9)  # mathematics
