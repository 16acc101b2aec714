"""One call from a year's saved heat to the fuel and economics parts of a result."""

from collections.abc import Sequence
from typing import Any

from simengine.economics import payback
from simengine.economics.cash_flow import CashFlows, cash_flows, fuel_series, heat_series
from simengine.economics.payback import Answer
from simengine.economics.savings import FuelSaved, fan_running_cost, fuel_saved
from simengine.economics.spec import FuelUse, HeatSaved, HourlyHeat, Line, Money
from simengine.errors import InputError

__all__ = ["FuelUse", "HeatSaved", "HourlyHeat", "Line", "Money", "money_ledger"]

Ledger = dict[str, Any]

_NO_HEATER = "no heater with its fuel is given"
_NO_FAN_PRICE = "no price is given for the fan's electricity"
_PRICED = ("simple_payback_a", "discounted_payback_a", "npv", "saving_to_investment", "irr")


def money_ledger(
    heat: HeatSaved, uses: Sequence[FuelUse], electricity: FuelUse | None = None, money: Money | None = None
) -> Ledger:
    """Return what a year's saved heat is worth.

    Parameters
    ----------
    heat : offset heat and fan electricity of the year [kWh]
    uses : the heaters whose fuel is saved; their shares sum to 1; none where they are not known
    electricity : price of the fan's electricity, a fuel use with fuel "electricity"
    money : first cost, lives and rates; None: the defaults, with no first cost

    Returns
    -------
    dict with "fuel", "economics" and "co2_saved_kg"; a number that cannot be had is None, with the
    reason beside it under `<name>_reason`; never NaN or infinity

    Raises
    ------
    InputError
        Unknown fuel or unit, several currencies, or shares that do not sum to 1.

    Source: ASTM E917 and NIST Handbook 135 for the measures.

    >>> oil = FuelUse("heating_oil", 0.80, price=3.63, price_date="2013-08-22")
    >>> ledger = money_ledger(HeatSaved(1050.0, 32.5), [oil], FuelUse("electricity", 1.0, 0.12), Money(600.0))
    >>> round(ledger["economics"]["simple_payback_a"], 2)
    5.29
    """
    electricity = electricity or FuelUse("electricity", 1.0)
    money = money or Money()
    currency = _currency(uses, electricity, money)
    saved = [fuel_saved(heat, use) for use in uses]
    fan_cost, fan_co2 = fan_running_cost(heat, electricity)
    ledger: Ledger = {
        "fuel": _fuel_part(saved, fan_cost, currency),
        "economics": _economics_part(heat, saved, fan_cost, money),
    }
    _put(ledger, "co2_saved_kg", _co2(saved, fan_co2))
    if any(part.fuel.biogenic for part in saved):
        ledger["co2_saved_kg_note"] = (
            "counts the CO2 at the chimney; wood takes it back only where it regrows"
        )
    return ledger


def _currency(uses: Sequence[FuelUse], electricity: FuelUse, money: Money) -> str:
    problems = []
    total = sum(use.share for use in uses)
    if uses and abs(total - 1.0) > 1e-6:
        problems.append(f"fuel uses: the shares sum to {total:g}; accepted: 1")
    everything: tuple[FuelUse | Money, ...] = (*uses, electricity, money)
    currencies = dict.fromkeys(one.currency for one in everything if one.priced)
    if len(currencies) > 1:
        problems.append(f"money: several currencies ({', '.join(currencies)}); accepted: one for all")
    if electricity.fuel != "electricity":
        problems.append(f"fan electricity: fuel '{electricity.fuel:.80}'; accepted: electricity")
    if problems:
        raise InputError(*problems)
    return next(iter(currencies), everything[0].currency)


def _fuel_part(saved: Sequence[FuelSaved], fan_cost: float | None, currency: str) -> Ledger:
    part = _one_fuel(saved[0]) if len(saved) == 1 else _several_fuels(saved)
    money, no_price = _fuel_money(saved)
    _put(part, "money_saved", Answer(money, no_price))
    _put(part, "fan_cost", Answer(fan_cost, _NO_FAN_PRICE))
    net = None if money is None or fan_cost is None else money - fan_cost
    _put(part, "net_saving", Answer(net, no_price if money is None else _NO_FAN_PRICE))
    part["currency"] = currency
    return part


def _fuel_money(saved: Sequence[FuelSaved]) -> Answer:
    if not saved:
        return Answer(None, _NO_HEATER)
    return Answer(_total([one.money for one in saved]), "no fuel price is given")


def _one_fuel(saved: FuelSaved) -> Ledger:
    use = saved.use
    part: Ledger = {
        "name": saved.fuel.name,
        "saved": saved.amount,
        "unit": saved.unit,
        "basis": use.basis,
        "efficiency": saved.heat_kwh / saved.fuel_kwh if saved.fuel_kwh else use.efficiency,
        "fuel_kwh": saved.fuel_kwh,
    }
    _put(part, "price", Answer(saved.price_per_unit, "no fuel price is given"))
    part["price_unit"] = f"{use.currency}/{saved.unit}"
    part["price_place"] = use.price_place
    part["price_invented"] = use.invented
    part["price_date"] = use.price_date or None
    if not use.price_date:
        part["price_date_reason"] = "no date is given with the price"
    return part


