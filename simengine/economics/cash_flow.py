"""The yearly cash flows of a collector, kept apart by their kind."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import mul

import numpy as np

from simengine.economics.present_value import present_value_of_one, present_value_of_series
from simengine.economics.spec import Array, FuelUse, Money


@dataclass(frozen=True, slots=True)
class CashFlows:
    """Money at the end of each year; costs are positive in their own columns, `net` is signed."""

    rate: float  # [1/a]
    investment: float  # [currency] first cost less grant, at year 0
    fuel: Array  # [currency] saved, array [year], years 1 to n
    fan: Array  # [currency] fan electricity
    upkeep: Array  # [currency]
    replacement: Array  # [currency]
    residual: Array  # [currency] received

    @property
    def net(self) -> Array:
        """Cash flow of years 0 to n [currency], array [year + 1]."""
        later = self.fuel - self.fan - self.upkeep - self.replacement + self.residual
        return np.concatenate(([-self.investment], later))

    @property
    def present_running(self) -> float:
        """Present value of energy saved less fan electricity and upkeep [currency]."""
        return self.present(self.fuel - self.fan - self.upkeep)

    @property
    def present_investment(self) -> float:
        """Present value of investment-related costs less the residual value [currency]."""
        return self.investment + self.present(self.replacement - self.residual)

    @property
    def present_cost(self) -> float:
        """Present value of everything but the fuel saved [currency]."""
        return self.present_investment + self.present(self.fan + self.upkeep)

    def present(self, yearly: Array) -> float:
        """Return the present value of a column [currency]."""
        return sum(map(mul, yearly.tolist(), _factors(self.rate, yearly.size)), 0.0)


@lru_cache
def _factors(rate: float, years: int) -> tuple[float, ...]:
    """Return the present value factors of years 1 to n [-]."""
    return tuple(present_value_of_one(rate, year) for year in range(1, years + 1))


def cash_flows(
    money: Money, first_cost: float, fuel_money: float | Sequence[tuple[float, float]], fan_money: float
) -> CashFlows:
    """Return the cash flows of years 0 to n.

    Parameters
    ----------
    money : lives, rates and other costs
    first_cost : what the build costs [currency]
    fuel_money : fuel money saved in a year at base-date prices [currency/a]; for several fuels pairs of
        that and the escalation of its price [1/a]
    fan_money : fan electricity in a year at base-date prices [currency/a]

    Returns
    -------
    cash flows; a sum of year t is that of the base date times (1 + escalation)^t

    Source: NIST Handbook 135, base-date prices and end-of-year flows (from memory).

    >>> flows = cash_flows(Money(study_period=2, life=2), 100.0, 60.0, 10.0)
    >>> flows.net.tolist()
    [-100.0, 50.0, 50.0]
    """
    years = money.years
    time = np.arange(1, years + 1, dtype=np.float64)
    general = (1.0 + money.inflation) ** time
    pairs = [(fuel_money, money.fuel_escalation)] if isinstance(fuel_money, float | int) else fuel_money
    replaced = np.where((time % money.fan_life == 0) & (time < years), money.fan_cost, 0.0)
    for year, cost in money.replacements:
        replaced[year - 1 : year] += cost if year < years else 0.0
    return CashFlows(
        rate=money.discount_rate,
        investment=first_cost - money.grant,
        fuel=np.sum([sum_ * (1.0 + rate) ** time for sum_, rate in pairs], axis=0) + 0.0 * time,
        fan=fan_money * (1.0 + money.electricity_escalation) ** time,
        upkeep=money.upkeep * general,
        replacement=replaced * general,
        residual=np.where(time == years, money.residual_value, 0.0) * general,
    )


def escalation_of(use: FuelUse, money: Money) -> float:
    """Return how a fuel's price rises: the heater's own rate, else the money's by kind of fuel.

    Parameters
    ----------
    use : the heater and its fuel
    money : rates

    Returns
    -------
    escalation [1/a]

    >>> escalation_of(FuelUse("electricity", 3.0), Money(fuel_escalation=0.03, electricity_escalation=0.01))
    0.01
    """
    if use.escalation is not None:
        return use.escalation
    return money.electricity_escalation if use.fuel == "electricity" else money.fuel_escalation


def fuel_series(money: Money, escalation: float | None = None) -> float:
    """Return the present value factor of the fuel money [a].

    Parameters
    ----------
    money : lives and rates
    escalation : of the fuel's price [1/a]; None: the money's own for fuel

    Returns
    -------
    factor [a]

    Source: NIST Handbook 135 (modified uniform present value).

    >>> round(fuel_series(Money()), 3)
    14.877
    """
    rate = money.fuel_escalation if escalation is None else escalation
    return present_value_of_series(money.discount_rate, money.years, rate)


def heat_series(money: Money) -> float:
    """Return the present value factor of heat that is the same each year [a].

    Parameters
    ----------
    money : lives and rates

    Returns
    -------
    factor [a]

    Source: NIST Handbook 135 (uniform present value).

    >>> round(heat_series(Money(discount_rate=0.04)), 2)
    13.59
    """
    return present_value_of_series(money.discount_rate, money.years)
