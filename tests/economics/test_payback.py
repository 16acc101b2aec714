"""Payback and its relatives against worked examples, algebra and a finance library."""

import math

import numpy_financial as npf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simengine.economics import payback as pb
from simengine.economics.present_value import present_value_of_series


@pytest.mark.parametrize(
    ("cost", "saving", "expected", "relative"),
    [
        (30_000.0, 7_481.0, 4.01, 1e-3),  # definition
        (1_100.0, 110.0, 10.0, 1e-2),  # published furnace example
        (600.0, 113.477, 5.29, 3e-3),  # definition, invented project at dated prices
        (0.0, 50.0, 0.0, 0.0),  # parts that cost nothing
    ],
)
def test_simple_payback(cost, saving, expected, relative):
    assert pb.simple_payback(cost, saving).value == pytest.approx(expected, rel=relative)


@pytest.mark.parametrize(("saving", "said"), [(0.0, "saves nothing"), (-3.0, "less than nothing")])
def test_no_saving_has_no_payback_and_a_reason(saving, said):
    answer = pb.simple_payback(600.0, saving)
    assert answer.value is None
    assert said in answer.reason


def test_discounted_payback_linear_within_the_year():
    # Definition, linear within the year: $25,000, $15,000 a year, 18 %: 2.166 a, 0.1 %.
    crossing = pb.discounted_payback([-25_000.0] + [15_000.0] * 5, 0.18)
    assert crossing.lasting.value == pytest.approx(2.166, rel=1e-3)
    assert crossing.first is None
    # Algebra, 0.1 %: the closed form is another definition.
    closed = -math.log(1.0 - 25_000.0 * 0.18 / 15_000.0) / math.log(1.18)
    assert closed == pytest.approx(2.155, rel=1e-3)
    assert closed < crossing.lasting.value


def test_discounted_payback_that_dips_below_again():
    # Hand sum at 0 %: -100, 20, 80 after year 2; 20 - 50 = -30 after year 3, 30 after year 4.
    crossing = pb.discounted_payback([-100.0, 60.0, 60.0, -50.0, 60.0], 0.0)
    assert crossing.first == pytest.approx(1.0 + 40.0 / 60.0)
    assert crossing.lasting.value == pytest.approx(3.5)


def test_discounted_payback_lost_again_at_the_end():
    crossing = pb.discounted_payback([-100.0, 60.0, 60.0, -50.0], 0.0)
    assert crossing.lasting.value is None
    assert "below the costs at the end of the study, 3 years" in crossing.lasting.reason
    assert crossing.first == pytest.approx(1.0 + 40.0 / 60.0)


@pytest.mark.parametrize(
    ("flows", "expected"),
    [
        ([0.0, 10.0, 10.0], 0.0),
        ([-20.0, 10.0, 10.0], 2.0),
        ([-20.0, 10.0, 9.0], None),
        ([-20.0, -1.0, -1.0], None),
        ([0.0, 0.0, 0.0], 0.0),
        ([10.0, -30.0, 40.0], 1.5),
    ],
)
def test_discounted_payback_at_its_edges(flows, expected):
    assert pb.discounted_payback(flows, 0.0).lasting.value == expected


def test_net_present_value_of_the_invented_project():
    # Definition: 113.477 less 10 a year, 20 a, 3 %, first cost 600: 939, 0.5 %.
    assert pb.net_present_value([-600.0] + [103.477] * 20, 0.03) == pytest.approx(939.0, rel=5e-3)


@settings(derandomize=True, deadline=None, max_examples=50)
@given(st.floats(10.0, 1e5), st.lists(st.floats(1.0, 1e4), min_size=2, max_size=20))
def test_rate_of_return_makes_the_present_value_zero(cost, savings):
    flows = [-cost, *savings]
    answer = pb.internal_rate_of_return(flows)
    if answer.value is None:
        assert answer.reason
        return
    scale = pb.net_present_value([abs(flow) for flow in flows], answer.value)
    assert pb.net_present_value(flows, answer.value) == pytest.approx(0.0, abs=1e-6 * scale)
    assert answer.value == pytest.approx(npf.irr(flows))


