"""The ordinary winter week: seven whole local days of the coldest months, with the middling sun."""

from types import ModuleType

import numpy as np

from simengine.report.house_hours import HouseHours, house_hours
from simengine.report.winter_week import winter_week
from simengine.results import Result


def changed(made_up: ModuleType, **hourly: np.ndarray) -> HouseHours:
    """Return the invented year's first house with some hours replaced."""
    return house_hours(Result.of(made_up.record(hourly={**made_up.record().hourly, **hourly})).hours, 0)


def test_it_lies_in_the_coldest_months_from_midnight_on(made_up: ModuleType) -> None:
    month = house_hours(Result.of(made_up.record()).hours, 0).month
    cold = np.where(np.isin(month, (5, 6, 7)), 263.15, 293.15)  # as far south: winter is in July
    week = winter_week(changed(made_up, ambient_temperature=cold))
    assert week is not None
    assert week.first_day.split()[0] in ("Jun", "Jul", "Aug")
    assert week.sun.size == 7 * 24 and len(week.days) == 7
    assert week.sun[:9].max() == 0.0 and week.sun[9] == 2000.0


def test_its_sums_are_those_of_seven_days(made_up: ModuleType) -> None:
    week = winter_week(changed(made_up))
    assert week is not None
    assert abs(week.fan_hours - 7 * 8) < 1e-9  # eight sunny hours a day
    assert abs(week.saved - 7 * 8 * 0.6) < 1e-9  # 2000 W less 1400 W


def test_the_middle_week_is_neither_the_brightest_nor_the_darkest(made_up: ModuleType) -> None:
    day = np.arange(made_up.HOURS) // 24
    rising = np.where(made_up.SUNNY, 1000.0 + day, 0.0)
    cold = np.where(day < 90, 263.15, 293.15)
    week = winter_week(changed(made_up, incident=np.stack([rising, rising]), ambient_temperature=cold))
    assert week is not None
    assert 1000.0 + 30.0 < week.sun.max() < 1000.0 + 65.0  # days 0 to 89: the middle one begins near day 41


def test_hours_of_less_than_a_week_have_none(made_up: ModuleType) -> None:
    house = house_hours(Result.of(made_up.record()).hours, 0)
    from dataclasses import fields, replace

    short = {
        field.name: getattr(house, field.name)[:100]
        for field in fields(house)
        if isinstance(getattr(house, field.name), np.ndarray)
    }
    assert winter_week(replace(house, **short)) is None
