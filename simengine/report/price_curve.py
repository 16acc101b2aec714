"""Payback against the price of the fuel: the numbers that the page's slider works with."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

House = Mapping[str, Any]

LOWEST, HIGHEST = 0.25, 4.0
"""Ends of the slider, as shares of the price given [-]."""

FORMS = (0.5, 0.75, 1.0, 1.5, 2.0, 3.0)
"""Prices of the table, as shares of the price given [-]."""


@dataclass(frozen=True, slots=True)
class PriceCurve:
    """What a house saves and costs, with the price of its main fuel left open."""

    saved: float  # [unit of the fuel] a year
    other: float  # [money] saved a year by other fuels, less what the fan costs
    first_cost: float  # [money]
    price: float  # [money per unit] as given
    unit: str
    currency: str

    def net_saving(self, price: float) -> float:
        """Return what is saved in the first year at a price [money].

        >>> PriceCurve(10.0, -5.0, 90.0, 2.0, "gal", "USD").net_saving(3.0)
        25.0
        """
        return self.saved * price + self.other

    def payback(self, price: float) -> float | None:
        """Return first cost over the first year's saving [years]; None where nothing is saved.

        >>> curve = PriceCurve(10.0, -5.0, 90.0, 2.0, "gal", "USD")
        >>> curve.payback(2.0), curve.payback(0.5)
        (6.0, None)
        """
        saving = self.net_saving(price)
        return self.first_cost / saving if saving > 0.0 else None


def price_curve(house: House) -> PriceCurve | None:
    """Return the curve of a house; None where fuel, price or first cost are not known.

    Parameters
    ----------
    house : a house's block of the summary
    """
    fuel, economics = house.get("fuel") or {}, house.get("economics") or {}
    known = [fuel.get("saved"), fuel.get("price"), fuel.get("net_saving"), economics.get("first_cost")]
    if any(value is None for value in known) or not fuel["price"] > 0.0:
        return None
    return PriceCurve(
        saved=float(fuel["saved"]),
        other=float(fuel["net_saving"]) - float(fuel["saved"]) * float(fuel["price"]),
        first_cost=float(economics["first_cost"]),
        price=float(fuel["price"]),
        unit=str(fuel.get("unit") or ""),
        currency=str(fuel.get("currency") or ""),
    )
