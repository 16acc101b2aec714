"""What payback becomes over a range of fuel prices and first costs."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from simengine.economics.money import money_ledger
from simengine.economics.spec import FuelUse, HeatSaved, Money

Ledger = dict[str, Any]


def payback_table(
    ledger_inputs: tuple[HeatSaved, Sequence[FuelUse], FuelUse, Money],
    prices: Sequence[float],
    first_costs: Sequence[float],
) -> Ledger:
    """Return simple and discounted payback over ranges of fuel price and first cost.

    Parameters
    ----------
    ledger_inputs : the four arguments of `money_ledger`
    prices : prices of the first fuel [currency/unit], array [price]
    first_costs : first costs [currency], array [cost]

    Returns
    -------
    dict with the two axes, and tables [price][cost] of years [a] or None where it never pays back

    Raises
    ------
    InputError
        As `money_ledger`.

    >>> case = (HeatSaved(1050.0, 0.0), [FuelUse("heating_oil", 0.8)], FuelUse("electricity", 1.0), Money())
    >>> round(payback_table(case, [3.63], [600.0])["simple_payback_a"][0][0], 2)
    5.11
    """
    heat, uses, electricity, money = ledger_inputs
    tables: Ledger = {"price": list(prices), "first_cost": list(first_costs)}
    names = ("simple_payback_a", "discounted_payback_a")
    rows: list[list[Ledger]] = []
    for price in prices:
        priced = [replace(uses[0], price=price, price_by_hour=None), *uses[1:]]
        cases = [replace(money, first_cost=cost) for cost in first_costs]
        rows.append([money_ledger(heat, priced, electricity, case)["economics"] for case in cases])
    for name in names:
        tables[name] = [[economics[name] for economics in row] for row in rows]
    return tables
