"""A logged test of the built collector: which column of the log is what, in which unit, and how sure."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.fields import Of, Pairs
from simengine.scenario.schema.log_columns import Titles, UnitOf
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Key, Words

Title = Annotated[str, Words(80)]
Kelvin = Annotated[float, Of("temperature_difference", "0 K", "20 K", "a thermometer", "0.2 K")]
Sure = Annotated[float, Of("fraction", "0", "0.5", "half of it tells nothing")]
Change = Annotated[float, Of("temperature_difference", "0.05 K", "20 K", "steady air")]
Span = Annotated[float, Of("time", "1 min", "4 h", "a steady period")]
Clock = Annotated[float, Of("time", "-26 h", "26 h", "a clock")]
Duct = Annotated[float, Of("length", "1 cm", "2 m", "a duct", "6 in")]


class LogTemperature(Section):
    """A column of temperatures in the log. Both uncertainties are standard ones (k = 1)."""

    column: Title = Field(description="its title in the log")
    unit: Annotated[str, UnitOf(("temperature",))] = Field(description="of the column")
    systematic: Kelvin = usual("0.3 K", description="what the sensor is off by, the same in every reading")
    noise: Kelvin = usual("0.1 K", description="scatter of a single reading")


class LogSun(Section):
    """The column of the sun meter; left out, a clear sky is taken, which proves little."""

    column: Title = Field(description="its title in the log")
    unit: Annotated[str, UnitOf(("irradiance",))] = Field(description="of the column")
    plane: Annotated[str, Key("plane", lambda: choices.SUN_PLANES)] = usual(
        "collector", description="the meter lies in the plane of the collector, or horizontal"
    )
    systematic: Sure = usual("3 %", description="of the reading, the same in every reading")
    noise: Annotated[float, Of("irradiance", "0 W/m2", "100 W/m2", "a sun meter", "5 W/m2")] = usual(
        "5 W/m2", description="scatter of a single reading"
    )


class LogWind(Section):
    """The column of an anemometer near the collector; left out, see `wind_speed`."""

    column: Title = Field(description="its title in the log")
    unit: Annotated[str, UnitOf(("speed",))] = Field(description="of the column")
    systematic: Sure = usual("20 %", description="of the reading, with how well it speaks for the cover")


class LogFlow(Section):
    """How the air flow was measured: by a meter, by the speed in a duct of known size, or by a pressure and
    the fan's curve."""

    column: Annotated[tuple[str, ...], Titles()] = Field(
        description="its title in the log; with several (a traverse) their mean counts"
    )
    unit: Annotated[str, UnitOf(("volume_flow", "mass_flow", "speed", "pressure"))] = Field(
        description="of the column: a flow, a speed in a duct, or the pressure over the fan; scfm is a mass"
    )
    place: Annotated[str, Key("place", lambda: choices.METER_PLACES)] = usual(
        "inlet", description="whose temperature the air at the meter has"
    )
    diameter: Duct | None = Field(None, description="of a round duct, with a speed")
    width: Duct | None = Field(None, description="of a flat duct, with a speed")
    height: Duct | None = Field(None, description="of a flat duct, with a speed")
    profile_factor: Annotated[float, Of("fraction", "0.5", "1", "0.8 to 0.9 in the middle of a duct")] = (
        usual(0.85, description="mean speed over the speed in the middle; 1 for a traverse")
    )
    curve: Annotated[
        tuple[tuple[float, float], ...],
        Pairs(
            Of("pressure", "0 Pa", "5000 Pa", "a fan's pressure", "50 Pa"),
            Of("volume_flow", "0 m3/s", "5 m3/s", "a fan's flow", "110 cfm"),
        ),
    ] = Field((), description="pairs of pressure and flow of the fan at standard air, with a pressure")
    systematic: Sure = usual("5 %", description="of the reading, the same in every reading")
    noise: Sure = usual("1 %", description="scatter of a single reading, of the reading")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        kind = choices.kind_of_log_unit(self.unit)
        sized = self.diameter is not None or (self.width is not None and self.height is not None)
        if kind == "speed" and not sized:
            yield fault(
                "a speed without the size of its duct", 'diameter = "6 in", or width and height', "unit"
            )
        if kind == "pressure" and len(self.curve) < 2:
            yield fault("a pressure without the curve of the fan", "curve with two pairs or more", "unit")
        if kind != "pressure" and self.curve:
            yield fault("a curve, but the column is no pressure", 'unit = "Pa" with a curve', "curve")
        pressures, flows = [p for p, _ in self.curve], [q for _, q in self.curve]
        if pressures != sorted(set(pressures)) or flows != sorted(set(flows), reverse=True):
            yield fault("is no fan curve", "pressures that rise while flows fall", "curve")


