"""Reads a quantity as people write it, "110 cfm" or "3 ft 6 in", into one SI number."""

import difflib
import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from simengine.errors import InputError
from simengine.units.kinds import Kind, kind_of, quote, skeleton
from simengine.units.number import read_number, tidy
from simengine.units.table import KINDS

_R_VALUE = re.compile(r"(R-|RSI[ -]?|R ?(?=\d))(.*)", re.IGNORECASE)
_R_FORMS: Final = '"R-6" (US: h.ft2.degF/Btu) or "RSI 1.06" (metric: m2K/W)'
AMBIGUOUS: Final[dict[str, dict[str, str]]] = {
    "ton": {
        "mass": '"short ton" (907 kg), "t" (1000 kg)',
        "power": '"Btu/h" (a ton of cooling is 12000 Btu/h), "kW"',
    },
    "tons": {"mass": '"short ton" (907 kg), "t" (1000 kg)', "power": '"Btu/h", "kW"'},
    "oz": {"mass": '"lb" or "g" (an ounce may be a weight or a volume)', "volume": '"gal" or "L"'},
    "F": {"temperature": '"degF"', "temperature_difference": '"degF" or "K"'},
    "C": {"temperature": '"degC"', "temperature_difference": '"degC" or "K"'},
    "R": {"thermal_resistance": _R_FORMS, "temperature": '"degF" or "K"'},
    "deg": {"temperature": '"degF" or "degC"', "temperature_difference": '"degF" or "K"'},
    "m": {"time": '"min" (minutes) or "d" (days)', "years": '"months" or "years"'},
    "M": {"time": '"min" (minutes) or "d" (days)', "years": '"months" or "years"'},
    "mil": {"length": '"in" (a mil is 0.001 in) or "mm"'},
    "MBtu": {"energy": '"kBtu" (1000 Btu) or "MMBtu" (1,000,000 Btu)'},
    "MBH": {"power": '"kBtu/h"'},
    "Mcf": {"volume": '"kcf" (1000 ft3)'},
}
_PAIRS: Final = {
    "length": (re.compile(r"(ft|feet|foot|')[ -]*(?=\d)"), ("ft", "in")),
    "time": (re.compile(r"(h|hr|hours?|min|minutes?) *(?=\d)"), ("h", "min", "s")),
}