def _several_fuels(saved: Sequence[FuelSaved]) -> Ledger:
    part: Ledger = {}
    _put(part, "name", Answer(None, _NO_HEATER))
    if saved:
        part = {"name": " + ".join(one.fuel.name for one in saved)}
    for name in ("saved", "unit", "basis", "price", "price_unit", "price_date"):
        _put(part, name, Answer(None, "several fuels: see parts" if saved else _NO_HEATER))
    part["parts"] = [{**_one_fuel(one), "share": one.use.share, "money_saved": one.money} for one in saved]
    return part


def _economics_part(
    heat: HeatSaved, saved: Sequence[FuelSaved], fan_cost: float | None, money: Money
) -> Ledger:
    part: Ledger = {"first_cost": money.first_cost, "notes": _notes(saved, money)}
    part.update(rate_basis=money.basis, discount_rate=money.discount_rate, years=money.years)
    fuel_money, no_price = _fuel_money(saved)
    missing = _missing(money, fan_cost)
    if missing or money.first_cost is None or fan_cost is None:
        for name in ("first_cost", *_PRICED, "levelised_heat_cost", "break_even_price"):
            _put(part, name, Answer(money.first_cost if name == "first_cost" else None, missing))
        return part
    flows = cash_flows(money, money.first_cost, fuel_money or 0.0, fan_cost)
    if fuel_money is None:
        for name in _PRICED:
            _put(part, name, Answer(None, no_price))
    else:
        _put_measures(part, flows, fuel_money - fan_cost, money)
    series = heat_series(money)
    _put(
        part,
        "levelised_heat_cost",
        payback.levelised_heat_cost(flows.present_cost, heat.offset_kwh, series),
    )
    _put(part, "break_even_price", _break_even(flows, saved, money))
    return part


def _put_measures(part: Ledger, flows: CashFlows, net_saving: float, money: Money) -> None:
    _put(part, "simple_payback_a", payback.simple_payback(flows.investment, net_saving))
    if money.upkeep > 0.0:
        after = payback.simple_payback(flows.investment, net_saving - money.upkeep)
        _put(part, "simple_payback_after_upkeep_a", after)
    crossing = payback.discounted_payback(flows.net, flows.rate)
    lasting = crossing.lasting
    if flows.investment <= 0.0 and net_saving <= 0.0:
        lasting = Answer(None, "nothing is laid out and nothing is saved, so there is nothing to pay back")
    _put(part, "discounted_payback_a", lasting)
    if crossing.first is not None:
        part["discounted_payback_first_a"] = crossing.first
    part["npv"] = payback.net_present_value(flows.net, flows.rate)
    ratio = payback.saving_to_investment(flows.present_running, flows.present_investment)
    _put(part, "saving_to_investment", ratio)
    _put(part, "irr", payback.internal_rate_of_return(flows.net))
    part["cash_flows"] = flows.net.tolist()


def _break_even(flows: CashFlows, saved: Sequence[FuelSaved], money: Money) -> Answer:
    if not saved:
        return Answer(None, _NO_HEATER)
    main, others = saved[0], saved[1:]
    held = _total([one.money for one in others])
    if held is None:
        return Answer(None, "no price is given for the other fuels")
    series = fuel_series(money)
    return payback.break_even_price(flows.present_cost - held * series, main.amount, series)


def _missing(money: Money, fan_cost: float | None) -> str:
    if money.first_cost is None:
        return "no first cost is given"
    return _NO_FAN_PRICE if fan_cost is None else ""


def _notes(saved: Sequence[FuelSaved], money: Money) -> list[str]:
    notes = []
    if money.first_cost == 0.0:
        notes.append("the parts cost nothing; work, tools and permits are not counted")
    if money.life < money.study_period:
        notes.append(f"savings end with the collector's life, {money.life:g} a, before the study does")
    if money.life > money.study_period:
        notes.append("the collector outlives the study; what it is still worth is only the residual value")
    if any(one.use.invented for one in saved):
        notes.append("the fuel price is invented for an example")
    return notes


def _co2(saved: Sequence[FuelSaved], fan_co2: float | None) -> Answer:
    if not saved:
        return Answer(None, _NO_HEATER)
    total = _total([one.co2_kg for one in saved])
    if total is None or fan_co2 is None:
        return Answer(None, "no emission factor is known for one of the fuels: give your own")
    return Answer(total - fan_co2)


def _total(values: Sequence[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return sum(known, 0.0) if len(known) == len(values) else None


def _put(target: Ledger, name: str, answer: Answer) -> None:
    target[name] = answer.value
    if answer.value is None:
        target[f"{name}_reason"] = answer.reason
