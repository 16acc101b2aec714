"""Whole years, each interval once: leap days, several years, holes, doubles, turned years."""

import numpy as np
import pytest

from simengine.errors import WeatherError
from simengine.weather.calendar import centred_clock, interval_starts, place, turn_to_site
from simengine.weather.record import Record


def record(starts: np.ndarray, *, typical: bool = False, turn: int = 0, step: int = 3600) -> Record:
    return Record(
        name="made",
        station="",
        format="made",
        latitude=0.0,
        longitude=0.0,
        elevation=0.0,
        utc_offset=0.0,
        wind_height=10.0,
        columns={},
        starts=starts.astype("datetime64[s]"),
        step=step,
        first_line=1,
        typical=typical,
        turn=turn,
    )


def hours(first: str, last: str) -> np.ndarray:
    return np.arange(first, last, dtype="datetime64[h]")


def test_real_years_keep_their_own_leap_days_too() -> None:
    placed = place(record(hours("2019-01-01", "2022-01-01")))
    assert placed.index[0].year == 2019
    assert placed.index.size == 24 * (365 + 366 + 365)
    assert (placed.rows == np.arange(placed.index.size)).all()


def test_months_of_different_years_go_on_one_year() -> None:
    months = [
        hours(f"{1980 + month % 7}-{month:02d}-01", _next(1980 + month % 7, month)) for month in range(1, 13)
    ]
    starts = np.concatenate(months)
    placed = place(record(starts, typical=True))
    assert placed.index.size == 8760
    assert placed.index[0].year == placed.index[-1].year == 2001


def _next(year: int, month: int) -> str:
    return str(np.datetime64(f"{year}-{month:02d}", "M") + 1)


def test_a_typical_year_drops_29_february_and_says_so() -> None:
    placed = place(record(hours("2020-01-01", "2021-01-01"), typical=True))
    assert placed.index.size == 8760
    assert any("29 February" in finding.message for finding in placed.findings)
    assert placed.rows[59 * 24] == 60 * 24


@pytest.mark.parametrize(
    ("starts", "reason"),
    [
        (
            np.delete(hours("2019-01-01", "2020-01-01"), slice(100, 130)),
            "missing from 2019-01-05 04:00 to 2019-01-06 10:00",
        ),
        (
            np.insert(hours("2019-01-01", "2020-01-01"), 50, np.datetime64("2019-01-03T01")),
            "2019-01-03 01:00 is there twice",
        ),
        (hours("2019-01-01", "2019-12-31"), "end before 2019-12-31 00:00"),
        (hours("2019-01-02", "2020-01-01"), "missing from 2019-01-01 00:00"),
        (hours("2019-01-01", "2019-01-03"), "48 rows"),
        (hours("2019-01-01", "2020-01-01")[::-1], "backwards"),
    ],
)
def test_holes_doubles_and_parts_are_named_by_date(starts: np.ndarray, reason: str) -> None:
    with pytest.raises(WeatherError, match=reason):
        place(record(starts))


def test_turning_a_year_rolls_rows_and_clock_together() -> None:
    placed = place(record(hours("2019-01-01", "2020-01-01"), turn=-7))
    assert placed.utc_offset == -7.0
    assert placed.rows[0] == 7
    assert placed.rows[-1] == 6


def test_dates_that_do_not_exist_are_found() -> None:
    day = np.array([28, 29, 30, 31, 0])
    twos = np.full(5, 2)
    assert interval_starts(np.full(5, 2001), twos, day, 0 * day)[1].tolist() == [
        True,
        False,
        False,
        False,
        False,
    ]
    assert interval_starts(np.full(5, 2004), twos, day, 0 * day)[1].tolist() == [
        True,
        True,
        False,
        False,
        False,
    ]


@pytest.mark.parametrize(
    ("label", "step", "offset", "start", "clock"),
    [
        ("2001-01-01T00:00", 3600, 0.1761, "2001-01-01T00:00", 0.3239),
        ("2001-01-01T00:00", 3600, -0.3, "2001-01-01T00:00", 0.8),
        ("2001-01-01T00:30", 3600, 0.0, "2001-01-01T00:00", 0.0),
        ("2001-01-01T00:00", 1800, 0.0, "2001-01-01T00:00", 0.25),
        ("2001-01-01T00:15", 1800, 0.0, "2001-01-01T00:00", 0.0),
        ("2001-01-01T00:00", 900, 0.0, "2001-01-01T00:00", 0.125),
    ],
)
def test_instants_are_the_middle_of_their_interval(
    label: str, step: int, offset: float, start: str, clock: float
) -> None:
    """Arithmetic: middle = start + step / 2 on the new clock is the instant + offset on UTC."""
    starts, found = centred_clock(np.array([label], dtype="datetime64[s]"), step, offset, 0.0)
    assert starts[0] == np.datetime64(start)
    assert found == pytest.approx(clock, abs=1e-6)


@pytest.mark.parametrize(("longitude", "turn"), [(0.0, 0), (8.0, 1), (-105.0, -7), (77.2, 5), (179.9, -12)])
def test_the_turn_goes_to_the_nearest_mean_sun_time(longitude: float, turn: int) -> None:
    assert turn_to_site(longitude, 0.0) in (turn, turn + 24)
