"""More or less sun as a what-if: the sun's columns alone, and a year of its own."""

import numpy as np
import pytest

from simengine.weather import builtin
from simengine.weather.sunnier import SUN, sunnier


def test_all_sun_is_scaled_and_nothing_else() -> None:
    year = builtin("greensboro")
    more = sunnier(year, 1.1)
    for name in year.data.columns:
        factor = 1.1 if name in SUN else 1.0
        np.testing.assert_allclose(more.data[name], factor * year.data[name], rtol=1e-12)
    assert more.sha256 != year.sha256 and more.sun_factor == pytest.approx(1.1)


def test_a_factor_of_one_is_the_year_itself() -> None:
    year = builtin("greensboro")
    assert sunnier(year, 1.0) is year


def test_it_is_asked_for_once_however_often_the_year_is_resolved() -> None:
    from simengine.data_files import data_path
    from simengine.scenario import load
    from simengine.simulate.climate import weather_of

    scenario = load(data_path("scenarios", "demo.toml")).changed({"site.sun_factor": 0.9})
    (once,) = weather_of(scenario)
    (again,) = weather_of(scenario, once)
    assert again.sun_factor == pytest.approx(0.9)
    np.testing.assert_allclose(again.data["ghi"], once.data["ghi"])
