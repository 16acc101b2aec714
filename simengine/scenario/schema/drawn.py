"""A spread of values for one key: how likely each is, between which ends."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic_core import PydanticCustomError

from simengine.errors import InputError
from simengine.scenario.schema.at_key import AtKey, at_key
from simengine.scenario.schema.reading import JsonSchema, Reader, Section, describe, plain_number_of, refuse
from simengine.units import KINDS, parse, quote

TERMS: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "uniform": (("from", "to"), ()),
    "triangular": (("from", "most", "to"), ()),
    "normal": (("mean", "deviation"), ("from", "to")),
    "lognormal": (("median", "factor"), ("from", "to")),
    "choice": (("values",), ("weights",)),
}
"""What each kind of spread needs, and what it may have besides."""

BY = ("value", "factor", "shift")
"""Whether the terms are values of the key, factors on the scenario's own value, or added to it."""

MOST_CHOICES = 10_000


@dataclass(frozen=True, slots=True)
class Drawn:
    """A spread as it was written: its kind, what the terms are counted by, and the terms as raw values."""

    kind: str
    by: str
    terms: tuple[tuple[str, Any], ...]

    def term(self, name: str) -> Any:
        """Return one raw term, None where it is left out."""
        return dict(self.terms).get(name)


@dataclass(frozen=True, slots=True)
class Drawing(Reader):
    """A spread: a table with its kind and terms, or a list of values; where it may, false for none."""

    what: str = "a spread is due"
    none: bool = False

    def read(self, value: Any) -> "Drawn | None":
        """Return a `Drawn`, or None for false."""
        if value is False and self.none:
            return None
        if isinstance(value, list | tuple):
            return _choice(value, None)
        if not isinstance(value, dict):
            raise refuse(f"{describe(value)} where {self.what}", self.accepts())
        return _of_table(value)

    def example(self) -> str:
        """Return a value as it would stand in the file."""
        return '{ from = "40 deg", to = "50 deg" }'

    def accepts(self) -> str:
        """Say in words what may be written."""
        none = "; false for none" if self.none else ""
        kinds = ", ".join(TERMS)
        table = '{ from = "1 m", to = "3 m" }'
        return f'a list such as ["45 deg", "60 deg"], or {table} with a kind: {kinds}{none}'

    def json(self) -> JsonSchema:
        """Return the JSON schema."""
        single: JsonSchema = {"type": ["string", "number", "boolean"]}
        names = sorted(
            {name for need, may in TERMS.values() for name in (*need, *may)} - {"values", "weights"}
        )
        table: JsonSchema = {
            "type": "object",
            "properties": {
                "kind": {"type": "string", "enum": list(TERMS)},
                "by": {"type": "string", "enum": list(BY)},
                **{name: {"type": ["string", "number"]} for name in names},
                "values": {"type": "array", "items": single, "minItems": 1},
                "weights": {"type": "array", "items": {"type": "number"}, "minItems": 1},
            },
            "additionalProperties": False,
        }
        ways = [table, {"type": "array", "items": single, "minItems": 1}]
        return {"anyOf": [*ways, {"const": False}] if self.none else ways}


def _choice(values: Any, weights: Any) -> Drawn:
    fits = isinstance(values, list | tuple) and 1 <= len(values) <= MOST_CHOICES
    if not fits or not all(isinstance(one, str | int | float | bool) for one in values):
        raise refuse(f"{describe(values)} where values are due", 'a list such as ["45 deg", "60 deg"]')
    terms: tuple[tuple[str, Any], ...] = (("values", tuple(values)),)
    if weights is not None:
        shares = [plain_number_of(one) for one in weights] if isinstance(weights, list | tuple) else []
        good = [share for share in shares if share is not None and share > 0.0 and math.isfinite(share)]
        if len(good) != len(values) or len(shares) != len(values):
            raise refuse("the weights do not fit the values", "one number above zero for each value")
        terms = (*terms, ("weights", tuple(good)))
    return Drawn("choice", "value", terms)


def _of_table(table: dict[str, Any]) -> Drawn:
    kind, by = table.get("kind", "uniform"), table.get("by", "value")
    if kind not in TERMS:
        raise refuse(f"{quote(kind)} is no kind of spread", ", ".join(TERMS))
    if by not in BY:
        raise refuse(f"by {quote(by)} says nothing", ", ".join(BY))
    if kind == "choice":
        if by != "value" or set(table) - {"kind", "by", "values", "weights"}:
            raise refuse("a choice has values and weights alone", '{ kind = "choice", values = [..] }')
        return _choice(table.get("values"), table.get("weights"))
    needed, possible = TERMS[kind]
    missing = [name for name in needed if name not in table]
    unknown = [name for name in table if name not in (*needed, *possible, "kind", "by")]
    if missing or unknown:
        wrong = f"has no {missing[0]}" if missing else f"has {quote(unknown[0])}, which means nothing there"
        raise refuse(f"a {kind} spread {wrong}", ", ".join((*needed, *possible)))
    if kind == "lognormal" and by == "shift":
        raise refuse("a log-normal spread multiplies, so it cannot be added", 'by = "value" or "factor"')
    names = [name for name in (*needed, *possible) if name in table]
    if any(not isinstance(table[name], str | int | float) or isinstance(table[name], bool) for name in names):
        raise refuse(f"a {kind} spread needs single values", 'text with a unit, or a number, e.g. "45 deg"')
    return Drawn(kind, by, tuple((name, table[name]) for name in names))


