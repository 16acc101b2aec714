"""Turns fuels, prices, parts and rates into what the money side takes."""

from dataclasses import replace

from simengine.economics.bill_of_materials import Part, bill_of_materials, replacements
from simengine.economics.fuels import FUELS, Fuel
from simengine.economics.spec import FuelUse, Line, Money
from simengine.scenario.assembly import MoneyInputs
from simengine.scenario.schema import Inputs
from simengine.scenario.schema.electricity import Electricity
from simengine.scenario.schema.heating import Heating
from simengine.scenario.schema.money import Economics
from simengine.scenario.schema.money_checks import fuels_of, shares_of
from simengine.units.factors import KWH

MONEY = ("first_cost", "grant", "upkeep", "fan_cost", "residual_value")
"""Sums of money in the section on economics."""


def money_inputs(inputs: Inputs) -> MoneyInputs:
    """Return heaters, fan electricity and rates in the units of the money side."""
    electricity = None if inputs.electricity is None else _electricity(inputs.electricity)
    fuels = fuels_of(inputs)
    heating = tuple(
        _metered(replace(_heating(given, fuels[given.fuel]), share=share), electricity)
        for given, share in zip(inputs.heating, shares_of(inputs), strict=True)
    )
    return MoneyInputs(heating, electricity, _money(inputs))


def _heating(given: Heating, fuel: Fuel) -> FuelUse:
    use = FuelUse(
        fuel=given.fuel,
        efficiency=1.0 if given.efficiency is None else given.efficiency,
        basis=given.basis,
        price_place=given.price_place,
        invented=given.invented,
        own_fuel=None if given.fuel in FUELS else fuel,
        idle_share=given.idle_share,
        full_load=given.full_load,
        escalation=given.escalation,
        name=given.name,
        cop_by_outdoor_temperature=_line(given.cop_by_outdoor_temperature),
        efficiency_by_load=_line(given.efficiency_by_load),
    )
    return _priced(use, given)


def _priced(use: FuelUse, given: Heating | Electricity) -> FuelUse:
    if given.price is not None:
        use = replace(use, price=given.price.value, unit=given.price.unit, currency=given.price.currency)
    if given.price_date is not None:
        use = replace(use, price_date=given.price_date.isoformat())
    if given.emission_factor is not None:
        use = replace(use, emission_factor=given.emission_factor * KWH)
    return use


def _line(pairs: tuple[tuple[float, float], ...] | None) -> Line | None:
    return None if pairs is None else Line(*zip(*pairs, strict=True))


def _electricity(given: Electricity) -> FuelUse:
    use = FuelUse("electricity", 1.0, price_place=given.price_place, invented=given.invented)
    use = _priced(use, given)
    if not given.tariff:
        return use
    prices = [use.price or 0.0] * 288
    for window in given.tariff:
        for slot in window.slots:
            prices[slot] = window.price.value
    return replace(use, price_by_hour=tuple(prices))


def _metered(use: FuelUse, electricity: FuelUse | None) -> FuelUse:
    """Electric heat without a price of its own runs over the house's meter."""
    if use.fuel != "electricity" or electricity is None:
        return use
    if use.emission_factor is None:
        use = replace(use, emission_factor=electricity.emission_factor)
    if use.priced:
        return use
    names = ("price", "price_by_hour", "unit", "currency", "price_date", "price_place", "invented")
    return replace(use, **{name: getattr(electricity, name) for name in names})


def _money(inputs: Inputs) -> Money | None:
    if inputs.economics is None and not inputs.parts:
        return None
    money = _economics(inputs.economics or Economics.model_validate({}))
    return _with_parts(money, inputs) if inputs.parts else money


def _with_parts(money: Money, inputs: Inputs) -> Money:
    """Put what the parts cost, and when they are bought again, in the place of a first cost."""
    parts = [
        Part(
            name=part.name,
            quantity=part.quantity,
            unit_price=None if part.price is None else part.price.value,
            unit=part.unit,
            life=None if part.life is None else round(part.life),
        )
        for part in inputs.parts
    ]
    currency = next((part.price.currency for part in inputs.parts if part.price is not None), money.currency)
    bill = bill_of_materials(parts, currency)
    return replace(
        money,
        first_cost=bill.first_cost,
        first_cost_reason="; ".join(bill.notes) if bill.first_cost is None else "",
        parts=bill.parts,
        replacements=replacements(bill, money.years),
        currency=currency,
    )


def _economics(given: Economics) -> Money:
    sums = {name: getattr(given, name) for name in MONEY if getattr(given, name) is not None}
    currency = next((amount.currency for amount in sums.values()), "USD")
    return Money(
        study_period=round(given.study_period),
        life=round(given.life),
        fan_life=round(given.fan_life),
        discount_rate=given.discount_rate,
        basis=given.basis,
        inflation=given.inflation,
        fuel_escalation=given.fuel_escalation,
        electricity_escalation=given.electricity_escalation,
        currency=currency,
        **{name: amount.value for name, amount in sums.items()},
    )
