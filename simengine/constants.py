"""Physical constants, one meaning each, with unit and source."""

from typing import Final

STEFAN_BOLTZMANN: Final = 5.670374419e-8
"""Stefan-Boltzmann constant sigma [W/m2K4] (CODATA 2018)."""

GRAVITY: Final = 9.80665
"""Standard acceleration of gravity g [m/s2] (CODATA)."""

ZERO_CELSIUS: Final = 273.15
"""Temperature of 0 degC [K] (definition)."""

STANDARD_PRESSURE: Final = 101325.0
"""Standard atmosphere [Pa] (definition)."""

GAS_CONSTANT_DRY_AIR: Final = 287.05
"""Specific gas constant of dry air [J/kgK] (US Standard Atmosphere 1976, rounded)."""

SPECIFIC_HEAT_AIR: Final = 1006.0
"""Specific heat of air at constant pressure [J/kgK] (handbook value near 300 K)."""

STANDARD_AIR_DENSITY: Final = 1.2014
"""Density of the fan trade's standard air, 0.075 lb/ft3 [kg/m3]."""
