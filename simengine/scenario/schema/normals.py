"""Monthly normals of a place, where there is no weather file."""

from typing import Annotated

from pydantic import Field

from simengine.scenario.schema.fields import Many, Of
from simengine.scenario.schema.reading import Section, usual
from simengine.scenario.schema.texts import Whole, Words

_SUN = Of("daily_irradiation", "0 kWh/m2.d", "11 kWh/m2.d", "no place has more", "3.6 kWh/m2.d")
_WARMTH = Of("temperature", "-60 degC", "45 degC", "means of any place", "12 degC")
_SWING = Of("temperature_difference", "0 K", "30 K", "means of any place", "10 K")
_SPREAD = Of("temperature_difference", "0 K", "15 K", "daily means of any place", "4 K")
_MOIST = Of("fraction", "0.01", "1", "a share of saturation", "70 %")
_WIND = Of("speed", "0 m/s", "20 m/s", "means of any place", "3 m/s")


class MonthlyNormals(Section):
    """Monthly normals of a place, January first: a synthetic year is made from them, and labelled so."""

    name: Annotated[str, Words(80)] = usual("unnamed", description="what you call the place")
    latitude: Annotated[float, Of("angle", "-90 deg", "90 deg", "north is positive", "52.1 deg")] = Field(
        description="of the place"
    )
    longitude: Annotated[float, Of("angle", "-180 deg", "180 deg", "east is positive", "-1.5 deg")] = Field(
        description="of the place"
    )
    elevation: Annotated[float, Of("length", "-430 m", "6000 m", "above the sea", "120 m")] = Field(
        description="of the place"
    )
    clock: Annotated[float, Of("time", "-12 h", "14 h", "5 h 30 min is written 5.5 h", "-5 h")] = Field(
        description="local standard time ahead of UTC; negative in the west"
    )
    sun: Annotated[tuple[float, ...], Many(_SUN, 12, "months")] = Field(
        description="mean daily global irradiation on level ground"
    )
    temperature: Annotated[tuple[float, ...], Many(_WARMTH, 12, "months")] = Field(
        description="mean outdoor temperature"
    )
    daily_range: Annotated[tuple[float, ...], Many(_SWING, 12, "months")] | None = Field(
        None, description="mean of the daily highest less the lowest; left out, it follows from the sun"
    )
    day_spread: Annotated[tuple[float, ...], Many(_SPREAD, 12, "months")] | None = Field(
        None,
        description="standard deviation of the daily means within the month; left out, it follows from the "
        "yearly swing",
    )
    humidity: Annotated[tuple[float, ...], Many(_MOIST, 12, "months")] | None = Field(
        None, description="mean relative humidity; left out, the dew point lies near the daily lowest"
    )
    wind: Annotated[tuple[float, ...], Many(_WIND, 12, "months")] = usual(
        "3 m/s", description="mean wind speed at 10 m"
    )
    seed: Annotated[int, Whole(0, 2**31 - 1)] = usual(0, "start of the chance; another one, another year")
