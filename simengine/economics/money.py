"""One call from a year's saved heat to the fuel and economics parts of a result."""

from collections.abc import Sequence

from simengine.economics.answers import NO_HEATER, Ledger, put, total
from simengine.economics.fuel_blocks import every_fuel, fuel_part
from simengine.economics.measures import economics_part
from simengine.economics.payback import Answer
from simengine.economics.payback_table import put_payback_table
from simengine.economics.savings import FuelSaved, fan_running_cost, fuel_saved
from simengine.economics.spec import FuelUse, HeatSaved, HourlyHeat, Line, Money
from simengine.errors import InputError

__all__ = ["FuelUse", "HeatSaved", "HourlyHeat", "Line", "Money", "money_ledger"]


def money_ledger(
    heat: HeatSaved,
    uses: Sequence[FuelUse],
    electricity: FuelUse | None = None,
    money: Money | None = None,
    table: bool = True,
) -> Ledger:
    """Return what a year's saved heat is worth.

    Parameters
    ----------
    heat : offset heat and fan electricity of the year [kWh]
    uses : the heaters whose fuel is saved; their shares sum to 1; none where they are not known
    electricity : price of the fan's electricity, a fuel use with fuel "electricity"
    money : first cost, lives and rates; None: the defaults, with no first cost
    table : whether payback is told for other prices and first costs as well

    Returns
    -------
    dict with "fuel" (the main one), "fuels" (each), "economics" and "co2_saved_kg"; a number that
    cannot be had is None, with the reason beside it under `<name>_reason`; never NaN or infinity

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
        "fuel": fuel_part(saved, fan_cost, currency),
        "fuels": every_fuel(saved),
        "economics": economics_part(heat, saved, fan_cost, money),
    }
    if table:
        put_payback_table(ledger["economics"], saved, fan_cost, money)
    put(ledger, "co2_saved_kg", _co2(saved, fan_co2))
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


def _co2(saved: Sequence[FuelSaved], fan_co2: float | None) -> Answer:
    if not saved:
        return Answer(None, NO_HEATER)
    whole = total([one.co2_kg for one in saved])
    if whole is None or fan_co2 is None:
        return Answer(None, "no emission factor is known for one of the fuels: give your own")
    return Answer(whole - fan_co2)
