"""Turns fuel, prices and rates into what the money side takes."""

from dataclasses import replace

from simengine.economics.spec import FuelUse, Line, Money
from simengine.scenario.assembly import MoneyInputs
from simengine.scenario.schema import Inputs, money

JOULE_PER_KWH = 3.6e6
"""A kilowatt hour [J] (definition)."""


def money_inputs(inputs: Inputs) -> MoneyInputs:
    """Return heater, fan electricity and rates in the units of the money side."""
    heating = None if inputs.heating is None else _heating(inputs.heating)
    electricity = None if inputs.electricity is None else _electricity(inputs.electricity)
    return MoneyInputs(
        heating, electricity, None if inputs.economics is None else _economics(inputs.economics)
    )


def _heating(given: money.Heating) -> FuelUse:
    use = FuelUse(
        fuel=given.fuel,
        efficiency=given.efficiency,
        basis=given.basis,
        price_place=given.price_place,
        invented=given.invented,
    )
    if given.price is not None:
        use = replace(use, price=given.price.value, unit=given.price.unit, currency=given.price.currency)
    if given.price_date is not None:
        use = replace(use, price_date=given.price_date.isoformat())
    if given.emission_factor is not None:
        use = replace(use, emission_factor=given.emission_factor * JOULE_PER_KWH)
    if given.cop_by_outdoor_temperature is not None:
        levels, cops = zip(*given.cop_by_outdoor_temperature, strict=True)
        use = replace(use, cop_by_outdoor_temperature=Line(levels, cops))
    return use


def _electricity(given: money.Electricity) -> FuelUse:
    return _heating(
        money.Heating.model_construct(
            fuel="electricity",
            efficiency=1.0,
            basis="higher",
            price=given.price,
            price_date=given.price_date,
            price_place=given.price_place,
            invented=given.invented,
            emission_factor=given.emission_factor,
            cop_by_outdoor_temperature=None,
        )
    )


def _economics(given: money.Economics) -> Money:
    sums = {
        name: getattr(given, name)
        for name in ("first_cost", "grant", "upkeep", "fan_cost", "residual_value")
        if getattr(given, name) is not None
    }
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
