"""Exact factors of the units that the tables are built from, in SI."""

from typing import Final

from simengine.constants import STANDARD_AIR_DENSITY

INCH: Final = 0.0254
FOOT: Final = 0.3048
POUND: Final = 0.45359237
BTU: Final = 1055.05585262  # International Table
DEGREE_F: Final = 5 / 9
HOUR: Final = 3600.0
DAY: Final = 24 * HOUR
FOOT2: Final = 0.09290304
FOOT3: Final = 0.028316846592
GALLON: Final = 0.003785411784  # US liquid, 231 in3
LITRE: Final = 1e-3
KWH: Final = 3.6e6
CFM: Final = FOOT3 / 60
SCFM: Final = CFM * STANDARD_AIR_DENSITY
