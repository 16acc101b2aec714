"""The one canonical weather series, and the findings that travel with it."""

from dataclasses import dataclass
from typing import Final, Literal

import pandas as pd

REQUIRED_COLUMNS: Final = (
    "ghi",
    "dni",
    "dhi",
    "temp_air",
    "temp_dew",
    "relative_humidity",
    "pressure",
    "wind_speed",
    "albedo",
)
"""Columns that hold a number in every interval."""

OPTIONAL_COLUMNS: Final = ("longwave_down", "snow_depth")
"""Columns that are NaN throughout where the file has none."""

COLUMNS: Final = REQUIRED_COLUMNS + OPTIONAL_COLUMNS

TYPICAL_YEAR: Final = 2001
"""The one calendar year on which every typical year is placed (365 days, begins on a Monday)."""

Severity = Literal["info", "warning", "error"]


@dataclass(frozen=True)
class Finding:
    """One thing that a reader noticed: how grave it is, what it is, and when it is so."""

    severity: Severity
    message: str
    when: str = ""

    def __str__(self) -> str:
        """Return the finding as one line."""
        return f"{self.severity}: {self.message}" + (f" ({self.when})" if self.when else "")


@dataclass(frozen=True)
class WeatherSeries:
    """Whole years of weather at one place, interval-start labelled, in fixed columns and SI units.

    Attributes
    ----------
    station, format : str
        The station's name as the file gives it; the short name of the file's format.
    latitude, longitude : float
        Position [deg], north and east positive.
    elevation : float
        Height above sea level [m].
    utc_offset : float
        What the clock of the index is ahead of UTC [h]; it may be fractional.
    step : int
        Length of an interval [s].
    wind_height : float
        Height of the wind speed above ground [m].
    data : pd.DataFrame
        Index: naive interval starts, uniform. Columns: ghi, dni, dhi [W/m2] as interval means, temp_air,
        temp_dew [degC], relative_humidity [%], pressure [Pa], wind_speed [m/s], longwave_down [W/m2],
        albedo [-], snow_depth [m]; the latter three as the file's best account of the interval.
    findings : tuple[Finding, ...]
        Everything that was filled, rebuilt, guessed or looks odd.
    closure_rmse : float
        Root mean square of dni cos(z) + dhi - ghi over the hours with sun [W/m2].
    closure_shift : float
        The shift of the sun's clock that makes that closure best [h]; 0 is a file true to its label.
    sha256 : str
        Hash of the file's bytes.
    synthetic : bool
        True for a year that was generated from normals.
    warmer : float
        A what-if: so much warmer than the file [K]; 0 is the weather as it was read.
    sun_factor : float
        A what-if: so many times the sun of the file [-]; 1 is the weather as it was read.
    """

    station: str
    format: str
    latitude: float
    longitude: float
    elevation: float
    utc_offset: float
    step: int
    wind_height: float
    data: pd.DataFrame
    findings: tuple[Finding, ...]
    closure_rmse: float
    closure_shift: float
    sha256: str
    synthetic: bool = False
    warmer: float = 0.0
    sun_factor: float = 1.0
