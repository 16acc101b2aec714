"""A warmer year is the same year, warmer: what moves with the air moves, the rest stays, and it says so."""

import dataclasses

import numpy as np
import pytest

from simengine.constants import STEFAN_BOLTZMANN
from simengine.errors import WeatherError
from simengine.weather import WeatherSeries, builtin
from simengine.weather.normals import Normals
from simengine.weather.warmer import warmed, warmed_normals


@pytest.fixture(scope="module")
def year() -> WeatherSeries:
    return builtin("greensboro")


def test_air_rises_by_the_shift_and_sun_wind_and_snow_stay(year: WeatherSeries) -> None:
    warm = warmed(year, 2.0).data
    np.testing.assert_allclose(warm["temp_air"] - year.data["temp_air"], 2.0, atol=1e-9)
    for name in ("ghi", "dni", "dhi", "wind_speed", "pressure", "relative_humidity", "snow_depth", "albedo"):
        np.testing.assert_array_equal(warm[name], year.data[name])


def test_the_dew_point_rises_by_about_as_much_and_stays_below_the_air(year: WeatherSeries) -> None:
    """Mathematics: at constant relative humidity the dew point rises by (Td/T)^2 of the air, 0.8 to 1."""
    warm = warmed(year, 2.0).data
    rise = warm["temp_dew"] - year.data["temp_dew"]
    assert rise.min() > 1.5 and rise.max() < 2.01
    assert (warm["temp_dew"] <= warm["temp_air"] + 1e-9).all()
    tiny = warmed(year, 1e-6).data["temp_dew"]
    np.testing.assert_allclose(tiny, year.data["temp_dew"], atol=0.06)


def test_a_long_wave_column_follows_the_sky(year: WeatherSeries) -> None:
    """Mathematics: black-body sky of 260 K raised to 262 K."""
    sky = dataclasses.replace(year, data=year.data.assign(longwave_down=STEFAN_BOLTZMANN * 260.0**4))
    np.testing.assert_allclose(warmed(sky, 2.0).data["longwave_down"], STEFAN_BOLTZMANN * 262.0**4)
    assert warmed(year, 2.0).data["longwave_down"].isna().all()


def test_it_is_labelled_and_is_another_year(year: WeatherSeries) -> None:
    warm, cold = warmed(year, 1.5), warmed(year, -1.5)
    assert warm.station == f"{year.station}, warmer by 1.5 K (what-if)"
    assert cold.station == f"{year.station}, colder by 1.5 K (what-if)"
    assert any(finding.severity == "warning" and "what-if" in finding.message for finding in warm.findings)
    assert len({year.sha256, warm.sha256, cold.sha256}) == 3
    assert warmed(year, 0.0) is year


@pytest.mark.parametrize("shift", [11.0, -11.0, float("nan")])
def test_a_shift_beyond_the_climate_is_refused(year: WeatherSeries, shift: float) -> None:
    with pytest.raises(WeatherError, match="-10 to 10 K is accepted"):
        warmed(year, shift)


def test_normals_shift_as_well() -> None:
    normals = Normals(ghi=(3.0,) * 12, temp_air=tuple(float(n) for n in range(12)))
    assert warmed_normals(normals, 2.0).temp_air == tuple(float(n) + 2.0 for n in range(12))
    assert warmed_normals(normals, 2.0).ghi == normals.ghi
