"""Turns a year's fuel bill of the user's house into heat."""

from simengine.economics.fuels import Fuel, heat_per_unit
from simengine.house.calibrate import FuelBill
from simengine.scenario.schema import Inputs, house
from simengine.scenario.schema.bill import Bill
from simengine.scenario.schema.heating import Heating
from simengine.scenario.schema.money_checks import fuels_of, main_heater, shares_of, unit_of_sale
from simengine.units import KINDS, Quantity


def fuel_bill(inputs: Inputs) -> FuelBill | None:
    """Return a year's fuel of the user's house as heat, or None where the scenario has none.

    Parameters
    ----------
    inputs
        Checked scenario.

    Returns
    -------
    FuelBill or None
        Heat content on the basis of the efficiency; its share of the house's heat is that of the
        heaters which burn this fuel.
    """
    bill = None if inputs.house is None else _given(inputs.house)
    if bill is None:
        return None
    name = bill.fuel or inputs.heating[main_heater(inputs)].fuel
    fuel = fuels_of(inputs)[name]
    heaters = [heater for heater in inputs.heating if heater.fuel == name]
    shares = [s for heater, s in zip(inputs.heating, shares_of(inputs), strict=True) if heater.fuel == name]
    return FuelBill(
        fuel_heat=_heat(bill.amount, fuel, _basis(bill, heaters)),
        efficiency=bill.efficiency or heaters[0].efficiency or 1.0,
        hot_water_share=_hot_water(bill),
        heating_share=sum(shares) if shares else 1.0,
        words=f"{fuel.name}, counted on the {_basis(bill, heaters)} heating value",
    )


def _given(own: house.House) -> Bill | None:
    if own.bill is None and own.yearly_fuel is not None:
        return Bill.model_construct(amount=own.yearly_fuel, hot_water_share=own.hot_water_share)
    return own.bill


def _basis(bill: Bill, heaters: list[Heating]) -> str:
    return bill.basis or (heaters[0].basis if heaters else "higher")


def _hot_water(bill: Bill) -> float:
    if bill.hot_water is not None:
        return bill.hot_water.value / bill.amount.value
    return bill.hot_water_share or 0.0


def _heat(amount: Quantity, fuel: Fuel, basis: str) -> float:
    """Heat content of an amount [kWh]; the schema has made sure that the fuel is sold that way."""
    unit = unit_of_sale(amount, fuel) or ""
    return amount.value / KINDS[amount.kind].by_name[unit].factor * heat_per_unit(fuel, unit, basis)
