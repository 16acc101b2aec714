"""The steps of an interval: they fill it, grow evenly, and halve everywhere when there are twice as many."""

import pytest

from simengine.engine.grading import LAST_OVER_FIRST, graded


def lengths(steps: int, seconds: float = 3600.0) -> list[float]:
    first, rise = graded(seconds, float(steps))
    return [first + rise * number for number in range(steps)]


@pytest.mark.parametrize("steps", [1, 2, 3, 6, 7, 15, 60, 3600])
def test_the_steps_fill_the_interval_and_grow(steps: int) -> None:
    found = lengths(steps)
    assert sum(found) == pytest.approx(3600.0, rel=1e-12)
    assert found == sorted(found)
    assert found[-1] <= LAST_OVER_FIRST * found[0] * (1.0 + 1e-12)


def test_the_usual_steps_of_an_hour_are_round_numbers() -> None:
    assert lengths(6) == [100.0, 300.0, 500.0, 700.0, 900.0, 1100.0]
    assert lengths(2) == [900.0, 2700.0]
    assert lengths(1) == [3600.0]


@pytest.mark.parametrize("steps", [6, 15, 60])
def test_twice_as_many_steps_are_half_as_long_at_both_ends(steps: int) -> None:
    once, twice = lengths(steps), lengths(2 * steps)
    assert twice[0] == pytest.approx(0.5 * once[0])
    assert twice[-1] == pytest.approx(0.5 * once[-1])
