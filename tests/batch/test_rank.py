"""Percentiles and rank correlations: closed forms, and general-purpose libraries as oracles."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from simengine.batch.rank import percentile, rank_correlation, share_between

QUICK = settings(derandomize=True, deadline=None, max_examples=50)
NUMBERS = st.lists(st.floats(-1e6, 1e6), min_size=3, max_size=30)


@QUICK
@given(values=NUMBERS, share=st.floats(0.0, 1.0))
def test_percentiles_are_numpys_by_hazen(values: list[float], share: float) -> None:
    oracle = np.quantile(np.array(values), share, method="hazen")
    assert percentile(np.array(values), share) == pytest.approx(oracle, rel=1e-9, abs=1e-6)


def test_a_percentile_among_the_endless_is_endless_and_one_below_is_not() -> None:
    values = np.array([1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, math.inf, math.inf])
    assert percentile(values, 0.5) == 5.5  # mathematics
    assert percentile(values, 0.1) == 1.5
    assert percentile(values, 0.9) == math.inf


@QUICK
@given(values=st.lists(st.integers(-9, 9), min_size=4, max_size=30), seed=st.integers(0, 99))
def test_rank_correlation_is_scipys(values: list[int], seed: int) -> None:
    one = np.array(values, dtype=float)
    other = np.random.default_rng(seed).permutation(one)
    found = rank_correlation(one, other).value
    if np.unique(one).size < 2:
        assert found is None
    else:
        assert found == pytest.approx(float(stats.spearmanr(one, other).statistic), abs=1e-12)


@pytest.mark.parametrize(("bend", "sign"), [(np.exp, 1.0), (lambda x: -(x**3), -1.0)])
def test_any_bent_line_that_only_rises_or_falls_has_one(bend: object, sign: float) -> None:
    x = np.linspace(-2.0, 2.0, 11)
    assert rank_correlation(x, bend(x)).value == sign  # type: ignore[operator]


def test_what_never_changes_moves_nothing_and_says_so() -> None:
    assert rank_correlation(np.ones(5), np.arange(5.0)) == (None, "it is the same in all members")
    assert share_between(np.ones(5), np.arange(5.0)).value is None
    assert rank_correlation(np.arange(2.0), np.arange(2.0)).value is None


def test_groups_that_say_nothing_share_nothing() -> None:
    groups, values = np.array([0.0, 0.0, 1.0, 1.0]), np.array([1.0, 4.0, 2.0, 3.0])
    assert share_between(groups, values).value == 0.0  # mean ranks 2.5 and 2.5: mathematics
