"""What payback becomes over a range of fuel prices and first costs."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from simengine.economics import payback
from simengine.economics.answers import NO_FAN_PRICE, NO_HEATER, NO_PRICE, Ledger, put
from simengine.economics.cash_flow import cash_flows
from simengine.economics.fuel_blocks import main_fuel
from simengine.economics.measures import fuel_flows
from simengine.economics.payback import Answer
from simengine.economics.savings import FuelSaved, fan_running_cost, fuel_saved
from simengine.economics.spec import FuelUse, HeatSaved, Money

PRICE_STEPS: Final = (0.5, 0.75, 1.0, 1.5, 2.0)
"""Fuel prices of a result's own table, as shares of the price given [-]."""

COST_STEPS: Final = (0.5, 0.75, 1.0, 1.5, 2.0)
"""First costs of that table, as shares of the one given [-]."""

NEVER: Final = "null: not paid back within the years counted, or nothing saved in the first year"


def payback_table(
    ledger_inputs: tuple[HeatSaved, Sequence[FuelUse], FuelUse, Money],
    prices: Sequence[float],
    first_costs: Sequence[float],
) -> Ledger:
    """Return simple and discounted payback over ranges of fuel price and first cost.

    Parameters
    ----------
    ledger_inputs : the four arguments of `money_ledger`
    prices : prices of the main fuel [currency/unit], array [price]
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
    fan_cost, _ = fan_running_cost(heat, electricity)
    return _table([fuel_saved(heat, use) for use in uses], fan_cost, money, prices, first_costs)


def put_payback_table(
    economics: Ledger, saved: Sequence[FuelSaved], fan_cost: float | None, money: Money
) -> None:
    """Write a result's own table beside its payback: around its price and its first cost.

    Parameters
    ----------
    economics : the block, which is changed
    saved : what each heater saves
    fan_cost : of the fan's electricity [currency/a]; None: not known
    money : first cost, lives and rates
    """
    price = saved[main_fuel(saved)].price_per_unit if saved else None
    cost = money.first_cost
    if price is None or cost is None or fan_cost is None:
        missing = "no first cost is given" if cost is None else NO_FAN_PRICE
        reason = NO_HEATER if not saved else NO_PRICE if price is None else missing
        put(economics, "payback_table", Answer(None, reason))
        return
    prices = [price * step for step in PRICE_STEPS] if price > 0.0 else [price]
    costs = [cost * step for step in COST_STEPS] if cost > 0.0 else [cost]
    economics["payback_table"] = _table(saved, fan_cost, money, prices, costs)


def _table(
    saved: Sequence[FuelSaved],
    fan_cost: float | None,
    money: Money,
    prices: Sequence[float],
    first_costs: Sequence[float],
) -> Ledger:
    main = saved[main_fuel(saved)]
    table: Ledger = {"price": list(prices), "first_cost": list(first_costs)}
    table["price_unit"] = f"{main.use.currency}/{main.unit}"
    rows = []
    for price in prices:
        priced = [replace(one, money=one.amount * price) if one is main else one for one in saved]
        known = fan_cost is not None and all(one.money is not None for one in priced)
        rows.append(
            [_cell(priced, fan_cost or 0.0, money, cost) if known else (None, None) for cost in first_costs]
        )
    for place, name in enumerate(("simple_payback_a", "discounted_payback_a")):
        table[name] = [[cell[place] for cell in row] for row in rows]
    table["meaning_of_null"] = NEVER
    return table


def _cell(
    saved: Sequence[FuelSaved], fan_cost: float, money: Money, cost: float
) -> tuple[float | None, float | None]:
    """Simple and discounted payback [a] of one price and one first cost."""
    pairs = fuel_flows(saved, money)
    net = sum(sum_ for sum_, _ in pairs) - fan_cost
    flows = cash_flows(money, cost, pairs, fan_cost)
    simple = payback.simple_payback(flows.investment, net).value
    if flows.investment <= 0.0 and net <= 0.0:
        return simple, None
    return simple, payback.discounted_payback(flows.net, flows.rate).lasting.value
