"""The march beside plain numpy: the same hours from other code. Standing: independent coding, same scheme."""

import pytest

from tests.benchmarks.rows_numpy import DAYS, FINE, HEAT, WARMTH, apart, by_numpy, by_the_march, members_of


@pytest.mark.parametrize("day", DAYS)
def test_both_give_the_same_hours(day: int) -> None:
    drive, every = members_of(2, FINE)
    theirs = by_numpy(drive, every, 24 * day)
    assert theirs[0].sum(axis=0).min() > 1.0
    heat, room = apart(by_the_march(drive, every, 24 * day), theirs)
    assert heat < HEAT
    assert room < WARMTH
