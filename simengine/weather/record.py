"""What a reader hands on: a file's rows in canonical names and units, gaps as NaN, nothing judged yet."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from simengine.weather.series import Finding

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Integers = NDArray[np.int64]
Times = NDArray[np.datetime64]


@dataclass(frozen=True)
class Record:
    """One file's rows, before the calendar, the gaps and the checks.

    Attributes
    ----------
    name, station, format : str
        File name, station name, short name of the format.
    latitude, longitude, elevation : float
        Site [deg], [deg], [m]; elevation NaN where the file doesn't say.
    utc_offset : float
        What the clock of `starts` is ahead of UTC [h].
    wind_height : float
        [m] above ground.
    columns : dict[str, Floats]
        Canonical name -> values [row]; a missing number is NaN, a missing column is absent.
    starts : Times
        Interval starts [row] on that clock.
    step : int
        Length of an interval [s].
    first_line : int
        Line of the first row in the file, counted from 1; 0 where the format has no lines.
    typical : bool
        True when the months may come from different years.
    turn : int
        Hours to turn the year by, from a clock of UTC to the site's own day [h].
    other_label : float
        Another usual reading of the time label: intervals that much later [h]; the sun then decides.
    findings : tuple[Finding, ...]
        What the reader noticed.
    synthetic : bool
        True for a year that was generated from normals.
    """

    name: str
    station: str
    format: str
    latitude: float
    longitude: float
    elevation: float
    utc_offset: float
    wind_height: float
    columns: dict[str, Floats]
    starts: Times
    step: int
    first_line: int
    typical: bool
    turn: int = 0
    other_label: float = 0.0
    findings: tuple[Finding, ...] = ()
    synthetic: bool = False

    def place(self, row: int) -> str:
        """Return "file:line" of a row, or the file's name where the format has no lines."""
        return f"{self.name}:{self.first_line + row}" if self.first_line else self.name
