"""The year in one sentence: what a person asks first, is it worth building."""

from collections.abc import Mapping
from functools import partial
from typing import Any

from simengine.report import shown
from simengine.report.lines import currency
from simengine.report.shown import Shown
from simengine.report.within import plus_minus, span
from simengine.report.words import house_name, part_name, printable, sentence


def verdict(summary: Mapping[str, Any], units: Shown) -> str:
    """Return the verdict on a run, one line.

    Parameters
    ----------
    summary : content of `summary.json`
    units : the unit system to write in

    Returns
    -------
    A sentence that names every house, and any part that runs too hot.
    """
    parts = [f"{house_name(name)} {_house(house, units)}" for name, house in summary["houses"].items()]
    line = sentence("; ".join(parts))
    hot = too_hot(summary)
    if hot:
        names = ", ".join(part_name(str(limit["part"])) for limit in hot)
        line += f". Too hot with the fan off: {names}"
    return f"{line}."


def too_hot(summary: Mapping[str, Any]) -> list[Mapping[str, Any]]:
    """Return the parts whose hottest temperature passes their limit."""
    return [
        limit
        for limit in summary["limits"]
        if limit.get("limit_c") is not None
        and limit.get("hottest_c") is not None
        and limit["hottest_c"] > limit["limit_c"]
    ]


def _house(house: Mapping[str, Any], units: Shown) -> str:
    offset = house["offset_kwh"]
    if offset <= 0.0:
        return f"saves no heating ({units.heat(offset)} a year)"
    band = house.get("spread") or {}
    heat = plus_minus(band.get("offset_kwh", {}), units.heat) or units.heat(offset)
    fuel = house.get("fuel") or {}
    net = fuel.get("net_saving")
    if net is None:
        return f"saves {heat} of heating a year"
    if net <= 0.0 and fuel.get("price") == 0.0:
        return f"saves {heat} a year of a fuel that costs nothing"
    if net <= 0.0:
        return f"saves {heat} a year, but the fan costs more than that is worth"
    money = partial(shown.money, currency=currency(house))
    worth = plus_minus(band.get("net_saving", {}), money) or money(net)
    burnt = _unburnt(fuel, band)
    saved = f"{burnt} ({heat}, {worth})" if burnt else f"{heat} and {worth}"
    return f"saves {saved} a year{_payback(house)}"


def _unburnt(fuel: Mapping[str, Any], band: Mapping[str, Any]) -> str:
    """Return the fuel that is saved, as "41 ± 12 gal of heating oil"; nothing where it has no name."""
    saved, name = fuel.get("saved"), str(fuel.get("name") or "").split(" (")[0]
    if saved is None or not name:
        return ""
    amount = partial(shown.amount, unit=str(fuel.get("unit") or ""))
    return printable(f"{plus_minus(band.get('fuel_saved', {}), amount) or amount(float(saved))} of {name}")


def _payback(house: Mapping[str, Any]) -> str:
    economics = house.get("economics") or {}
    time = economics.get("simple_payback_a")
    if time is None:
        return ""
    counted = economics.get("years")
    ends = span((house.get("spread") or {}).get("simple_payback_a", {}), shown.years)
    ends = f" ({ends.removesuffix(' years')})" if ends else ""
    if counted is not None and time > counted:
        return f", not paid back within {counted:g} years{ends}"
    return f", paid back in {shown.years(time)}{ends}"
