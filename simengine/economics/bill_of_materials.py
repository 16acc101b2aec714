"""What a build is made of and what that costs: parts, quantities, unit prices, lives."""

from collections.abc import Iterable
from dataclasses import dataclass, field

from simengine.errors import InputError


@dataclass(frozen=True, slots=True)
class Part:
    """One line of the list. A price of zero is a part at hand; None is a price not known."""

    name: str
    quantity: float  # [unit]
    unit_price: float | None  # [currency/unit]
    unit: str = "piece"
    life: int | None = None  # [a]; None: as long as the collector


@dataclass(frozen=True, slots=True)
class Bill:
    """A priced list of parts."""

    parts: tuple[Part, ...]
    currency: str
    first_cost: float | None  # [currency]; None where a price is missing
    unpriced: tuple[str, ...] = ()
    notes: tuple[str, ...] = field(default=())


def bill_of_materials(parts: Iterable[Part], currency: str = "USD") -> Bill:
    """Return the first cost of a list of parts.

    Parameters
    ----------
    parts : the lines
    currency : of all unit prices

    Returns
    -------
    the bill; its first cost [currency] is None where a part has no price, and 0 is allowed

    Raises
    ------
    InputError
        A quantity or a price below zero; every such line is named.

    >>> bill_of_materials([Part("pane", 2.0, 40.0), Part("old window", 1.0, 0.0)]).first_cost
    80.0
    """
    listed = tuple(parts)
    problems = [
        f"bill of materials: '{part.name:.80}': quantity and unit price must not be below zero"
        for part in listed
        if part.quantity < 0.0 or (part.unit_price or 0.0) < 0.0
    ]
    if problems:
        raise InputError(*problems)
    unpriced = tuple(part.name for part in listed if part.unit_price is None)
    total = sum((part.quantity * (part.unit_price or 0.0) for part in listed), 0.0)
    notes = ["no parts are listed"] if not listed else []
    if listed and not unpriced and total == 0.0:
        notes.append("every part is at hand and costs nothing; work, tools and permits are not counted")
    if unpriced:
        notes.append(f"no price is given for: {', '.join(unpriced)}")
    known = bool(listed) and not unpriced
    return Bill(listed, currency, total if known else None, unpriced, tuple(notes))


def replacements(bill: Bill, years: int) -> tuple[tuple[int, float], ...]:
    """Return when parts that wear out are bought again, and for how much.

    Parameters
    ----------
    bill : the priced list
    years : length of the study [a]

    Returns
    -------
    pairs of year [a] and cost at base-date prices [currency]; none at the end of the study itself

    >>> replacements(bill_of_materials([Part("fan", 1.0, 70.0, life=8)]), 20)
    ((8, 70.0), (16, 70.0))
    """
    due: dict[int, float] = {}
    for part in bill.parts:
        if part.life is None or part.unit_price is None:
            continue
        for year in range(part.life, years, part.life):
            due[year] = due.get(year, 0.0) + part.quantity * part.unit_price
    return tuple(sorted(due.items()))
