"""Columns held against each other and against time: what is in range by itself may still be no weather."""

from typing import Final

import numpy as np

from simengine.air.psychrometrics import relative_humidity
from simengine.constants import STEFAN_BOLTZMANN, ZERO_CELSIUS
from simengine.errors import WeatherError
from simengine.weather.record import Floats
from simengine.weather.series import Finding

HUMIDITY_LIMIT: Final = 8.0
"""Mean difference of the file's relative humidity from that of its dew point [%]; rounding makes 2."""

SKY_SHARE: Final = (0.55, 1.02)
"""Mean emissivity of the sky over a year [-]: from a dry clear one to fog (common practice)."""

SNOW_LIES: Final = 0.005
"""Depth that counts as snow [m]."""

SNOW_IS_GONE: Final = 20.0
"""No snow cover lasts in air that warm [degC] (common practice)."""

SNOW_LIMIT: Final = 0.002
"""Share of all hours with such snow that is still noise [-]; some 18 h a year."""


def check_change(name: str, columns: dict[str, Floats]) -> list[Finding]:
    """Return warnings for columns that stay the same all year.

    Raises
    ------
    WeatherError
        When temperature or radiation do.
    """
    still = [column for column, values in columns.items() if values.size and np.ptp(values) == 0.0]
    for column in ("temp_air", "ghi"):
        if column in still:
            raise WeatherError(
                f"{name}: {column}: {columns[column][0]:g} in every row, another column?; weather is accepted"
            )
    odd = [column for column in ("temp_dew", "relative_humidity", "wind_speed", "dhi") if column in still]
    return [
        Finding("warning", f"{column}: {columns[column][0]:g} in every interval, another column?")
        for column in odd
    ]


def check_snow(columns: dict[str, Floats]) -> list[Finding]:
    """Return a warning when snow lies in warm air for long: it brightens the ground, so it matters."""
    depth = columns["snow_depth"]
    warm = np.nan_to_num(depth, nan=0.0) > SNOW_LIES
    warm &= columns["temp_air"] > SNOW_IS_GONE
    count = int(np.count_nonzero(warm))
    if count <= SNOW_LIMIT * warm.size:
        return []
    told = f"snow_depth: snow lies in {count} intervals with air above {SNOW_IS_GONE:g} degC"
    return [Finding("warning", f"{told}, another column?")]


def check_longwave(columns: dict[str, Floats]) -> list[Finding]:
    """Return a warning when the sky's long-wave irradiance is none that goes with the air."""
    sky = columns["longwave_down"]
    if not np.all(np.isfinite(sky)):
        return []
    share = float(np.mean(sky / (STEFAN_BOLTZMANN * (columns["temp_air"] + ZERO_CELSIUS) ** 4)))
    if SKY_SHARE[0] <= share <= SKY_SHARE[1] and np.ptp(sky) > 0.0:
        return []
    told = (
        f"longwave_down: {share:.2f} of what black air would send, on average, or the same in every interval"
    )
    return [Finding("warning", f"{told}; {SKY_SHARE[0]:g} to {SKY_SHARE[1]:g} is usual, another column?")]


def check_humidity(columns: dict[str, Floats]) -> list[Finding]:
    """Return a warning when dew point and relative humidity tell different stories."""
    air, dew = columns["temp_air"] + ZERO_CELSIUS, columns["temp_dew"] + ZERO_CELSIUS
    apart = np.mean(
        np.abs(np.minimum(100.0 * relative_humidity(air, dew), 100.0) - columns["relative_humidity"])
    )
    if apart <= HUMIDITY_LIMIT:
        return []
    return [
        Finding(
            "warning",
            f"relative humidity and dew point disagree by {apart:.0f} %: a wrong column or unit among them?",
        )
    ]
