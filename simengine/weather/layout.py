"""What a plain table of weather says about itself: place, clock, columns and their units."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from simengine.errors import WeatherError
from simengine.units import KINDS
from simengine.weather.content import quoted
from simengine.weather.series import COLUMNS

LABELS: Final = ("start", "middle", "end")
"""Where in its interval a time label may stand."""

KIND_OF: Final = {
    "ghi": "irradiance",
    "dni": "irradiance",
    "dhi": "irradiance",
    "longwave_down": "irradiance",
    "temp_air": "temperature",
    "temp_dew": "temperature",
    "relative_humidity": "fraction",
    "albedo": "fraction",
    "pressure": "pressure",
    "wind_speed": "speed",
    "snow_depth": "length",
}
"""Canonical column -> kind of quantity in the table of units."""

CANONICAL_UNIT: Final = {"temp_air": "degC", "temp_dew": "degC", "relative_humidity": "%"}
"""Columns that the series doesn't hold in the kind's SI unit."""

ENERGY: Final = {"J/m2": 1.0, "kJ/m2": 1e3, "MJ/m2": 1e6, "Wh/m2": 3600.0, "kWh/m2": 3.6e6}
"""Irradiation of one interval [J/m2], taken as irradiance over its length."""


@dataclass(frozen=True)
class Layout:
    """How to read a plain comma-separated table.

    Attributes
    ----------
    columns : Mapping[str, tuple[str, str]]
        Canonical column -> the table's column title and its unit.
    latitude, longitude : float
        [deg], north and east positive.
    utc_offset : float
        The labels' clock ahead of UTC [h].
    elevation : float
        [m]; NaN where unknown.
    wind_height : float
        [m] above ground.
    label : str
        "start", "middle" or "end": where the time label stands in its interval.
    time : str
        Title of the column with times as 2001-01-31 13:00.
    missing : tuple[float, ...]
        Numbers that mean a missing value, in the table's own units.
    typical : bool
        True when the months may come from different years.
    station : str
        The station's name.
    """

    columns: Mapping[str, tuple[str, str]]
    latitude: float
    longitude: float
    utc_offset: float
    elevation: float = float("nan")
    wind_height: float = 10.0
    label: str = "start"
    time: str = "time"
    missing: tuple[float, ...] = ()
    typical: bool = False
    station: str = "unnamed"

    def __post_init__(self) -> None:
        """Refuse names and labels that nobody knows."""
        problems = [f"{name!r} is no weather column; accepted: {', '.join(COLUMNS)}" for name in self.columns]
        problems = [text for name, text in zip(self.columns, problems, strict=True) if name not in COLUMNS]
        if self.label not in LABELS:
            problems.append(f"label {quoted(self.label)}; accepted: {', '.join(LABELS)}")
        if problems:
            raise WeatherError(*problems)


def to_canonical(column: str, unit: str, step: int) -> tuple[float, float]:
    """Return factor and addend that turn a unit into the canonical one of a column.

    Parameters
    ----------
    column : str
        Canonical name.
    unit : str
        As written in the table, e.g. "degF".
    step : int
        Length of an interval [s].

    Raises
    ------
    WeatherError
        When the unit isn't one of the column's.

    Examples
    --------
    >>> factor, addend = to_canonical("temp_air", "degF", 3600)
    >>> round(50.0 * factor + addend, 6)
    10.0
    """
    kind = KINDS[KIND_OF[column]]
    if kind.name == "irradiance" and unit in ENERGY:
        return ENERGY[unit] / step, 0.0
    source = kind.find("" if unit == "-" else unit)
    if source is None:
        names = [other.name for other in kind.units if other.name] + (
            list(ENERGY) if kind.name == "irradiance" else []
        )
        raise WeatherError(f"{column}: unit {quoted(unit, 30)}; accepted: {', '.join(names)}")
    target = kind.by_name[CANONICAL_UNIT.get(column, kind.inside.name)]
    return source.factor / target.factor, (source.offset - target.offset) / target.factor
