"""Load against gain: sums by local day."""

import numpy as np
import pytest

from simengine.report.house_hours import house_hours
from simengine.report.load_gain import load_gain
from simengine.results import Result


def test_every_invented_day_is_alike(result: Result) -> None:
    data = load_gain(house_hours(result.hours, 0))
    assert len(data.days) == 365
    assert {round(day.load, 9) for day in data.days} == {48.0}  # 2000 W for 24 h
    assert {round(day.gain, 9) for day in data.days} == {8.0}  # 1000 W for 8 h
    assert data.more_than_wanted == 0


def test_days_that_bring_more_than_is_wanted_are_counted(result: Result) -> None:
    data = load_gain(house_hours(result.hours, 1))
    assert data.days[0].load == pytest.approx(7.2)  # 300 W for 24 h, less than the 8 kWh brought in
    assert data.more_than_wanted == 365
    assert data.largest_gain == pytest.approx(np.max([day.gain for day in data.days]))
