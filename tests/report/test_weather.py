"""What a weather file holds, told from an invented series of round numbers."""

import numpy as np
import pandas as pd
import pytest

from simengine.report.shown import Shown
from simengine.report.weather import facts, listing
from simengine.weather import Finding, WeatherSeries


@pytest.fixture
def series() -> WeatherSeries:
    index = pd.date_range("2001-01-01", periods=8760, freq="h")
    numbers = {"ghi": 100.0, "dni": 50.0, "dhi": 60.0, "temp_air": 8.0, "temp_dew": 2.0, "albedo": 0.2}
    numbers |= {"relative_humidity": 60.0, "pressure": 1e5, "wind_speed": 3.0}
    numbers |= {"longwave_down": np.nan, "snow_depth": np.nan}
    data = pd.DataFrame(numbers, index=index, dtype=float)
    findings = (Finding("warning", "three hours were \x1b[1mfilled", "2001-02-03"),)
    return WeatherSeries(
        "Invented Town", "plain", 40.0, -75.0, 100.0, -5.0, 3600, 10.0, data, findings, 2.0, 0.25, "c" * 64
    )


def test_sums_are_right(series: WeatherSeries) -> None:
    known = facts(series)
    assert known["ghi_kwh_m2"] == pytest.approx(876.0)  # mathematics: 100 W/m2 x 8760 h
    assert known["hdd18_kd"] == pytest.approx(3650.0)  # mathematics: 10 K x 365 d
    assert known["months"][1]["ghi_kwh_m2"] == pytest.approx(67.2)  # mathematics: 28 d
    assert known["longwave"] is False


@pytest.mark.parametrize(("system", "days"), [("us", "6570 °F d"), ("si", "3650 K d")])
def test_the_listing_tells_facts_and_findings(series: WeatherSeries, system: str, days: str) -> None:
    text = listing(series, Shown("us" if system == "us" else "si"))
    assert days in text
    assert "warning: three hours were  [1mfilled (2001-02-03)" in text
    assert all(line.isprintable() for line in text.splitlines())
