"""The yearly cash flows of a collector, kept apart by their kind."""

from dataclasses import dataclass

import numpy as np

from simengine.economics.present_value import present_value_of_one, present_value_of_series
from simengine.economics.spec import Array, Money


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
        return float(sum(sum_ * present_value_of_one(self.rate, t + 1) for t, sum_ in enumerate(yearly)))


def cash_flows(money: Money, first_cost: float, fuel_money: float, fan_money: float) -> CashFlows:
    """Return the cash flows of years 0 to n.

    Parameters
    ----------
    money : lives, rates and other costs
    first_cost : what the build costs [currency]
    fuel_money : fuel money saved in a year at base-date prices [currency/a]
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
    replaced = np.where((time % money.fan_life == 0) & (time < years), money.fan_cost, 0.0)
    for year, cost in money.replacements:
        replaced[year - 1 : year] += cost if year < years else 0.0
    return CashFlows(
        rate=money.discount_rate,
        investment=first_cost - money.grant,
        fuel=fuel_money * (1.0 + money.fuel_escalation) ** time,
        fan=fan_money * (1.0 + money.electricity_escalation) ** time,
        upkeep=money.upkeep * general,
        replacement=replaced * general,
        residual=np.where(time == years, money.residual_value, 0.0) * general,
    )


def fuel_series(money: Money) -> float:
    """Return the present value factor of the fuel money [a].

    Parameters
    ----------
    money : lives and rates

    Returns
    -------
    factor [a]

    Source: NIST Handbook 135 (modified uniform present value).

    >>> round(fuel_series(Money()), 3)
    14.877
    """
    return present_value_of_series(money.discount_rate, money.years, money.fuel_escalation)


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
