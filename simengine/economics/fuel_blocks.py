"""The fuel side of the ledger: the main fuel, every fuel by itself, and what the fan takes back."""

from collections.abc import Sequence

from simengine.economics.answers import NO_FAN_PRICE, NO_HEATER, NO_PRICE, Ledger, put, total
from simengine.economics.payback import Answer
from simengine.economics.savings import FuelSaved


def main_fuel(saved: Sequence[FuelSaved]) -> int:
    """Return the number of the heater that makes most of the heat, the first of equals.

    Parameters
    ----------
    saved : what each heater saves, at least one

    Returns
    -------
    its place in the list, from 0
    """
    return max(range(len(saved)), key=lambda place: (saved[place].use.share, -place))


def fuel_part(saved: Sequence[FuelSaved], fan_cost: float | None, currency: str) -> Ledger:
    """Return the ledger's block on the main fuel, with the money of all fuels.

    Parameters
    ----------
    saved : what each heater saves
    fan_cost : of the fan's electricity [currency/a]; None: not known
    currency : of all money

    Returns
    -------
    dict; `saved`, `unit`, `price` are the main fuel's, the money that of all fuels
    """
    part = _one_fuel(saved[main_fuel(saved)]) if saved else _no_fuel()
    money = fuel_money(saved)
    put(part, "money_saved", money)
    put(part, "fan_cost", Answer(fan_cost, NO_FAN_PRICE))
    net = None if money.value is None or fan_cost is None else money.value - fan_cost
    put(part, "net_saving", Answer(net, money.reason if money.value is None else NO_FAN_PRICE))
    part["currency"] = currency
    return part


def every_fuel(saved: Sequence[FuelSaved]) -> list[Ledger]:
    """Return a block for each heater: its fuel, share of the heat, money and CO2.

    Parameters
    ----------
    saved : what each heater saves

    Returns
    -------
    one dict a heater, in the order given
    """
    blocks = []
    for one in saved:
        block = {"heater": one.use.name or one.fuel.name, "share": one.use.share, **_one_fuel(one)}
        block["heat_kwh"] = one.heat_kwh
        put(block, "money_saved", Answer(one.money, NO_PRICE))
        put(block, "co2_saved_kg", Answer(one.co2_kg, "no emission factor is known: give your own"))
        block["source"] = one.fuel.source
        blocks.append(block)
    return blocks


def fuel_money(saved: Sequence[FuelSaved]) -> Answer:
    """Return the money that all fuels save in a year.

    Parameters
    ----------
    saved : what each heater saves

    Returns
    -------
    money [currency/a], or None and the reason
    """
    if not saved:
        return Answer(None, NO_HEATER)
    missing = [one.use.name or one.fuel.name for one in saved if one.money is None]
    reason = f"no price is given for {', '.join(missing)}" if len(saved) > 1 else NO_PRICE
    return Answer(total([one.money for one in saved]), reason)


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
    unsaved = "nothing is saved, so the tariff has no mean price"
    put(part, "price", Answer(saved.price_per_unit, NO_PRICE if use.price_by_hour is None else unsaved))
    part["price_unit"] = f"{use.currency}/{saved.unit}"
    part["price_by_hour"] = use.price_by_hour is not None
    part["price_place"] = use.price_place
    part["price_invented"] = use.invented
    part["price_date"] = use.price_date or None
    if not use.price_date:
        part["price_date_reason"] = "no date is given with the price"
    return part


def _no_fuel() -> Ledger:
    part: Ledger = {}
    for name in ("name", "saved", "unit", "basis", "price", "price_unit", "price_date"):
        put(part, name, Answer(None, NO_HEATER))
    return part
