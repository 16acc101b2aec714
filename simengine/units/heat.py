"""Units of temperature, heat and what resists, carries or stores it."""

from typing import Final

from simengine.constants import GRAVITY, ZERO_CELSIUS
from simengine.units.factors import BTU, DAY, DEGREE_F, FOOT, FOOT2, HOUR, INCH, KWH, POUND
from simengine.units.kinds import Kind, Unit

_POWERS = (
    Unit("W", 1.0, "watt|watts"),
    Unit("kW", 1e3),
    Unit("Btu/h", BTU / HOUR, "Btu/hr|Btuh"),
    Unit("kBtu/h", 1e3 * BTU / HOUR, "kBtu/hr"),
    Unit("hp", 550 * FOOT * POUND * GRAVITY),
)
_ENERGIES = (
    Unit("J", 1.0),
    Unit("kJ", 1e3),
    Unit("MJ", 1e6),
    Unit("GJ", 1e9),
    Unit("Wh", HOUR),
    Unit("kWh", KWH),
    Unit("MWh", 1e3 * KWH),
    Unit("Btu", BTU),
    Unit("kBtu", 1e3 * BTU),
    Unit("MMBtu", 1e6 * BTU, "mmBtu"),
    Unit("therm", 1e5 * BTU, "therms"),
)
_DIFFERENCES = (
    Unit("K", 1.0, "kelvin"),
    Unit("degC", 1.0, "celsius"),
    Unit("degF", DEGREE_F, "fahrenheit"),
)
_U_VALUES = (
    Unit("W/m2K", 1.0, "W/m2degC"),
    Unit("Btu/h.ft2.degF", BTU / HOUR / FOOT2 / DEGREE_F, "Btu/hr.ft2.degF|Btu/ft2.h.degF"),
)

HEAT: Final = (
    Kind(
        "temperature",
        "a temperature",
        "68 degF",
        (
            Unit("K", 1.0, "kelvin"),
            Unit("degC", 1.0, "celsius", ZERO_CELSIUS),
            Unit("degF", DEGREE_F, "fahrenheit", ZERO_CELSIUS - 32 * DEGREE_F),
        ),
        si=(("degC", 0.0),),
        us=(("degF", 0.0),),
    ),
    Kind(
        "temperature_difference",
        "a temperature difference",
        "9 K",
        _DIFFERENCES,
        si=(("K", 0.0),),
        us=(("degF", 0.0),),
    ),
    Kind("power", "a power", "30 W", _POWERS, si=(("W", 0.0), ("kW", 1e4)), us=(("Btu/h", 0.0),)),
    Kind("electric_power", "an electric power", "30 W", _POWERS, si=(("W", 0.0),), us=(("W", 0.0),)),
    Kind(
        "energy",
        "an energy",
        "1200 kWh",
        _ENERGIES,
        si=(("kWh", 0.0),),
        us=(("kBtu", 0.0), ("MMBtu", 1e6 * BTU)),
    ),
    Kind(
        "thermal_resistance",
        "a thermal resistance",
        "R-6",
        (
            Unit("m2K/W", 1.0, "m2degC/W"),
            Unit("h.ft2.degF/Btu", HOUR * FOOT2 * DEGREE_F / BTU, "hr.ft2.degF/Btu|ft2.h.degF/Btu"),
        ),
        si=(("m2K/W", 0.0),),
        us=(("R-", 0.0),),
    ),
    Kind("u_value", "a U-value", "1.7 W/m2K", _U_VALUES, si=(("W/m2K", 0.0),), us=(("Btu/h.ft2.degF", 0.0),)),
    Kind(
        "conductance",
        "a conductance",
        "2 W/K",
        (Unit("W/K", 1.0, "W/degC"), Unit("Btu/h.degF", BTU / HOUR / DEGREE_F, "Btu/hr.degF")),
        si=(("W/K", 0.0),),
        us=(("Btu/h.degF", 0.0),),
    ),
    Kind(
        "conductivity",
        "a thermal conductivity",
        "0.036 W/mK",
        (
            Unit("W/mK", 1.0, "W/m.degC"),
            Unit("Btu/h.ft.degF", BTU / HOUR / FOOT / DEGREE_F, "Btu/hr.ft.degF"),
            Unit("Btu.in/h.ft2.degF", BTU * INCH / HOUR / FOOT2 / DEGREE_F, "Btu.in/hr.ft2.degF"),
        ),
        si=(("W/mK", 0.0),),
        us=(("Btu.in/h.ft2.degF", 0.0),),
    ),
    Kind(
        "specific_heat",
        "a specific heat",
        "840 J/kgK",
        (
            Unit("J/kgK", 1.0, "J/kg.degC"),
            Unit("kJ/kgK", 1e3, "kJ/kg.degC"),
            Unit("Btu/lb.degF", BTU / POUND / DEGREE_F),
        ),
        si=(("J/kgK", 0.0),),
        us=(("Btu/lb.degF", 0.0),),
    ),
    Kind(
        "areal_heat_capacity",
        "a heat capacity per area",
        "8 kJ/m2K",
        (
            Unit("J/m2K", 1.0),
            Unit("kJ/m2K", 1e3),
            Unit("Wh/m2K", HOUR),
            Unit("Btu/ft2.degF", BTU / FOOT2 / DEGREE_F),
        ),
        si=(("kJ/m2K", 0.0),),
        us=(("Btu/ft2.degF", 0.0),),
    ),
    Kind(
        "irradiance",
        "an irradiance",
        "800 W/m2",
        (
            Unit("W/m2", 1.0),
            Unit("kW/m2", 1e3),
            Unit("Btu/h.ft2", BTU / HOUR / FOOT2, "Btu/hr.ft2|Btu/ft2.h"),
        ),
        si=(("W/m2", 0.0),),
        us=(("Btu/h.ft2", 0.0),),
    ),
    Kind(
        "daily_irradiation",
        "a daily irradiation",
        "3.6 kWh/m2.d",
        (
            Unit("W/m2", 1.0),
            Unit("kWh/m2.d", 1e3 / 24.0, "kWh/m2.day|kWh/m2/d|kWh/m2/day"),
            Unit("MJ/m2.d", 1e6 / DAY, "MJ/m2.day|MJ/m2/d|MJ/m2/day"),
            Unit("Btu/ft2.d", BTU / DAY / FOOT2, "Btu/ft2.day|Btu/ft2/d|Btu/ft2/day"),
        ),
        si=(("kWh/m2.d", 0.0),),
        us=(("Btu/ft2.d", 0.0),),
    ),
)
