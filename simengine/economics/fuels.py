"""The fuel table: heat content with its basis, emission factor, source and date of each fuel.

Prices are never kept here: they are data of a scenario, with a date and a place.
"""

from dataclasses import dataclass
from typing import Final

from simengine.errors import InputError
from simengine.units.factors import BTU, KWH

BASES: Final = ("higher", "lower")
"""Heating values that a heat content or an efficiency may count on."""

KWH_PER_BTU: Final = BTU / KWH
"""Heat of one Btu (International Table) [kWh] (ISO 31-4 definition; 1 kWh is 3412.14 Btu)."""

KWH_PER_MMBTU: Final = 1.0e6 * KWH_PER_BTU
"""Heat of one million Btu [kWh]."""

LITRE_PER_GALLON: Final = 3.785411784
"""US gallon [L] (definition)."""

CUBIC_METRE_PER_CUBIC_FOOT: Final = 0.3048**3
"""Cubic foot [m3] (definition of the foot)."""

KG_PER_POUND: Final = 0.45359237
"""Pound [kg] (definition)."""

KG_PER_SHORT_TON: Final = 2000.0 * KG_PER_POUND
"""US short ton [kg] (definition)."""

CUBIC_FOOT_PER_CORD: Final = 128.0
"""Cord of stacked wood [ft3] (definition, 4 x 4 x 8 ft)."""

ENERGY_UNITS: Final = {
    "kWh": 1.0,
    "MWh": 1000.0,
    "GJ": 1.0e9 / 3.6e6,
    "MJ": 1.0e6 / 3.6e6,
    "MMBtu": KWH_PER_MMBTU,
    "therm": 1.0e5 * KWH_PER_BTU,
}
"""Units in which any fuel may be sold [kWh]; they count heat on the higher heating value."""

_EIA = "US Energy Information Administration, units and calculators"
_CFR = "40 CFR 98 subpart C, table C-1"
_PRACTICE = "lower/higher ratio: common practice"


@dataclass(frozen=True, slots=True)
class Fuel:
    """One fuel, counted on its higher heating value; the lower one is a stated share of it."""

    key: str
    name: str
    unit: str  # usual unit of sale
    heat_content: float  # [kWh/unit] higher heating value
    lower_to_higher: float  # [-] lower / higher heating value
    emission_factor: float | None  # [kg/kWh] CO2 per heat content (higher); None: depends on the place
    source: str
    date: str
    other_units: tuple[tuple[str, float], ...] = ()  # (name, usual units in one of it)
    biogenic: bool = False  # the carbon was taken from the air when the plant grew

    def units(self) -> tuple[str, ...]:
        """Return every unit that this fuel may be sold in."""
        own = (self.unit, *(name for name, _ in self.other_units))
        return (*own, *(name for name in ENERGY_UNITS if name not in own))


def _per_mmbtu(kilograms: float) -> float:
    return kilograms / KWH_PER_MMBTU


_GALLON = (("L", 1.0 / LITRE_PER_GALLON), ("m3", 1000.0 / LITRE_PER_GALLON))
_TON = (("kg", 1.0 / KG_PER_SHORT_TON), ("t", 1000.0 / KG_PER_SHORT_TON), ("lb", 1.0 / 2000.0))
_CUBIC_FOOT = (("m3", 1.0 / CUBIC_METRE_PER_CUBIC_FOOT), ("ccf", 100.0), ("kcf", 1000.0))
_STERE = 1.0 / (CUBIC_FOOT_PER_CORD * CUBIC_METRE_PER_CUBIC_FOOT)

