"""Dates as numbers, against the calendar of Python's own library."""

import datetime

import numpy as np
import pytest

from simengine.errors import InputError
from simengine.sun import day_number
from simengine.sun.calendar import day_of_year, month_of_year


@pytest.mark.parametrize("year", [1999, 2000, 2001])
def test_days_and_months_agree_with_the_standard_library(year: int) -> None:
    first = datetime.datetime(year, 1, 1)
    dates = [first + datetime.timedelta(hours=37 * step) for step in range(236)]
    times = np.array(dates, dtype="datetime64[us]")
    assert day_of_year(times).tolist() == [date.timetuple().tm_yday for date in dates]
    assert month_of_year(times).tolist() == [date.month for date in dates]


def test_day_number_of_every_month_end() -> None:
    for month in range(1, 13):
        date = datetime.date(2001, month, 28)
        assert day_number(month, 28) == date.timetuple().tm_yday


@pytest.mark.parametrize(("month", "day"), [(0, 1), (13, 1), (4, 31), (2, 30), (6, 0)])
def test_date_that_does_not_exist_is_refused(month: int, day: int) -> None:
    with pytest.raises(InputError, match=f"no day {day} in month {month}"):
        day_number(month, day)
