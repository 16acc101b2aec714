"""Random builds of every arrangement and control against scipy's solver of the same equations.

Standing: independent solution (scipy LSODA, rtol 1e-7, switches located; equations of `compiled_equations`),
built-in typical year of Greensboro. What is asked: delivered heat within 0.3 % for 95 of 100 members, within
1 % for every one.
"""

import numpy as np
import pytest

from tests.reference.drawn_members import drawn, kind_of
from tests.reference.week_by_week import compare

MEMBERS = 200
FEW = (10, 61, 123, 164)  # a fiftieth: four arrangements, four controls
MARCH_WEEK = (11,)


@pytest.mark.parametrize("number", FEW)
def test_a_week_of_a_random_member_within_0_3_percent(number: int) -> None:
    found = compare(drawn(number), number % 2, MARCH_WEEK)
    assert found.solved > 1.0
    assert abs(found.error) < 0.003
    assert found.marched_hours == pytest.approx(found.solved_hours, rel=0.005)
    assert found.marched_starts == pytest.approx(found.solved_starts, rel=0.02, abs=1.0)


@pytest.mark.slow
def test_200_random_members_within_0_3_percent_at_the_95th_percentile() -> None:
    assert len({kind_of(number) for number in range(MEMBERS)}) == 6 * 7  # all of them come up
    errors = np.array([compare(drawn(number), number % 2).error for number in range(MEMBERS)])
    sizes = np.abs(errors)
    worst = int(np.argmax(sizes))
    told = f"member {worst}, {kind_of(worst)}: {100.0 * errors[worst]:+.2f} %"
    print(f"\nmedian {100.0 * np.median(sizes):.3f} %, 95th {100.0 * np.percentile(sizes, 95):.3f} %, {told}")
    assert np.percentile(sizes, 95) < 0.003
    assert sizes.max() < 0.01, told