def test_rate_of_return_by_hand():
    # Mathematics: 100 back as 110 in a year; 100 back as 60 and 60, the root of 100 x^2 - 60 x - 60.
    assert pb.internal_rate_of_return([-100.0, 110.0]).value == pytest.approx(0.10)
    root = (60.0 + math.sqrt(60.0**2 + 4.0 * 100.0 * 60.0)) / 200.0 - 1.0
    assert pb.internal_rate_of_return([-100.0, 60.0, 60.0]).value == pytest.approx(root)


def test_rate_of_return_with_a_replacement_is_still_one():
    flows = [-600.0] + [110.0] * 20
    flows[10] -= 300.0
    assert pb.internal_rate_of_return(flows).value == pytest.approx(npf.irr(flows))


@pytest.mark.parametrize(
    ("flows", "said"),
    [
        ([0.0, 10.0], "nothing is laid out"),
        ([-10.0, 0.0, 0.0], "no year brings money back"),
        ([-10.0, -1.0], "no year brings money back"),
        ([-100.0, 230.0, -132.0], "more than one rate"),  # 10 % and 20 %
        ([-100.0, 1e-9], "no rate between"),
    ],
)
def test_no_rate_of_return_has_a_reason(flows, said):
    answer = pb.internal_rate_of_return(flows)
    assert answer.value is None
    assert said in answer.reason


def test_saving_to_investment():
    # NIST Handbook 135 definition: cost 10,000, saving 2,500 a year, 6 a, 8 %: 1.1557, 0.1 %.
    savings = 2_500.0 * present_value_of_series(0.08, 6)
    assert pb.saving_to_investment(savings, 10_000.0).value == pytest.approx(1.1557, rel=1e-3)
    assert pb.saving_to_investment(savings, 0.0).value is None
    # Algebra: the ratio passes 1 where the present value passes 0.
    npv = pb.net_present_value([-10_000.0] + [2_500.0] * 6, 0.08)
    assert npv / 10_000.0 == pytest.approx(pb.saving_to_investment(savings, 10_000.0).value - 1.0)


@pytest.mark.parametrize(
    ("upkeep", "expected", "relative"),
    [
        # Levelised cost by capital recovery (published): $1.50/W, 22 % of full load, 8 %, 10 a.
        (0.00, 0.116, 1e-3),
        (0.04, 0.156, 2e-3),
    ],
)
def test_levelised_cost_of_a_published_example(upkeep, expected, relative):
    yearly, series = 8760.0 * 0.22, present_value_of_series(0.08, 10)
    cost = 1_500.0 + upkeep * yearly * series
    assert pb.levelised_heat_cost(cost, yearly, series).value == pytest.approx(expected, rel=relative)


@pytest.mark.parametrize("offset", [0.0, -5.0])
def test_no_heat_has_no_cost_per_heat(offset):
    assert pb.levelised_heat_cost(600.0, offset, 15.0).value is None


@pytest.mark.parametrize(
    ("cost", "amount", "said"), [(600.0, 0.0, "no fuel is saved"), (-1.0, 30.0, "at any fuel price")]
)
def test_no_break_even_price_has_a_reason(cost, amount, said):
    answer = pb.break_even_price(cost, amount, 15.0)
    assert answer.value is None
    assert said in answer.reason


@pytest.mark.parametrize(
    "answer",
    [
        pb.simple_payback(1e300, 1e-300),
        pb.levelised_heat_cost(1e300, 1e-300, 1.0),
        pb.break_even_price(1e300, 1e-300, 1.0),
        pb.saving_to_investment(1e300, 1e-300),
    ],
)
def test_never_infinity(answer):
    assert answer.value is None
    assert answer.reason