class Steady(Section):
    """What counts as a steady period. The defaults are those of the test standards (ISO 9806, ASHRAE 93; from
    memory); wider ones are printed as such."""

    length: Span = usual("10 min", description="least length of a period")
    before: Span = usual("15 min", description="as steady time before it, which is not counted")
    irradiance: Annotated[float, Of("irradiance", "5 W/m2", "500 W/m2", "a steady sun", "50 W/m2")] = usual(
        "50 W/m2", description="widest deviation of the sun from its mean"
    )
    ambient: Change = usual("1.5 K", description="widest deviation of the outdoor air")
    inlet: Change = usual("0.5 K", description="widest deviation of the inlet")
    flow: Annotated[float, Of("fraction", "0.1 %", "30 %", "a steady fan")] = usual(
        "2 %", description="widest deviation of the flow"
    )
    least_irradiance: Annotated[
        float, Of("irradiance", "50 W/m2", "1000 W/m2", "a sun that heats", "300 W/m2")
    ] = usual("300 W/m2", description="least sun on the plane of a period")


class FieldTest(Section):
    """A logged test of the built collector for `simengine fieldtest`: which column is what. A log is a
    comma-separated file with one line of titles."""

    time: Title = usual("time", description="title of the column of times, written 2026-02-14 13:05")
    label: Annotated[str, Key("label", lambda: choices.LOG_LABELS)] = usual(
        "instant",
        description="what a row's time stands for: a reading at that instant, or a mean from or up to it",
    )
    utc_offset: Clock | None = Field(
        None, description="what the logger's clock is ahead of UTC; left out, that of the weather file"
    )
    clock_offset: Clock = usual("0 h", description="what is added to the logger's clock to set it right")
    ambient: LogTemperature = Field(description="outdoor air in the shade")
    inlet: LogTemperature = Field(description="air that enters the collector")
    outlet: LogTemperature = Field(description="air that leaves it, well mixed")
    supply: LogTemperature | None = Field(None, description="air at the end of the supply duct")
    absorber: LogTemperature | None = Field(None, description="absorber, in its last third along the flow")
    irradiance: LogSun | None = Field(None, description="sun meter")
    wind: LogWind | None = Field(None, description="anemometer")
    wind_speed: Annotated[float, Of("speed", "0 m/s", "20 m/s", "a wind at the collector", "2 m/s")] = usual(
        "2 m/s", description="at the collector, where it was not logged"
    )
    sky: Annotated[float, Of("temperature_difference", "-5 K", "40 K", "air over sky", "15 K")] = usual(
        "15 K", description="by how much the sky is colder than the air: clear 20 K, overcast 3 K"
    )
    flow: LogFlow = Field(description="air flow")
    second_flow: LogFlow | None = Field(
        None, description="the flow at the other end of the collector: together they tell how tight it is"
    )
    steady: Steady = Field(
        default_factory=lambda: Steady.model_validate({}), description="what counts as a steady period"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        taken: dict[str, str] = {self.time: "time"}
        for name in ("ambient", "inlet", "outlet", "supply", "absorber", "irradiance", "wind"):
            section = getattr(self, name)
            if section is None:
                continue
            if section.column in taken:
                wrong = f"the same column as {taken[section.column]}"
                yield fault(wrong, "one column for each", name, "column")
            taken[section.column] = name
        if self.second_flow is not None and self.second_flow.place == self.flow.place:
            yield fault(
                "both flows are measured at the same end",
                "one at the inlet, one at the outlet",
                "second_flow",
                "place",
            )
