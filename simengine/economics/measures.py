"""Payback and its relatives of one case: what was laid out, what comes back, and why a number is missing."""

from collections.abc import Sequence
from dataclasses import asdict

from simengine.economics import payback
from simengine.economics.answers import NO_FAN_PRICE, NO_HEATER, Ledger, put, total
from simengine.economics.cash_flow import CashFlows, cash_flows, escalation_of, fuel_series, heat_series
from simengine.economics.fuel_blocks import fuel_money, main_fuel
from simengine.economics.payback import Answer
from simengine.economics.savings import FuelSaved
from simengine.economics.spec import HeatSaved, Money

PRICED = ("simple_payback_a", "discounted_payback_a", "npv", "saving_to_investment", "irr")
"""Measures that need a fuel price."""


def economics_part(
    heat: HeatSaved, saved: Sequence[FuelSaved], fan_cost: float | None, money: Money
) -> Ledger:
    """Return the ledger's block on the investment.

    Parameters
    ----------
    heat : the year's offset heat
    saved : what each heater saves
    fan_cost : of the fan's electricity [currency/a]; None: not known
    money : first cost, lives and rates

    Returns
    -------
    dict; a number that cannot be had is None with its reason beside it
    """
    part: Ledger = {"first_cost": money.first_cost, "notes": _notes(saved, money)}
    part.update(rate_basis=money.basis, discount_rate=money.discount_rate, years=money.years)
    part.update(fuel_escalation=money.fuel_escalation, inflation=money.inflation, grant=money.grant)
    if money.parts:
        part["parts"] = [_part(one) for one in money.parts]
    missing = _missing(money, fan_cost)
    if missing or money.first_cost is None or fan_cost is None:
        for name in ("first_cost", *PRICED, "levelised_heat_cost", "break_even_price"):
            put(part, name, Answer(money.first_cost if name == "first_cost" else None, missing))
        return part
    flows = cash_flows(money, money.first_cost, fuel_flows(saved, money), fan_cost)
    value, no_price = fuel_money(saved)
    if value is None:
        for name in PRICED:
            put(part, name, Answer(None, no_price))
    else:
        cause = why_nothing(heat, saved, value, fan_cost)
        _put_measures(part, flows, value - fan_cost, money, cause)
    levelised = payback.levelised_heat_cost(flows.present_cost, heat.offset_kwh, heat_series(money))
    put(part, "levelised_heat_cost", levelised)
    put(part, "break_even_price", _break_even(flows, saved, money))
    return part


def fuel_flows(saved: Sequence[FuelSaved], money: Money) -> list[tuple[float, float]]:
    """Return what each fuel saves in a year [currency/a] and how its price rises [1/a].

    Parameters
    ----------
    saved : what each heater saves; one without a price counts nothing
    money : rates

    Returns
    -------
    pairs, one a heater
    """
    return [(one.money or 0.0, escalation_of(one.use, money)) for one in saved]


def why_nothing(heat: HeatSaved, saved: Sequence[FuelSaved], value: float, fan_cost: float) -> str:
    """Return why the first year saves no money; empty where it saves some.

    Parameters
    ----------
    heat : the year's offset heat
    saved : what each heater saves
    value : money that the fuels save [currency/a]
    fan_cost : of the fan's electricity [currency/a]

    Returns
    -------
    the reason in words

    >>> why_nothing(HeatSaved(0.0, 0.0), [], 0.0, 0.0)
    'no heating is saved'
    """
    if value > fan_cost:
        return ""
    if heat.offset_kwh == 0.0:
        return "no heating is saved"
    if heat.offset_kwh < 0.0:
        return "the collector costs the house more heat than it brings"
    if all(one.money == 0.0 for one in saved):
        return "the fuel that is saved costs nothing"
    if value == fan_cost:
        return "the fan's electricity costs as much as the fuel it saves"
    return "the fan's electricity costs more than the fuel it saves"


def _put_measures(part: Ledger, flows: CashFlows, net_saving: float, money: Money, cause: str) -> None:
    simple = payback.simple_payback(flows.investment, net_saving)
    if simple.value is None and cause:
        simple = Answer(None, f"{simple.reason}: {cause}")
    put(part, "simple_payback_a", simple)
    if simple.value is not None and simple.value > money.years:
        part["simple_payback_note"] = f"longer than the {money.years} years that are counted"
    if money.upkeep > 0.0:
        after = payback.simple_payback(flows.investment, net_saving - money.upkeep)
        put(part, "simple_payback_after_upkeep_a", after)
    net = flows.net
    crossing = payback.discounted_payback(net, flows.rate)
    lasting = crossing.lasting
    if flows.investment <= 0.0 and net_saving <= 0.0:
        lasting = Answer(None, "nothing is laid out and nothing is saved, so there is nothing to pay back")
    put(part, "discounted_payback_a", lasting)
    if crossing.first is not None:
        part["discounted_payback_first_a"] = crossing.first
    part["npv"] = payback.net_present_value(net, flows.rate)
    ratio = payback.saving_to_investment(flows.present_running, flows.present_investment)
    put(part, "saving_to_investment", ratio)
    put(part, "irr", payback.internal_rate_of_return(net))
    part["cash_flows"] = net.tolist()


def _break_even(flows: CashFlows, saved: Sequence[FuelSaved], money: Money) -> Answer:
    if not saved:
        return Answer(None, NO_HEATER)
    place = main_fuel(saved)
    others = [one for number, one in enumerate(saved) if number != place]
    if total([one.money for one in others]) is None:
        return Answer(None, "no price is given for the other fuels")
    held = sum(sum_ * fuel_series(money, rate) for sum_, rate in fuel_flows(others, money))
    series = fuel_series(money, escalation_of(saved[place].use, money))
    return payback.break_even_price(flows.present_cost - held, saved[place].amount, series)


def _part(part: object) -> Ledger:
    row: Ledger = asdict(part)  # type: ignore[call-overload]
    price, life = row["unit_price"], row["life"]
    put(row, "unit_price", Answer(price, "no price is given"))
    put(row, "cost", Answer(None if price is None else row["quantity"] * price, "no price is given"))
    put(row, "life", Answer(life, "as long as the collector"))
    return row


def _missing(money: Money, fan_cost: float | None) -> str:
    if money.first_cost is None:
        return money.first_cost_reason or "no first cost is given"
    return NO_FAN_PRICE if fan_cost is None else ""


def _notes(saved: Sequence[FuelSaved], money: Money) -> list[str]:
    notes = []
    if money.first_cost == 0.0:
        notes.append("the parts cost nothing; work, tools and permits are not counted")
    elif money.parts and any(part.unit_price == 0.0 for part in money.parts):
        free = ", ".join(part.name for part in money.parts if part.unit_price == 0.0)
        notes.append(f"at hand and counted at nothing: {free}")
    if money.first_cost is not None and money.grant > money.first_cost:
        notes.append("the grant is larger than the first cost")
    if money.life < money.study_period:
        notes.append(f"savings end with the collector's life, {money.life:g} a, before the study does")
    if money.life > money.study_period:
        notes.append("the collector outlives the study; what it is still worth is only the residual value")
    if any(one.use.invented for one in saved):
        notes.append("the fuel price is invented for an example")
    if any(one.money == 0.0 and one.price_per_unit == 0.0 for one in saved):
        notes.append("a fuel price of zero: saving that fuel saves no money")
    return notes
