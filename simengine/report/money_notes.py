"""What has to be known about the money of a run: fuels, prices, a bill, a payback that comes too late."""

from collections.abc import Iterator, Mapping
from typing import Any

from simengine.report import shown
from simengine.report.words import house_name

House = Mapping[str, Any]


def money_notes(houses: Mapping[str, House]) -> list[str]:
    """Return each note once, in the order of the houses.

    Parameters
    ----------
    houses : the summary's blocks by house
    """
    told: list[str] = []
    late: list[str] = []
    for name, house in houses.items():
        told += _of_the_bill(name, house)
        told += _of_the_fuels(house)
        economics = house.get("economics") or {}
        told += economics.get("notes", [])
        if economics.get("simple_payback_note"):
            late.append(house_name(name))
            reason = str(economics["simple_payback_note"])
        if economics.get("discounted_payback_first_a") is not None:
            first = shown.years(float(economics["discounted_payback_first_a"]))
            told.append(
                f"{house_name(name)}: the discounted sum first passes zero after {first}, then dips again "
                "where parts are bought anew"
            )
    if late:
        told.append(f"simple payback ({', '.join(late)}): {reason}")
    return list(dict.fromkeys(told))


def _of_the_bill(name: str, house: House) -> Iterator[str]:
    found = house.get("calibration")
    if found:
        yield (
            f"{house_name(name)}: its losses are scaled by {found['factor']:.2f} to meet the fuel bill; "
            "`simengine calibrate` lists what that takes for granted"
        )


def _of_the_fuels(house: House) -> Iterator[str]:
    fuels = house.get("fuels") or []
    if len(fuels) < 2:
        yield from _fuel("fuel", house.get("fuel") or {})
    for fuel in fuels if len(fuels) > 1 else []:
        yield from _fuel(f"{fuel['heater']}, {shown.share(fuel['share'])} of the heat", fuel)


def _fuel(head: str, fuel: House) -> Iterator[str]:
    if fuel.get("name") is None or (fuel.get("price") is None and not fuel.get("price_by_hour")):
        return
    origin = ", ".join(str(fuel[key]) for key in ("price_place", "price_date") if fuel.get(key))
    if fuel.get("price_by_hour"):  # its mean differs from house to house
        price = f"by a tariff of hours and months in {fuel.get('price_unit')}"
    else:
        price = f"at {float(fuel['price']):.4g} {fuel.get('price_unit') or ''}".strip()
    counted = fuel.get("basis") and fuel["name"] != "electricity"
    basis = f"; counted on the {fuel['basis']} heating value" if counted else ""
    yield f"{head}: {fuel['name']} {price}{f' ({origin})' if origin else ''}{basis}"
