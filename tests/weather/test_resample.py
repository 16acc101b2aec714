"""Another step keeps every mean."""

import numpy as np
import pytest

from simengine.errors import WeatherError
from simengine.weather import WeatherSeries
from simengine.weather.resample import resampled


@pytest.mark.parametrize("step", [1800, 900, 600])
def test_finer_and_back_is_the_same_year(year: WeatherSeries, step: int) -> None:
    fine = resampled(year, step)
    assert len(fine.data) == 8760 * 3600 // step
    back = resampled(fine, 3600)
    np.testing.assert_allclose(back.data.to_numpy(), year.data.to_numpy(), atol=1e-9)
    assert back.data.index.equals(year.data.index)
    assert any("resampled" in finding.message for finding in back.findings)


def test_finer_radiation_follows_the_sun(year: WeatherSeries) -> None:
    fine = resampled(year, 900).data["ghi"].to_numpy().reshape(365, 96)
    morning = fine[:, 36:40].mean(axis=0)
    assert (np.diff(morning) > 0.0).all()


def test_the_same_step_is_the_same_series(year: WeatherSeries) -> None:
    assert resampled(year, 3600) is year


@pytest.mark.parametrize("step", [0, 50, 2400, 7200])
def test_steps_that_do_not_fit_are_refused(year: WeatherSeries, step: int) -> None:
    with pytest.raises(WeatherError, match="multiple or divisor"):
        resampled(year, step)
