"""Payback and its relatives, each as a number or the reason why there is none."""

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from simengine.economics.spec import Array


class Answer(NamedTuple):
    """A number, or None and the reason in words."""

    value: float | None
    reason: str = ""


def _finite(value: float) -> Answer:
    if math.isfinite(value):
        return Answer(value)
    return Answer(None, "the saving is so small that the quotient is no number")


class DiscountedPayback(NamedTuple):
    """The lasting crossing, and the first one where the sum dips below zero again later."""

    lasting: Answer
    first: float | None  # [a]


def simple_payback(first_cost: float, net_saving: float) -> Answer:
    """Return first cost over first-year net saving.

    Parameters
    ----------
    first_cost : money laid out, after grants [currency]
    net_saving : money saved in the first year, after the fan's electricity [currency/a]

    Returns
    -------
    payback [a], or None and the reason

    Source: definition.

    >>> round(simple_payback(600.0, 113.5).value, 2)
    5.29
    """
    if net_saving <= 0.0:
        kind = "nothing" if net_saving == 0.0 else "less than nothing"
        return Answer(None, f"the first year saves {kind}, so no first cost comes back")
    return _finite(max(first_cost, 0.0) / net_saving)


def discounted_payback(flows: Sequence[float] | Array, rate: float) -> DiscountedPayback:
    """Return when the discounted sum turns non-negative for good within the study.

    Parameters
    ----------
    flows : cash flows at the end of years 0, 1, ... [currency], array [year + 1]
    rate : discount rate [1/a]

    Returns
    -------
    the crossing after which the sum stays non-negative, linear within the year [a], or None and
    the reason; and the first crossing [a] where it is another one

    Source: definition, linear within the year. The closed form -ln(1 - C d/S)/ln(1 + d) is another
    definition and gives less.

    >>> round(discounted_payback([-25000.0] + 5 * [15000.0], 0.18).lasting.value, 3)
    2.166
    """
    values = np.asarray(flows, dtype=float)
    years = len(values) - 1
    total = np.cumsum(values / (1.0 + rate) ** np.arange(years + 1))
    below = np.flatnonzero(total < -1e-9 * np.abs(values).max(initial=0.0))
    if below.size == 0:
        return DiscountedPayback(Answer(0.0), None)
    places = set(below.tolist())
    rises = [k for k in below.tolist() if k < years and k + 1 not in places]
    first = _crossing(total, rises[0]) if rises else None
    if below[-1] == years:
        reason = f"the discounted savings stay below the costs at the end of the study, {years} years"
        return DiscountedPayback(Answer(None, reason), first)
    lasting = _crossing(total, int(below[-1]))
    return DiscountedPayback(Answer(lasting), first if first != lasting else None)


def _crossing(total: Array, year: int) -> float:
    return year + float(-total[year] / (total[year + 1] - total[year]))


def net_present_value(flows: Sequence[float] | Array, rate: float) -> float:
    """Return the sum of all cash flows at the base date.

    Parameters
    ----------
    flows : cash flows at the end of years 0, 1, ... [currency], array [year + 1]
    rate : discount rate [1/a]

    Returns
    -------
    net present value [currency]

    Source: ASTM E917 (net savings), definition.

    >>> round(net_present_value([-600.0] + 20 * [103.477], 0.03))
    939
    """
    import numpy_financial as npf

    return float(npf.npv(rate, np.asarray(flows, dtype=float)))


def internal_rate_of_return(flows: Sequence[float] | Array) -> Answer:
    """Return the discount rate at which the net present value is zero.

    Parameters
    ----------
    flows : cash flows at the end of years 0, 1, ... [currency], array [year + 1]

    Returns
    -------
    rate [1/a], or None and the reason: nothing invested, never repaid, or more than one rate

    Source: definition.

    >>> round(internal_rate_of_return([-100.0, 60.0, 60.0]).value, 4)
    0.1307
    """
    values = np.asarray(flows, dtype=float)
    if values[0] >= 0.0:
        return Answer(None, "nothing is laid out at the start, so there is no rate of return")
    if not (values > 0.0).any():
        return Answer(None, "no year brings money back, so there is no rate of return")
    signs = np.sign(_discounts(values.size) @ values)
    changes = int((np.diff(signs[signs != 0.0]) != 0.0).sum())
    if changes > 1:
        return Answer(None, "the cash flows change sign so often that more than one rate fits")
    import numpy_financial as npf

    rate = float(npf.irr(values))
    if changes == 0 or not math.isfinite(rate):
        return Answer(None, "no rate between -95 % and 1900 % a year makes the present value zero")
    return Answer(rate)


@lru_cache
def _discounts(years: int) -> Array:
    """Return the factors of so many years [rate, year] at rates from -95 % to 1900 % a year [-]."""
    factors = np.exp(-np.linspace(math.log(0.05), math.log(20.0), 400))  # 1 / (1 + rate)
    found: Array = np.power(factors[:, None], np.arange(years))
    found.flags.writeable = False
    return found


def saving_to_investment(savings: float, investment: float) -> Answer:
    """Return present savings in running cost over present investment-related cost.

    Parameters
    ----------
    savings : present value of energy saved less upkeep [currency]
    investment : present value of first cost and replacements, less grant and residual value [currency]

    Returns
    -------
    ratio [-], or None and the reason

    Source: NIST Handbook 135 (savings-to-investment ratio), definition.

    >>> round(saving_to_investment(11557.2, 10000.0).value, 4)
    1.1557
    """
    if investment <= 0.0:
        return Answer(None, "nothing is invested, so there is no ratio")
    return _finite(savings / investment)


def levelised_heat_cost(cost: float, offset_kwh: float, series: float) -> Answer:
    """Return what a kWh of offset heat costs over the study.

    Parameters
    ----------
    cost : present value of first cost, replacements, upkeep and fan electricity [currency]
    offset_kwh : heat no longer needed, each year [kWh/a]
    series : uniform present value factor of the study [a]

    Returns
    -------
    cost [currency/kWh], or None and the reason

    Source: ASTM E917 and NIST Handbook 135, life-cycle cost times capital recovery over yearly heat.

    >>> round(levelised_heat_cost(600.0, 1050.0, 14.877).value, 4)
    0.0384
    """
    if offset_kwh <= 0.0:
        return Answer(None, "no heat is offset, so there is nothing to spread the cost over")
    return _finite(cost / (offset_kwh * series))


def break_even_price(cost: float, amount: float, series: float) -> Answer:
    """Return the base-date fuel price at which the net present value is zero.

    Parameters
    ----------
    cost : present value of all that the fuel saved has to pay for [currency]
    amount : fuel saved each year [unit/a]
    series : present value factor of the fuel money, with its escalation [a]

    Returns
    -------
    price [currency/unit], or None and the reason; the fan's electricity price is held

    Source: definition.

    >>> round(break_even_price(600.0, 32.34, 14.877).value, 2)
    1.25
    """
    if amount <= 0.0:
        return Answer(None, "no fuel is saved, so no price makes it pay")
    if cost < 0.0:
        return Answer(None, "grants and other savings already cover the costs: it pays at any fuel price")
    return _finite(cost / (amount * series))
