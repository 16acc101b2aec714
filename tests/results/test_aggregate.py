"""Sums of interval means: every expected number is mathematics, done by hand."""

import numpy as np
import pytest

from simengine.results import aggregate


@pytest.mark.parametrize("step", [900.0, 3600.0])
def test_energy_is_the_mean_power_times_the_time(step: float) -> None:
    intervals = round(86_400 / step)
    assert aggregate.energy(np.full(intervals, 100.0), step) == pytest.approx(2.4, rel=1e-12)  # mathematics


def test_two_equal_years_give_the_year_of_one() -> None:
    one = np.full(8760, 100.0)
    two = np.concatenate([one, one])
    assert aggregate.energy(two, 3600.0) == pytest.approx(aggregate.energy(one, 3600.0), rel=1e-12)
    assert aggregate.hours(two / 100.0, 3600.0) == pytest.approx(8760.0, rel=1e-12)


def test_the_months_of_a_common_year_have_their_days() -> None:
    offset = -7.0
    start = np.datetime64("2001-01-01T07:00", "s")
    times = start + np.arange(8760) * np.timedelta64(3600, "s")
    days = aggregate.Months(aggregate.local_months(times, offset)).sums(np.full(8760, 1.0 / 24.0))
    assert days == pytest.approx([31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])  # calendar


def test_the_months_add_up_to_the_year() -> None:
    generator = np.random.default_rng(7)
    values = generator.random(8760)
    times = np.datetime64("2001-01-01", "s") + np.arange(8760) * np.timedelta64(3600, "s")
    months = aggregate.local_months(times, 0.0)
    assert aggregate.Months(months).sums(values).sum() == pytest.approx(values.sum(), rel=1e-12)


def test_a_month_without_data_is_zero() -> None:
    assert aggregate.Months(np.array([5, 5, 6])).sums(np.ones(3)).tolist() == [0] * 5 + [2, 1] + [0] * 5


def test_degree_days_take_the_mean_of_a_day_and_no_credit_from_a_warm_one() -> None:
    swing = np.tile([10.0] * 12 + [20.0] * 12, 1)  # mean 15, 3 below the base
    warm = np.full(24, 25.0)
    degree_days = aggregate.heating_degree_days(np.concatenate([swing, warm]), 3600.0)
    assert degree_days == pytest.approx(3.0, rel=1e-12)  # mathematics


def test_degree_days_leave_out_a_broken_last_day() -> None:
    assert aggregate.heating_degree_days(np.full(30, 8.0), 3600.0) == pytest.approx(10.0)


def test_degree_days_name_their_base() -> None:
    us_base = (65.0 - 32.0) / 1.8  # 65 degF
    found = aggregate.heating_degree_days(np.full(24, 0.0), 3600.0, base=us_base)
    assert found == pytest.approx(18.3333, abs=1e-3)  # mathematics