FUELS: Final = {
    fuel.key: fuel
    for fuel in (
        Fuel(
            key="heating_oil",
            name="heating oil (No. 2)",
            unit="gal",
            heat_content=138_500.0 * KWH_PER_BTU,
            lower_to_higher=0.94,
            emission_factor=_per_mmbtu(73.96),
            source=f"138,500 Btu/gal: {_EIA}; CO2: {_CFR}; {_PRACTICE}",
            date="2021; 2016-12-09",
            other_units=_GALLON,
        ),
        Fuel(
            key="natural_gas",
            name="natural gas",
            unit="therm",
            heat_content=1.0e5 * KWH_PER_BTU,
            lower_to_higher=0.903,
            emission_factor=_per_mmbtu(53.06),
            source=f"1,039 Btu/ft3 at 60 degF, 14.73 psia: {_EIA}; CO2: {_CFR}; lower/higher: methane",
            date="2021; 2016-12-09",
            other_units=tuple((name, 1039.0e-5 * feet) for name, feet in (("ft3", 1.0), *_CUBIC_FOOT)),
        ),
        Fuel(
            key="propane",
            name="propane",
            unit="gal",
            heat_content=91_452.0 * KWH_PER_BTU,
            lower_to_higher=0.921,
            emission_factor=_per_mmbtu(62.87),
            source=f"91,452 Btu/gal: {_EIA}; CO2: {_CFR}; lower/higher: 46.3/50.3 MJ/kg, thermochemistry",
            date="2021; 2016-12-09",
            other_units=_GALLON,
        ),
        Fuel(
            key="kerosene",
            name="kerosene",
            unit="gal",
            heat_content=135_000.0 * KWH_PER_BTU,
            lower_to_higher=0.94,
            emission_factor=_per_mmbtu(75.20),
            source=f"135,000 Btu/gal and CO2: {_CFR}; {_PRACTICE}",
            date="2016-12-09",
            other_units=_GALLON,
        ),
        Fuel(
            key="firewood",
            name="cord wood, seasoned",
            unit="cord",
            heat_content=20.0 * KWH_PER_MMBTU,
            lower_to_higher=0.92,
            emission_factor=_per_mmbtu(93.80),
            source=f"20 MMBtu/cord, a round value (15 to 30 by species): {_EIA}; CO2 from memory of {_CFR}; "
            f"{_PRACTICE}",
            date="2021; 2016-12-09",
            other_units=(("stere", _STERE),),
            biogenic=True,
        ),
        Fuel(
            key="pellets",
            name="wood pellets, 5-10 % moisture",
            unit="short ton",
            heat_content=16.5 * KWH_PER_MMBTU,
            lower_to_higher=0.93,
            emission_factor=_per_mmbtu(93.80),
            source="16.5 MMBtu/short ton: Oregon State University extension fuel sheet; CO2 from memory of "
            f"{_CFR}; {_PRACTICE}",
            date="undated; 2016-12-09",
            other_units=_TON,
            biogenic=True,
        ),
        Fuel(
            key="anthracite",
            name="anthracite coal",
            unit="short ton",
            heat_content=25.09 * KWH_PER_MMBTU,
            lower_to_higher=0.975,
            emission_factor=_per_mmbtu(103.69),
            source=f"25.09 MMBtu/short ton and CO2: {_CFR}; {_PRACTICE}",
            date="2016-12-09",
            other_units=_TON,
        ),
        Fuel(
            key="electricity",
            name="electricity",
            unit="kWh",
            heat_content=1.0,
            lower_to_higher=1.0,
            emission_factor=1532.0e9 / 4_183_271.0e6,
            source="CO2: US grid mean 2023, 1,532 Mt over 4,183,271 GWh (EIA, question 74); "
            "other grids differ tenfold: give your own",
            date="2023",
        ),
        Fuel(
            key="district_heat",
            name="district heat",
            unit="kWh",
            heat_content=1.0,
            lower_to_higher=1.0,
            emission_factor=None,
            source="metered heat; CO2 depends on the network: give your own",
            date="definition",
        ),
    )
}
"""Every fuel by its key."""


def fuel_named(key: str) -> Fuel:
    """Return the fuel with this key.

    Parameters
    ----------
    key : name in the fuel table

    Returns
    -------
    the fuel

    Raises
    ------
    InputError
        No such fuel; the line lists those there are.

    >>> round(fuel_named("heating_oil").heat_content, 2)  # kWh in a gallon
    40.59
    """
    try:
        return FUELS[key]
    except KeyError:
        raise InputError(f"fuel: '{key:.80}' is not in the table; accepted: {', '.join(FUELS)}") from None


def heat_per_unit(fuel: Fuel, unit: str = "", basis: str = "higher") -> float:
    """Return the heat in one unit of a fuel.

    Parameters
    ----------
    fuel : the fuel
    unit : unit of sale; "" is the usual one
    basis : "higher" or "lower" heating value

    Returns
    -------
    heat content [kWh/unit]

    Raises
    ------
    InputError
        Unknown unit or basis.

    Source: definitions; an energy unit counts the higher heating value, as meters and bills do
    (common practice).

    >>> round(heat_per_unit(fuel_named("heating_oil"), "L"), 3)
    10.723
    """
    if basis not in BASES:
        raise InputError(f"fuel '{fuel.key}': basis '{basis:.80}'; accepted: {', '.join(BASES)}")
    share = 1.0 if basis == "higher" else fuel.lower_to_higher
    if unit in ("", fuel.unit):
        return fuel.heat_content * share
    others = dict(fuel.other_units)
    if unit in others:
        return fuel.heat_content * others[unit] * share
    if unit in ENERGY_UNITS:
        return ENERGY_UNITS[unit] * share
    raise InputError(f"fuel '{fuel.key}': unit '{unit:.80}'; accepted: {', '.join(fuel.units())}")
