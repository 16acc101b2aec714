"""The page's part on payback against the fuel price: a slider, and a table for paper."""

import base64
import hashlib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from simengine.report.price_curve import FORMS, HIGHEST, LOWEST, PriceCurve, price_curve
from simengine.report.words import house_name, sentence
from simengine.units import plain_number

STEPS = 400
"""Steps of the slider from end to end."""


@dataclass(frozen=True, slots=True)
class PricedHouse:
    """One column of the slider's table, its numbers written in full."""

    name: str
    saved: str
    other: str
    cost: str
    currency: str
    saving: str
    payback: str


@dataclass(frozen=True, slots=True)
class Prices:
    """Everything that this part of the page shows."""

    title: str
    fuel: str
    given: str
    unit: str
    low: str
    high: str
    step: str
    price: str
    houses: tuple[PricedHouse, ...]
    heads: tuple[str, ...]
    rows: tuple[tuple[str, tuple[str, ...]], ...]


def prices(houses: Mapping[str, Mapping[str, Any]]) -> Prices | None:
    """Return the part on prices; None where no house has a price and a first cost.

    Parameters
    ----------
    houses : the summary's blocks by house
    """
    curves = {name: curve for name, house in houses.items() if (curve := price_curve(house)) is not None}
    if not curves:
        return None
    name, first = next(iter(curves.items()))
    fuel = houses[name]["fuel"]
    step = _round_step(first.price)
    forms = [first.price if form == 1.0 else round(first.price * form / step) * step for form in FORMS]
    unit = str(fuel.get("price_unit") or "")
    return Prices(
        title=_title(curves),
        fuel=sentence(str(fuel.get("name") or "the fuel")),
        given=f"{first.price:.2f} {unit}",
        unit=unit,
        low=_exact(max(round(first.price * LOWEST / step), 1) * step),
        high=_exact(round(first.price * HIGHEST / step) * step),
        step=_exact(step),
        price=_exact(first.price),
        houses=tuple(_house(name, curve) for name, curve in curves.items()),
        heads=tuple(f"{price:.2f} {unit}" for price in forms),
        rows=tuple(
            (sentence(house_name(name)), tuple(_years(curve.payback(price)) for price in forms))
            for name, curve in curves.items()
        ),
    )


@cache
def script() -> str:
    """Return the page's one script: it moves the price."""
    return (Path(__file__).parent / "templates" / "prices.js").read_text(encoding="utf-8")


@cache
def script_digest() -> str:
    """Return what the page's policy lets run: that script, to the letter."""
    digest = hashlib.sha256(script().encode("utf-8")).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"


def _round_step(price: float) -> float:
    """Return one, two or five hundredths (or tenths, ...) near a hundredth of the price.

    >>> _round_step(3.75), _round_step(0.14)
    (0.05, 0.002)
    """
    raw = price * (HIGHEST - LOWEST) / STEPS
    power = 10.0 ** int(f"{raw:e}".split("e")[1])
    return float(_exact(next(power * size for size in (1.0, 2.0, 5.0, 10.0) if power * size >= raw)))


def _house(name: str, curve: PriceCurve) -> PricedHouse:
    return PricedHouse(
        sentence(house_name(name)),
        repr(curve.saved),
        repr(curve.other),
        repr(curve.first_cost),
        curve.currency,
        f"{curve.net_saving(curve.price):.2f} {curve.currency}",
        _years(curve.payback(curve.price)),
    )


def _title(curves: Mapping[str, PriceCurve]) -> str:
    curve = next(iter(curves.values()))
    double, once = curve.payback(2.0 * curve.price), curve.payback(curve.price)
    if once is None or double is None:
        return "Payback against the fuel price"
    house = house_name(next(iter(curves)))
    return f"At twice the fuel price the {house} has paid for it in {double:.0f} instead of {once:.0f} years"


def _years(value: float | None) -> str:
    return "never" if value is None else f"{value:.1f} years"


def _exact(value: float) -> str:
    return plain_number(value, 12)
