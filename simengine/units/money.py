"""Reads and writes money and prices, "2.79 USD/gal"; the currency stays a name, it is never converted."""

import difflib
from dataclasses import dataclass
from typing import Final

from simengine.errors import InputError
from simengine.units.kinds import Unit, quote, skeleton
from simengine.units.number import read_number, tidy
from simengine.units.show import System, plain_number
from simengine.units.table import KINDS

CURRENCIES: Final = (
    "USD", "CAD", "EUR", "GBP", "CHF", "AUD", "NZD", "SEK", "NOK", "DKK", "ISK", "PLN", "CZK",
    "HUF", "RON", "BGN", "TRY", "JPY", "CNY", "INR", "KRW", "MXN", "CLP", "ARS", "ZAR",
)  # fmt: skip
"""Currencies by their ISO 4217 code."""

SOLD_BY: Final = ("energy", "volume", "mass")
"""Kinds of quantity that a fuel is sold by."""

_CODES: Final = "a code of ISO 4217 such as USD, CAD, EUR, GBP"
_SIGNS: Final = {"€": "EUR", "£": "GBP"}
_DOLLAR: Final = '"USD", "CAD", "AUD" or "NZD" in the place of "$"'
_SHOWN: Final = {
    "energy": {"si": "kWh", "us": "MMBtu"},
    "volume": {"si": "L", "us": "gal"},
    "mass": {"si": "kg", "us": "lb"},
}


_AT_HOME: Final = {
    "si": ("kWh", "MWh", "MJ", "GJ", "L", "m3", "kg", "t", "stere"),
    "us": ("kWh", "therm", "MMBtu", "gal", "ft3", "ccf", "kcf", "cord", "lb", "short ton"),
}


@dataclass(frozen=True, slots=True)
class Amount:
    """A sum of money."""

    value: float  # [currency]
    currency: str


@dataclass(frozen=True, slots=True)
class Price:
    """What one unit of something costs."""

    value: float  # [currency/unit]
    currency: str
    unit: str  # as sold, e.g. "gal"
    kind: str  # "energy", "volume" or "mass"

    @property
    def per_si(self) -> float:
        """Price of one J, m3 or kg [currency/SI unit]."""
        return self.value / KINDS[self.kind].by_name[self.unit].factor


def parse_money(text: str) -> Amount:
    """Return a sum of money that is written with its currency.

    Parameters
    ----------
    text
        Number and ISO 4217 code, e.g. "2400 USD".

    Returns
    -------
    Amount
        Value and currency.

    Raises
    ------
    InputError
        If there is no number, or no currency of the list.

    Examples
    --------
    >>> parse_money("2400 USD")
    Amount(value=2400.0, currency='USD')
    """
    clean = tidy(text)
    if clean[0] == "$":
        raise InputError(f"{quote(clean)}: the dollar may be of several countries; accepted: {_DOLLAR}")
    if clean[0] in _SIGNS:
        clean = f"{clean[1:]} {_SIGNS[clean[0]]}"
    value, word = read_number(tidy(clean))
    return Amount(value, _currency(clean, word, '"2400 USD"'))


def parse_price(text: str) -> Price:
    """Return a price per unit of energy, volume or mass.

    Parameters
    ----------
    text
        E.g. "2.79 USD/gal", "0.31 EUR/kWh", "1.35 USD/therm".

    Returns
    -------
    Price
        Value, currency and the unit as it was written.

    Raises
    ------
    InputError
        If a part is missing or not known.

    Examples
    --------
    >>> parse_price("3.60 USD/gal").unit
    'gal'
    """
    clean = tidy(text)
    if "$" in clean:
        raise InputError(f"{quote(clean)}: the dollar may be of several countries; accepted: {_DOLLAR}")
    value, word = read_number(clean.replace(" per ", "/"))
    money, slash, per = word.partition("/")
    currency = _currency(clean, money.strip(), '"2.79 USD/gal"')
    if not slash:
        raise InputError(
            f'{quote(clean)} is money, but a price per unit is due; accepted: e.g. "2.79 USD/gal"'
        )
    kind, unit = _sold_unit(clean, per)
    return Price(value, currency, unit.name, kind)


def format_price(price: Price, system: System) -> str:
    """Return a price per metric or US unit.

    Parameters
    ----------
    price
        The price.
    system
        "si" or "us".

    Returns
    -------
    str
        The price as it was written where that unit belongs to the system, else converted.

    Examples
    --------
    >>> format_price(Price(3.785411784, "USD", "gal", "volume"), "si")
    '1 USD/L'
    """
    name = price.unit if price.unit in _AT_HOME[system] else _SHOWN[price.kind][system]
    unit = KINDS[price.kind].by_name[name]
    return f"{plain_number(price.per_si * unit.factor)} {price.currency}/{unit.name}"


def _currency(clean: str, word: str, example: str) -> str:
    code = _SIGNS.get(word, word.upper())
    if code in CURRENCIES:
        return code
    if not word:
        raise InputError(f"{quote(clean)} has no currency; accepted: e.g. {example}")
    if "/" in word and _SIGNS.get(word.partition("/")[0], word.partition("/")[0].upper()) in CURRENCIES:
        raise InputError(
            f"{quote(clean)} is a price per unit, but a sum of money is due; accepted: e.g. {example}"
        )
    near = difflib.get_close_matches(code[:24], CURRENCIES, n=1)
    hint = f", the nearest is {quote(near[0])}" if near else ""
    raise InputError(
        f"{quote(clean)}: unknown currency {quote(word)}{hint}; accepted: {_CODES}, e.g. {example}"
    )


def _sold_unit(clean: str, per: str) -> tuple[str, Unit]:
    for kind in SOLD_BY:
        unit = KINDS[kind].find(per)
        if unit is not None:
            return kind, unit
    if skeleton(per) in ("ton", "tons"):
        raise InputError(
            f'{quote(clean)}: the unit "ton" is not clear; accepted: "short ton" (907 kg), "t" (1000 kg)'
        )
    names = [unit.name for kind in SOLD_BY for unit in KINDS[kind].units]
    known = {key for kind in SOLD_BY for key in KINDS[kind].exact}
    near = difflib.get_close_matches(skeleton(per)[:24], sorted(known), n=1, cutoff=0.5)
    hint = f", the nearest is {quote(near[0])}" if near else ""
    raise InputError(f"{quote(clean)}: unknown unit {quote(per)}{hint}; accepted: {', '.join(names)}")
