"""Beam and diffuse from the global, and any one of the three from the other two."""

import dataclasses
from pathlib import Path

import numpy as np
import pandas as pd
import pvlib
import pytest

from simengine.weather import WeatherSeries, builtin, read_weather
from simengine.weather.split import erbs_diffuse_fraction
from simengine.weather.writer import plain_text


def test_diffuse_fraction_against_pvlib() -> None:
    """Reference library: pvlib.irradiance.erbs with the sun at 60 deg from the zenith."""
    times = pd.date_range("2001-03-21 12:00", periods=1, freq="h", tz="UTC")
    extra = float(pvlib.irradiance.get_extra_radiation(times).iloc[0])
    clearness = np.linspace(0.01, 1.0, 100)
    theirs = pvlib.irradiance.erbs(clearness * extra * 0.5, 60.0, times.repeat(100))
    np.testing.assert_allclose(
        erbs_diffuse_fraction(clearness) * clearness * extra * 0.5, theirs["dhi"], rtol=1e-4
    )


def without(series: WeatherSeries, folder: Path, *names: str) -> WeatherSeries:
    path = folder / "made.csv"
    path.write_text(plain_text(dataclasses.replace(series, data=series.data.drop(columns=list(names)))))
    return read_weather(path)


@pytest.mark.parametrize("name", ["ghi", "dni", "dhi"])
def test_the_third_is_rebuilt_from_two_and_flagged(tmp_path: Path, name: str) -> None:
    series = builtin("greensboro")
    found = without(series, tmp_path, name)
    assert any(finding.message.startswith(f"{name}: not in the file, rebuilt") for finding in found.findings)
    assert found.data[name].sum() == pytest.approx(series.data[name].sum(), rel=0.01)
    assert np.corrcoef(found.data[name], series.data[name])[0, 1] > 0.995


def test_global_alone_is_split_and_flagged(tmp_path: Path) -> None:
    series = builtin("greensboro")
    found = without(series, tmp_path, "dni", "dhi")
    assert any("Erbs" in finding.message for finding in found.findings)
    assert found.data["dhi"].sum() == pytest.approx(series.data["dhi"].sum(), rel=0.15)
    assert found.closure_rmse < 0.5
    assert (found.data["dhi"] <= found.data["ghi"] + 1e-9).all()
