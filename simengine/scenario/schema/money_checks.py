"""What does not go together between the sections about money."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from simengine.scenario.schema import choices
from simengine.scenario.schema.bill import Bill
from simengine.scenario.schema.heating import unsold
from simengine.scenario.schema.reading import Fault, fault
from simengine.units import KINDS, Quantity

if TYPE_CHECKING:
    from simengine.economics.fuels import Fuel
    from simengine.scenario.schema.root import Inputs

SECTIONS = ("heating", "electricity", "parts", "economics")
"""Sections that hold money."""

FUEL_PATH = {"yearly_fuel": ("house", "yearly_fuel"), "bill": ("house", "bill", "amount")}


def fuels_of(inputs: "Inputs") -> dict[str, "Fuel"]:
    """Return every fuel of a scenario by its name: the table's and its own."""
    return {**choices.fuel_keys(), **{own.name: own.as_fuel() for own in inputs.fuels}}


def unit_of_sale(amount: Quantity, fuel: "Fuel") -> str | None:
    """Return a unit in which the fuel is sold and that measures the same kind as an amount."""
    sold = fuel.units()
    return next((name for name in KINDS[amount.kind].by_name if name in sold), None)


def shares_of(inputs: "Inputs") -> tuple[float, ...]:
    """Return the heaters' shares; what is left over goes to those that have none."""
    given = [heater.share for heater in inputs.heating]
    left = max(1.0 - sum(share for share in given if share is not None), 0.0)
    open_ = max(given.count(None), 1)
    return tuple(left / open_ if share is None else share for share in given)


def main_heater(inputs: "Inputs") -> int:
    """Return the place of the heater with the largest share, the first of equals."""
    shares = shares_of(inputs)
    return max(range(len(shares)), key=lambda place: (shares[place], -place))


def money_faults(inputs: "Inputs") -> Iterator[Fault]:
    """Yield what does not go together."""
    yield from _one_currency(inputs)
    yield from _own_fuels(inputs)
    yield from _heaters(inputs)
    yield from _parts(inputs)
    yield from _bill(inputs)


def currency_of(inputs: "Inputs") -> str:
    """Return the currency of a scenario's money, empty where it holds none."""
    money = (each for section in SECTIONS for each in _money_in(getattr(inputs, section), (section,)))
    return next((str(value.currency) for _, value in money), "")


def _one_currency(inputs: "Inputs") -> Iterator[Fault]:
    first = ""
    for section in SECTIONS:
        for at, value in _money_in(getattr(inputs, section), (section,)):
            first = first or value.currency
            if value.currency != first:
                wrong = f"is in {value.currency}, but other money is in {first}"
                yield fault(wrong, "one currency; nothing is converted", *at)


def _money_in(section: Any, at: tuple[str | int, ...]) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    if isinstance(section, tuple):
        for number, item in enumerate(section):
            yield from _money_in(item, (*at, number))
    elif hasattr(type(section), "model_fields"):
        for name in type(section).model_fields:
            yield from _money_in(getattr(section, name), (*at, name))
    elif getattr(section, "currency", ""):
        yield at, section


def _own_fuels(inputs: "Inputs") -> Iterator[Fault]:
    names = [own.name for own in inputs.fuels]
    for number, own in enumerate(inputs.fuels):
        if own.name in names[:number]:
            yield fault("two fuels have this name", "another name", "fuels", number, "name")
    known = {own.name: own for own in inputs.fuels}
    for number, heater in enumerate(inputs.heating):
        used = known.get(heater.fuel)
        if used is None:
            continue
        units = used.as_fuel().units()
        if heater.price is not None and heater.price.unit not in units:
            found = unsold(heater.fuel, heater.price.unit, units)
            yield Fault(found.sentence, ("heating", number, "price"))
        if heater.basis != used.basis and used.lower_to_higher is None:
            wrong = (
                f"counts on the {heater.basis} heating value, but {used.name} is known by its {used.basis}"
            )
            yield fault(wrong, "one basis, or lower_to_higher with the fuel", "heating", number, "basis")


def _heaters(inputs: "Inputs") -> Iterator[Fault]:
    given = [heater.share for heater in inputs.heating]
    known = sum(share for share in given if share is not None)
    if given and (known > 1.0 + 1e-6 or (None not in given and known < 1.0 - 1e-6)):
        yield fault(f"the shares of the heaters sum to {known:g}", "1 in all", "heating")
    if given.count(None) > 1:
        yield fault("more than one heater has no share", "a share for all but one", "heating")
    names = [heater.name for heater in inputs.heating if heater.name]
    if len(set(names)) < len(names):
        yield fault("two heaters have one name", "different names", "heating")


def _parts(inputs: "Inputs") -> Iterator[Fault]:
    money = inputs.economics
    if not inputs.parts or money is None:
        return
    if money.first_cost is not None:
        wrong = "is given, and so are [[parts]] that make it"
        yield fault(wrong, "first_cost or [[parts]]", "economics", "first_cost")
    renewed = [part.name for part in inputs.parts if "fan" in part.name.lower().split() and part.life]
    if money.fan_cost is not None and renewed:
        wrong = "is given, and the fan in [[parts]] has a life: it would be bought twice"
        yield fault(wrong, "one of the two", "economics", "fan_cost")


def _bill(inputs: "Inputs") -> Iterator[Fault]:
    house = inputs.house
    if house is None or (house.yearly_fuel is None and house.bill is None):
        return
    if house.yearly_fuel is not None and house.bill is not None:
        yield fault("the fuel bill is given twice", "[house.bill] or yearly_fuel", "house", "yearly_fuel")
        return
    bill = house.bill or Bill.model_construct(amount=house.yearly_fuel)
    path = FUEL_PATH["yearly_fuel" if house.bill is None else "bill"]
    if bill.fuel is None and not inputs.heating:
        accepted = "a [heating] section besides" + ("" if house.bill is None else ", or its fuel")
        yield fault("is an amount of an unknown fuel", accepted, *path)
        return
    name = bill.fuel or inputs.heating[main_heater(inputs)].fuel
    fuel = fuels_of(inputs)[name]
    if unit_of_sale(bill.amount, fuel) is None:
        wrong = f"is a {bill.amount.kind}, but {name} is not sold that way"
        yield fault(wrong, f"an amount in {', '.join(fuel.units())}", *path)
    heaters = [heater for heater in inputs.heating if heater.fuel == name]
    single = len(heaters) == 1 and heaters[0].efficiency is not None and not heaters[0].line
    if bill.efficiency is None and (not single or heaters[0].idle_share > 0.0):
        wrong = "how much of this fuel became heat over the year is not known"
        accepted = "[house.bill] with amount and efficiency, a year's mean"
        yield fault(wrong, accepted, *path[:2])
