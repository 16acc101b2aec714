"""The map of the hours: means by month and hour, and the sun that falls when heat is wanted."""

from types import ModuleType

import numpy as np
import pytest

from simengine.report.hour_map import hour_map, sun_when_wanted
from simengine.report.house_hours import house_hours
from simengine.results import Result


def test_the_invented_year_is_the_same_in_every_month(result: Result) -> None:
    house = house_hours(result.hours, 0)
    drawn = hour_map(house, house.sun)
    assert drawn.strongest == 2000.0  # W, as invented: eight sunny hours from nine o'clock on, local time
    assert {(field.month, field.hour) for field in drawn.fields} == {
        (month, hour) for month in range(12) for hour in range(9, 17)
    }
    assert {field.strength for field in drawn.fields} == {1.0}


def test_what_is_below_zero_is_not_drawn(result: Result) -> None:
    house = house_hours(result.hours, 0)
    assert hour_map(house, -house.sun).fields == ()


def test_sun_counts_as_wanted_only_while_the_heater_would_run(made_up: ModuleType, result: Result) -> None:
    house = house_hours(result.hours, 0)  # it wants heat in every hour
    assert sun_when_wanted(house) == pytest.approx(1.0)
    idle = {**made_up.record().hourly, "heating_without": np.zeros((2, made_up.HOURS))}
    never = house_hours(Result.of(made_up.record(hourly=idle)).hours, 0)
    assert sun_when_wanted(never) == 0.0