@dataclass(frozen=True, slots=True)
class Terms:
    """The terms of a spread as numbers: by value in SI (or money), by factor [-], or by shift in SI."""

    numbers: Mapping[str, float]
    unit: str  # as it is written after the number; "" for a plain number

    def get(self, name: str) -> float | None:
        """Return a term, None where it was left out."""
        return self.numbers.get(name)


def terms_of(drawn: Drawn, held: AtKey) -> Terms:
    """Return the terms of a spread as numbers.

    Parameters
    ----------
    drawn
        Any kind but a choice.
    held
        What the scenario holds at the key.

    Returns
    -------
    Terms

    Raises
    ------
    InputError
        "what is wrong; what is accepted".
    """
    if not held.is_quantity:
        raise InputError("is no quantity, so nothing lies between its values; accepted: a list of values")
    numbers: dict[str, float] = {}
    units = set()
    if drawn.by != "value":
        units = {level.unit for level in held.levels()}
    for name, raw in drawn.terms:
        number, unit = _number(drawn, held, name, raw)
        numbers[name] = number
        units |= {unit} if unit is not None else set()
    if len(units) > 1:
        raise InputError(f"mixes {' and '.join(sorted(units))}; accepted: one unit of sale and currency")
    _require_order(drawn, numbers)
    return Terms(numbers, next(iter(units), ""))


def unfit(drawn: Drawn, inputs: Section, key: str) -> str:
    """Return what is wrong with a spread of a key in a scenario; empty where it fits.

    Parameters
    ----------
    drawn
        The spread.
    inputs
        The checked scenario.
    key
        Dotted key.
    """
    try:
        held = at_key(inputs, key)
    except InputError as error:
        # a list may put something where the scenario has nothing yet; each member is checked by itself
        return "" if drawn.kind == "choice" else error.problems[0]
    try:
        if drawn.kind != "choice":
            terms_of(drawn, held)
        read = [held.reader.read(value) for value in drawn.term("values") or ()]
        currencies = sorted({one.currency for one in read if getattr(one, "currency", "")})
        if len(currencies) > 1:
            return f"mixes {' and '.join(currencies)}; accepted: one currency, as nothing is converted"
    except InputError as error:
        return error.problems[0]
    except PydanticCustomError as refused:
        return refused.message()
    return ""


def _number(drawn: Drawn, held: AtKey, name: str, raw: Any) -> tuple[float, str | None]:
    if name == "factor" or drawn.by == "factor":
        return _share(raw), None
    if name == "deviation" or drawn.by == "shift":
        if held.kind == "":
            raise InputError('money and flows are spread by = "factor"; accepted: a plain number')
        difference = "temperature_difference" if held.kind == "temperature" else held.kind
        plain = plain_number_of(raw)
        return (parse(raw, difference) if plain is None else _plain(plain, held)), None
    written = held.read(raw)
    return written.number, written.unit


def _plain(number: float, held: AtKey) -> float:
    if not KINDS[held.kind].bare or not math.isfinite(number):
        raise InputError(f"{quote(number)} has no unit; accepted: text with a unit")
    return number


def _share(raw: Any) -> float:
    plain = plain_number_of(raw)
    number = parse(raw, "fraction") if plain is None else plain
    if not math.isfinite(number) or number < 0.0:
        raise InputError(f"{quote(raw)} is no factor; accepted: a plain number such as 0.9, or 90 %")
    return number


def _require_order(drawn: Drawn, numbers: Mapping[str, float]) -> None:
    low, high = numbers.get("from", -math.inf), numbers.get("to", math.inf)
    if not low < high:
        raise InputError("from is not below to; accepted: from < to")
    if not low <= numbers.get("most", max(low, min(high, 0.0))) <= high:
        raise InputError("most does not lie between from and to; accepted: from <= most <= to")
    if numbers.get("deviation", 1.0) <= 0.0:
        raise InputError("the deviation is not above zero; accepted: a deviation > 0")
    if drawn.kind == "lognormal" and (numbers["factor"] <= 1.0 or numbers["median"] <= 0.0):
        raise InputError(
            "a log-normal spread needs median > 0 and factor > 1; accepted: e.g. median 1, factor 2"
        )
