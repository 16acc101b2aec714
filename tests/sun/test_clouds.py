"""Cloud cover told from sunshine, against what the observers of a real file wrote down."""

import csv
from pathlib import Path

import numpy as np
import pvlib
import pytest

from simengine.sun import cloud_cover, solar_position
from simengine.sun.clouds import clear_irradiance, cover_from_irradiance


def observed_opaque_cover() -> np.ndarray:
    path = Path(pvlib.__file__).parent / "data" / "723170TYA.CSV"
    with path.open(encoding="utf-8", newline="") as file:
        next(file)
        return np.array([float(row["OpqCld (tenths)"]) / 10.0 for row in csv.DictReader(file)])


def test_cover_of_a_year_agrees_with_the_observed_opaque_cover(greensboro, greensboro_sun) -> None:
    # TMY3 723170 Greensboro, opaque sky cover (published, read); a band for a relation by sunshine alone
    observed, told = observed_opaque_cover(), cloud_cover(greensboro, greensboro_sun)
    day = greensboro_sun.sunlit_share > 0.0
    assert told[day].mean() == pytest.approx(observed[day].mean(), abs=0.05)
    assert told[~day].mean() == pytest.approx(observed[~day].mean(), abs=0.05)
    assert np.corrcoef(told, observed)[0, 1] > 0.65


def test_relation_of_irradiance_and_cover_runs_both_ways() -> None:
    # from memory of Kasten and Czeplak 1980: 1 - 0.75 cover^3.4
    cover = np.linspace(0.0, 1.0, 11)
    elevation = np.full(11, 35.0)
    ghi = clear_irradiance(elevation) * (1.0 - 0.75 * cover**3.4)
    assert cover_from_irradiance(ghi, elevation) == pytest.approx(cover, abs=1e-3)
    assert clear_irradiance(np.array([90.0]))[0] == pytest.approx(880.0)


def test_night_lies_between_its_days(make_series) -> None:
    bright = make_series(count=72, start="2001-06-01")
    sun = solar_position(bright)
    full = np.maximum(clear_irradiance(90.0 - sun.zenith), 0.0)
    dull = np.arange(72) >= 36
    series = make_series(count=72, start="2001-06-01", ghi=np.where(dull, 0.3, 1.0) * full)
    told = cloud_cover(series, sun)
    assert np.all((told >= 0.0) & (told <= 1.0))
    assert told[12] == pytest.approx(0.0, abs=1e-6)
    assert 0.0 < told[26] < told[60]


def test_series_column_comes_first(make_series) -> None:
    series = make_series(count=24, opaque_cloud_cover=np.where(np.arange(24) < 5, 0.3, np.nan))
    told = cloud_cover(series, solar_position(series))
    assert np.all(told[:5] == 0.3)
    assert np.all(np.isfinite(told))


def test_polar_night_is_taken_half_clouded(make_series) -> None:
    series = make_series(latitude=78.0, longitude=15.0, utc_offset=1.0, start="2001-12-21")
    assert np.all(cloud_cover(series, solar_position(series)) == 0.5)


@pytest.mark.parametrize("step", [900, 3600, 10800])
def test_any_step_is_read(make_series, step: int) -> None:
    count = 5 * 86400 // step
    series = make_series(count=count, step=step, ghi=300.0)
    told = cloud_cover(series, solar_position(series))
    assert told.shape == (count,)
    assert np.all(np.isfinite(told))
