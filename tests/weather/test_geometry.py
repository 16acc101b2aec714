"""The light sun of the file checks against the NREL algorithm."""

import numpy as np
import pandas as pd
import pvlib
import pytest

from simengine.weather.geometry import sun_path


@pytest.mark.parametrize(
    ("latitude", "longitude"), [(55.3, -160.5), (36.1, -80.0), (0.0, 10.0), (-33.9, 151.2), (78.0, 15.0)]
)
@pytest.mark.parametrize("year", [2001, 2020])
def test_zenith_against_the_nrel_algorithm(latitude: float, longitude: float, year: int) -> None:
    """Reference library: pvlib's SPA, true zenith at mid-interval; tolerance 0.03 deg."""
    offset = round(longitude / 15.0)
    index = pd.date_range(f"{year}-01-01", periods=8760, freq="h")
    sun = sun_path(index, offset, 3600, (latitude, longitude))
    light = np.degrees(np.arccos(np.clip(sun.constant + sun.amplitude * np.cos(sun.hour_angle), -1.0, 1.0)))
    times = (index + pd.Timedelta(minutes=30) - pd.Timedelta(hours=offset)).tz_localize("UTC")[::29]
    exact = pvlib.solarposition.get_solarposition(times, latitude, longitude)["zenith"].to_numpy()
    assert np.abs(light[::29] - exact).max() < 0.03


def test_mean_cosine_of_the_sunlit_part_against_quadrature() -> None:
    """Mathematics: the closed form against 600 points an hour."""
    index = pd.date_range("2001-03-05", periods=24, freq="h")
    sun = sun_path(index, 1.0, 3600, (50.0, 12.0))
    angle = sun.hour_angle[:, None] + sun.half_width * np.linspace(-1.0, 1.0, 601)
    cosine = sun.constant[:, None] + sun.amplitude[:, None] * np.cos(angle)
    lit = cosine > 0.0
    mean = np.where(lit.any(axis=1), np.sum(cosine * lit, axis=1) / np.maximum(lit.sum(axis=1), 1), 0.0)
    found, share = sun.sunlit()
    np.testing.assert_allclose(found, mean, atol=2e-3)
    np.testing.assert_allclose(share, lit.mean(axis=1), atol=5e-3)


def test_polar_day_and_night() -> None:
    index = pd.DatetimeIndex(["2001-06-21 00:00", "2001-12-21 11:00"])
    cosine, share = sun_path(index, 0.0, 3600, (80.0, 0.0)).sunlit()
    assert share.tolist() == pytest.approx([1.0, 0.0])
    assert cosine[0] > 0.2


def test_a_shift_of_the_clock_is_a_shift_of_the_sun() -> None:
    index = pd.date_range("2001-05-01", periods=24, freq="h")
    later = sun_path(index, -1.0, 3600, (40.0, 0.0)).sunlit()[0]
    shifted = sun_path(index, 0.0, 3600, (40.0, 0.0)).sunlit(1.0)[0]
    np.testing.assert_allclose(shifted, later, atol=3e-4)
