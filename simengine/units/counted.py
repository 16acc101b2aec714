"""Units of time, electricity, shares, and of fuels by what they hold and give off."""

from typing import Final

from simengine.units.factors import BTU, FOOT3, GALLON, HOUR, KWH, LITRE, POUND
from simengine.units.kinds import Kind, Unit

COUNTED: Final = (
    Kind(
        "time",
        "a time",
        "5 min",
        (
            Unit("s", 1.0, "sec|second|seconds"),
            Unit("min", 60.0, "minute|minutes"),
            Unit("h", HOUR, "hr|hour|hours"),
            Unit("d", 24 * HOUR, "day|days"),
        ),
        si=(("s", 0.0), ("min", 120.0), ("h", 7200.0), ("d", 48 * HOUR)),
        us=(("s", 0.0), ("min", 120.0), ("h", 7200.0), ("d", 48 * HOUR)),
    ),
    Kind(
        "voltage",
        "a voltage",
        "17.5 V",
        (Unit("V", 1.0, "volt|volts"), Unit("mV", 1e-3)),
        si=(("V", 0.0),),
        us=(("V", 0.0),),
    ),
    Kind(
        "current",
        "a current",
        "1.2 A",
        (Unit("A", 1.0, "amp|amps|ampere|amperes"), Unit("mA", 1e-3)),
        si=(("A", 0.0),),
        us=(("A", 0.0),),
    ),
    Kind(
        "years",
        "a number of years",
        "20 years",
        (Unit("years", 1.0, "year|a|yr|yrs"), Unit("months", 1 / 12, "month")),
        si=(("years", 0.0),),
        us=(("years", 0.0),),
    ),
    Kind(
        "fraction",
        "a share",
        "85 %",
        (Unit("", 1.0), Unit("%", 0.01, "percent|pct")),
        si=(("", 0.0),),
        us=(("", 0.0),),
        bare=True,
    ),
    Kind(
        "percent_per_year",
        "a yearly rate",
        "3 %",
        (Unit("", 1.0, "1/year|1/a"), Unit("%", 0.01, "percent|%/year|%/a|percent/year")),
        si=(("%", 0.0),),
        us=(("%", 0.0),),
        bare=True,
    ),
    Kind(
        "emission_factor",
        "an emission factor",
        "0.25 kg/kWh",
        (
            Unit("kg/J", 1.0),
            Unit("kg/MJ", 1e-6),
            Unit("kg/GJ", 1e-9),
            Unit("g/kWh", 1e-3 / KWH),
            Unit("kg/kWh", 1 / KWH),
            Unit("kg/MWh", 1e-3 / KWH),
            Unit("kg/MMBtu", 1e-6 / BTU, "kg/mmBtu"),
            Unit("lb/MMBtu", 1e-6 * POUND / BTU, "lb/mmBtu"),
            Unit("lb/kWh", POUND / KWH),
        ),
        si=(("kg/kWh", 0.0),),
        us=(("lb/MMBtu", 0.0),),
    ),
    Kind(
        "heat_content_volume",
        "a heat content per volume",
        "138500 Btu/gal",
        (
            Unit("J/m3", 1.0),
            Unit("MJ/m3", 1e6),
            Unit("MJ/L", 1e9, "MJ/l"),
            Unit("kWh/m3", KWH),
            Unit("kWh/L", KWH / LITRE, "kWh/l"),
            Unit("Btu/gal", BTU / GALLON),
            Unit("Btu/ft3", BTU / FOOT3, "Btu/cf"),
            Unit("MMBtu/cord", 1e6 * BTU / (128 * FOOT3)),
        ),
        si=(("kWh/m3", 0.0), ("kWh/L", 1e9)),
        us=(("Btu/ft3", 0.0), ("Btu/gal", 1e9)),
    ),
    Kind(
        "heat_content_mass",
        "a heat content per mass",
        "5.3 kWh/kg",
        (
            Unit("J/kg", 1.0),
            Unit("MJ/kg", 1e6),
            Unit("kWh/kg", KWH),
            Unit("Btu/lb", BTU / POUND),
            Unit("MMBtu/short ton", 1e6 * BTU / (2000 * POUND)),
        ),
        si=(("kWh/kg", 0.0),),
        us=(("Btu/lb", 0.0),),
    ),
)