KEPT: Final = 4096
"""Texts whose meaning is kept: the bounds of the schema, and what the members of a sweep have in common."""


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number in SI together with the kind that its unit belongs to."""

    kind: str
    value: float


@lru_cache(maxsize=KEPT)
def parse(text: str, kind: str) -> float:
    """Return the SI value of a quantity that is written with its unit.

    Parameters
    ----------
    text
        Number and unit, e.g. "110 cfm", "47 1/2 in", "R-6".
    kind
        Key of `KINDS`; it decides what a unit means ("degF" as a level or as a difference).

    Returns
    -------
    float
        The value in the kind's own SI unit (degrees for angles, years for years).

    Raises
    ------
    InputError
        "what is wrong; what is accepted", if the text is no quantity of this kind.

    Examples
    --------
    >>> round(parse("68 degF", "temperature"), 6)
    293.15
    >>> round(parse("18 degF", "temperature_difference"), 6)
    10.0
    >>> round(parse("3 ft 6 in", "length"), 6)
    1.0668
    """
    chosen = kind_of(KINDS, kind)
    clean = tidy(text)
    if kind == "thermal_resistance" and (match := _R_VALUE.fullmatch(clean)):
        return _resistance(clean, match[1], match[2])
    number, spelling = read_number(clean)
    if kind in _PAIRS and (pair := _PAIRS[kind][0].match(spelling)):
        return _compound(chosen, clean, number, spelling, pair)
    unit = chosen.find(spelling)
    if unit is None:
        raise InputError(_complaint(chosen, clean, spelling))
    return number * unit.factor + unit.offset


def parse_one_of(text: str, kinds: tuple[str, ...]) -> Quantity:
    """Return a quantity that may be of several kinds; its unit tells which.

    Parameters
    ----------
    text
        Number and unit.
    kinds
        Keys of `KINDS` that have no unit in common.

    Returns
    -------
    Quantity
        The kind found and the value in its SI unit.

    Raises
    ------
    InputError
        If no kind knows the unit.

    Examples
    --------
    >>> parse_one_of("3 cfm/ft2", ("volume_flow", "volume_flux")).kind
    'volume_flux'
    """
    clean = tidy(text)
    _, spelling = read_number(clean)
    for kind in kinds:
        if kind_of(KINDS, kind).find(spelling) is not None:
            return Quantity(kind, parse(clean, kind))
    known = [kind_of(KINDS, kind) for kind in kinds]
    examples = ", ".join(f'"{kind.example}"' for kind in known)
    units = [unit.name for kind in known for unit in kind.units]
    wrong = _unknown(spelling, {key for kind in known for key in kind.exact}) if spelling else "has no unit"
    raise InputError(f"{quote(clean)}: {wrong}; accepted: {', '.join(units)}, e.g. {examples}")


def _resistance(clean: str, prefix: str, tail: str) -> float:
    if prefix.casefold().strip() == "r":
        raise InputError(f"{quote(clean)} does not say which R-value; accepted: {_R_FORMS}")
    if not tail[:1].isdigit() and tail[:1] != ".":
        raise InputError(f"{quote(clean)} has no number; accepted: {_R_FORMS}")
    number, spelling = read_number(tail)
    unit = "h.ft2.degF/Btu" if prefix.casefold() == "r-" else "m2K/W"
    factor = KINDS["thermal_resistance"].by_name[unit].factor
    if spelling:
        raise InputError(f"{quote(clean)} has a second unit; accepted: {_R_FORMS}")
    return number * factor


def _compound(kind: Kind, clean: str, number: float, spelling: str, pair: re.Match[str]) -> float:
    """Feet and inches, or hours and minutes: the second part is smaller, and is counted on."""
    order = _PAIRS[kind.name][1]
    head = kind.find(pair[1])
    tail_number, tail_spelling = read_number(spelling[pair.end() :])
    tail = kind.find(tail_spelling)
    fits = head is not None and tail is not None and head.name in order and tail.name in order
    if head is None or tail is None or not fits or order.index(tail.name) <= order.index(head.name):
        raise InputError(f"{quote(clean)} is made of parts that do not follow each other; {kind.accepted()}")
    if tail_number < 0 or tail_number * tail.factor >= head.factor or not number.is_integer():
        raise InputError(f"{quote(clean)}: the second part does not fit into the first; {kind.accepted()}")
    whole = abs(number) * head.factor + tail_number * tail.factor
    return -whole if clean.startswith("-") else whole


def _complaint(kind: Kind, clean: str, spelling: str) -> str:
    if not spelling:
        return f"{quote(clean)} has no unit; {kind.accepted()}"
    doubtful = AMBIGUOUS.get(skeleton(spelling), {}).get(kind.name)
    if doubtful:
        return f"{quote(clean)}: the unit {quote(spelling)} is not clear; accepted: {doubtful}"
    for other in KINDS.values():
        if spelling in other.exact or other.by_name.get(spelling):
            return f"{quote(clean)} is {other.words}, but {kind.words} is due here; {kind.accepted()}"
    return f"{quote(clean)}: {_unknown(spelling, set(kind.exact))}; {kind.accepted()}"


def _unknown(spelling: str, known: set[str]) -> str:
    word = skeleton(spelling)[:24]
    near = [key for key in sorted(known) if key.casefold() == word.casefold()]
    near = near or difflib.get_close_matches(word, sorted(known), n=1, cutoff=0.5)
    hint = f", the nearest is {quote(near[0])}" if near and near[0] else ""
    return f"unknown unit {quote(spelling)}{hint}"
