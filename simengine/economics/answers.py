"""Numbers that may be missing: each stands in a ledger with its value, or None and the reason beside it."""

from collections.abc import Sequence
from typing import Any

from simengine.economics.payback import Answer

Ledger = dict[str, Any]

NO_HEATER = "no heater with its fuel is given"
NO_PRICE = "no fuel price is given"
NO_FAN_PRICE = "no price is given for the fan's electricity"


def put(target: Ledger, name: str, answer: Answer) -> None:
    """Write an answer into a ledger, with its reason where there is no number.

    Parameters
    ----------
    target : the ledger, which is changed
    name : key of the number
    answer : the number or the reason

    >>> ledger = {}
    >>> put(ledger, "npv", Answer(None, "no price is given"))
    >>> ledger
    {'npv': None, 'npv_reason': 'no price is given'}
    """
    target[name] = answer.value
    if answer.value is None:
        target[f"{name}_reason"] = answer.reason


def total(values: Sequence[float | None]) -> float | None:
    """Return the sum, or None where one of the values is not known.

    Parameters
    ----------
    values : [all of one unit]

    Returns
    -------
    sum in that unit

    >>> total([1.0, 2.0]), total([1.0, None])
    (3.0, None)
    """
    known = [value for value in values if value is not None]
    return sum(known, 0.0) if len(known) == len(values) else None
