"""Numbers as a person reads them, in the metric or in the US system."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from simengine.constants import ZERO_CELSIUS
from simengine.units import System, format_si, plain_number, shown_unit, to_unit
from simengine.units.factors import KWH

KBTU_FT2 = 0.3169983
"""One kWh/m2 [kBtu/ft2] (unit identity)."""
_LEAST_HEAT = 5e-4  # of the unit; less is shown as nothing
_HEAT_UNITS = {"si": "kWh", "us": "MMBtu"}


@dataclass(frozen=True, slots=True)
class Shown:
    """The unit system of one page or screen, and how its numbers are written.

    >>> Shown("us").heat(1752.0), Shown("si").temperature(49.6)
    ('5.98 MMBtu', '50 °C')
    """

    system: System

    def heat(self, kwh: float) -> str:
        """Write an amount of heat [kWh]; one unit for all sizes, so that a column can be compared."""
        unit = _HEAT_UNITS[self.system]
        number = to_unit(kwh * KWH, "energy", unit)
        return f"{plain_number(number, 3) if abs(number) >= _LEAST_HEAT else '0'} {unit}"

    def per_area(self, kwh_per_square_metre: float) -> str:
        """Return a year's heat per area."""
        if self.system == "si":
            return f"{kwh_per_square_metre:.0f} kWh/m²"
        return f"{kwh_per_square_metre * KBTU_FT2:.1f} kBtu/ft²"

    def electricity(self, kwh: float) -> str:
        """Write an amount of electricity [kWh]; the trade counts it in kWh everywhere."""
        return format_si(kwh * KWH, "energy", "si", 3)

    def temperature(self, celsius: float) -> str:
        """Write a temperature [degC] to the whole degree."""
        unit = shown_unit(celsius + ZERO_CELSIUS, "temperature", self.system).name
        level = round(to_unit(celsius + ZERO_CELSIUS, "temperature", unit))
        return f"{level} {unit.replace('deg', '°')}"

    def area(self, square_metres: float) -> str:
        """Write an area [m2]."""
        text = format_si(square_metres, "area", self.system, 3)
        return text.replace("t2", "t²").replace("m2", "m²")

    def length(self, metres: float) -> str:
        """Write a length [m]."""
        return format_si(metres, "length", self.system, 3)

    def mass(self, kilograms: float) -> str:
        """Write a mass [kg]."""
        return format_si(kilograms, "mass", self.system, 3)

    def degree_days(self, kelvin_days: float) -> str:
        """Write heating degree days [K d] with their base, which belongs to the number.

        >>> Shown("us").degree_days(100.0)
        '180 °F d below 64.4 °F'
        """
        if self.system == "us":
            return f"{kelvin_days * 1.8:.0f} °F d below 64.4 °F"
        return f"{kelvin_days:.0f} K d below 18 °C"

    def quantity(self, value: float, kind: str) -> str:
        """Write any SI value of a kind of the unit table."""
        return format_si(value, kind, self.system, 3)


def preferred(summary: Mapping[str, Any]) -> System:
    """Return the unit system that the scenario of a run asks for, "us" where it says nothing.

    >>> preferred({"inputs": [{"group": "", "name": "units", "si": "si", "us": "si"}]})
    'si'
    """
    asked = [
        row["si"]
        for row in summary.get("inputs", [])
        if row["name"] == "units" and row["group"] in ("", "scenario")
    ]
    return "si" if asked == ["si"] else "us"


def share(value: float) -> str:
    """Write a share [-] in per cent.

    >>> share(0.6), share(0.0123)
    ('60 %', '1.2 %')
    """
    percent = 100.0 * value
    return f"{percent:.0f} %" if abs(percent) >= 10.0 else f"{round(percent, 1) + 0.0:.1f} %"


def whole(value: float) -> str:
    """Write a count [-].

    >>> whole(2920.4), whole(-0.2)
    ('2920', '0')
    """
    return f"{round(value):d}"


def money(value: float, currency: str) -> str:
    """Write a sum of money [in its currency], with cents only where they matter.

    >>> money(33.05, "USD"), money(-1250.4, "EUR")
    ('33 USD', '-1250 EUR')
    """
    return f"{round(value):d} {currency}" if abs(value) >= 10.0 else f"{value:.2f} {currency}"


def years(value: float) -> str:
    """Write a time in years [a].

    >>> years(18.12), years(2.5)
    ('18.1 years', '2.5 years')
    """
    return f"{value:.0f} years" if value >= 100.0 else f"{value:.1f} years"


def amount(value: float, unit: str) -> str:
    """Write a number [in its unit], which is kept as it was given.

    >>> amount(12.34, "gal")
    '12.3 gal'
    """
    return f"{plain_number(value, 3)} {unit}"
