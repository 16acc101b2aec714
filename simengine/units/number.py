"""Reads the number at the head of a text: decimals, fractions of an inch, grouped thousands."""

import math
import re

from simengine.errors import InputError
from simengine.units.kinds import quote

LONGEST = 64  # characters of a quantity

_PLAIN = re.compile(r"[+-]?(?:\d{1,18}(?:\.\d{0,18})?|\.\d{1,18})(?:[eE][+-]?\d{1,3})?", re.ASCII)
_FRACTION = re.compile(r"([+-]?)(?:(\d{1,6})[ -])?(\d{1,6})/(\d{1,6})(?![\d.])", re.ASCII)
_COMMAS = re.compile(r"[+-]?\d{1,3}(?:,\d{3}){1,5}(\.\d{1,18})?(?![\d,])", re.ASCII)
_SPACES = re.compile(r"[+-]?\d{1,3}(?: \d{3}){1,5}(?:\.\d{1,18})?(?![\d/])", re.ASCII)
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_MARKS = str.maketrans(
    {"−": "-", "–": "-", "\u2011": "-", "’": "'", "\u2032": "'", "”": '"', "\u2033": '"', "\u2044": "/"}
    | {"\u00a0": " ", "\u2009": " ", "\u202f": " "}
    | {sign: f" {plain}" for sign, plain in _VULGAR.items()}
)


def tidy(text: str) -> str:
    """Return `text` with one spelling of quotes, dashes, fractions and blanks.

    Raises
    ------
    InputError
        If the text is empty or longer than any quantity.

    Examples
    --------
    >>> tidy(" 47½  in")
    '47 1/2 in'
    """
    if len(text) > LONGEST:
        raise InputError(f"{quote(text)} is too long for a quantity; accepted: at most {LONGEST} characters")
    clean = " ".join(text.translate(_MARKS).replace("''", '"').split())
    if not clean:
        raise InputError('nothing is written here; accepted: a number with its unit, e.g. "6 in"')
    return clean


def read_number(text: str) -> tuple[float, str]:
    """Return the number at the head of a tidy text, and the rest of it.

    Raises
    ------
    InputError
        If there is no number, or its marks can be read in two ways.

    Examples
    --------
    >>> read_number("47 1/2 in")
    (47.5, 'in')
    >>> read_number("1,234.5 kWh")
    (1234.5, 'kWh')
    """
    value, end = _fraction(text) or _grouped(text) or _plain(text)
    rest = text[end:]
    if rest[:1] == ",":
        raise InputError(f"{quote(text)} has a comma in its number; accepted: a decimal point, e.g. 0.5")
    if rest[:1].isdigit() or (rest[:1] == "." and rest[1:2].isdigit()):
        raise InputError(f"{quote(text)} holds two numbers in a row; accepted: one number and its unit")
    if not math.isfinite(value):
        raise InputError(f"{quote(text)} is too large a number; accepted: a finite number")
    return value, rest.strip()


def _fraction(text: str) -> tuple[float, int] | None:
    match = _FRACTION.match(text)
    if not match:
        return None
    sign, whole, above, below = match.groups()
    if int(below) == 0:
        raise InputError(f"{quote(text)} divides by zero; accepted: a fraction such as 1/2")
    value = int(whole or 0) + int(above) / int(below)
    return (-value if sign == "-" else value), match.end()


def _grouped(text: str) -> tuple[float, int] | None:
    match = _COMMAS.match(text)
    if match:
        number = match.group()
        if number.count(",") == 1 and match.group(1) is None:
            thousand, decimal = number.replace(",", ""), number.replace(",", ".")
            raise InputError(
                f"the comma in {quote(text)} can be read in two ways; accepted: {thousand} or {decimal}"
            )
        return float(number.replace(",", "")), match.end()
    match = _SPACES.match(text)
    return (float(match.group().replace(" ", "")), match.end()) if match else None


def _plain(text: str) -> tuple[float, int]:
    match = _PLAIN.match(text)
    if not match:
        raise InputError(
            f'{quote(text)} does not begin with a number; accepted: a number with its unit, e.g. "6 in"'
        )
    return float(match.group()), match.end()
