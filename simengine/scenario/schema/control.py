"""When the fan runs, how fast, and what shuts the loop while it rests."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.air import Level
from simengine.scenario.schema.dates import Months, Windows
from simengine.scenario.schema.ducts import OpeningPressure, Riser
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.site import Share
from simengine.scenario.schema.texts import Key, Whole

Difference = Annotated[
    float,
    Of(
        "temperature_difference",
        "0 K",
        "40 K",
        "collector above room",
        usual=("0 K", "25 K"),
        beyond="so late a start leaves most of the heat in the box",
    ),
]
Wait = Annotated[
    float, Of("time", "0 s", "2 h", "a switch", usual=("0 s", "30 min"), beyond="the sun changes faster")
]
Voltage = Annotated[float, Of("voltage", "0.5 V", "100 V", "a small module and its fan")]
Current = Annotated[float, Of("current", "10 mA", "30 A", "a small module")]


class _Control(Section):
    sensor: Annotated[str, Key("sensor place", lambda: choices.SENSOR_PLACES)] = usual(
        "outlet_air", description="where the collector's sensor sits"
    )
    time_constant: Annotated[
        float,
        Of(
            "time",
            "1 s",
            "1 h",
            "a sensor",
            usual=("2 s", "20 min"),
            beyond="a slower sensor is nearly blind to the sun",
        ),
    ] = usual("60 s", description="how fast the sensor follows: 63 % of a step")
    room_limit: Annotated[
        float,
        Of(
            "temperature",
            "10 degC",
            "50 degC",
            "a room",
            usual=("18 degC", "32 degC"),
            beyond="people live there",
        ),
    ] = usual("25 degC", description="no heat is brought above this room temperature")
    room_limit_band: Annotated[float, Of("temperature_difference", "0 K", "5 K", "a dead band")] = usual(
        "0.5 K", description="heat is allowed again this far below the limit"
    )
    minimum_on: Wait = usual("0 s", description="shortest running time")
    minimum_off: Wait = usual("0 s", description="shortest rest")
    months: Annotated[tuple[int, ...], Months()] = usual(
        list(range(1, 13)), description="months in which the fan may run"
    )
    hours: Annotated[tuple[tuple[float, float], ...], Windows()] = usual(
        [], description="hours of the day in which it may run, local standard time; all day if left out"
    )


class _Thermostat(_Control):
    low_speed: Annotated[float, Of("fraction", "0.1", "1", "a fan that turns")] = usual(
        1.0, description="share of full speed at which it starts; with a second speed or a rising one"
    )

    if TYPE_CHECKING:  # each kind of thermostat has them, as temperatures or as differences
        start: float
        stop: float
        second_start: float | None
        second_stop: float | None
        full_speed_at: float | None

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        start, stop, full = self.start, self.stop, self.full_speed_at
        second_start, second_stop = self.second_start, self.second_stop
        if stop >= start:
            yield fault("the fan would stop where it starts", "stop below start", "stop")
        if (second_start is None) != (second_stop is None):
            yield fault(
                "a second speed needs both its thresholds", "second_start with second_stop", "second_start"
            )
        if second_start is not None and second_stop is not None and second_stop >= second_start:
            yield fault(
                "the second speed would end where it begins", "second_stop below second_start", "second_stop"
            )
        if second_start is not None and full is not None:
            yield fault("the speed has two steps and rises as well", "one of the two", "full_speed_at")
        if full is not None and full <= max(start, stop):
            yield fault(
                "full speed is due before the fan starts", "full_speed_at above start", "full_speed_at"
            )
        if (second_start is None and full is None) != (self.low_speed >= 1.0):
            yield fault(
                "low_speed and what raises it do not go together",
                "low_speed below 1 with second_start and second_stop, or with full_speed_at",
                "low_speed",
            )


class SnapSwitch(_Thermostat):
    """A thermostat on the collector that closes when it is warm and opens when it is cool."""

    kind: Literal["snap_switch"] = Field(description="snap_switch, differential, pv_module or none")
    start: Level = Field(description="the fan starts at or above this temperature")
    stop: Level = Field(description="the fan stops at or below this temperature")
    second_start: Level | None = Field(
        None, description="two speeds: full speed at or above this temperature"
    )
    second_stop: Level | None = Field(None, description="two speeds: low speed again at or below this one")
    full_speed_at: Level | None = Field(None, description="rising speed: from low_speed at stop to full here")


class Differential(_Thermostat):
    """A thermostat that compares the collector with the room."""

    kind: Literal["differential"] = Field(description="snap_switch, differential, pv_module or none")
    start: Difference = usual("9 K", description="the fan starts when the collector is this much warmer")
    stop: Difference = usual("3 K", description="the fan stops when it is only this much warmer")
    second_start: Difference | None = Field(
        None, description="two speeds: full speed from this difference on"
    )
    second_stop: Difference | None = Field(None, description="two speeds: low speed again at this difference")
    full_speed_at: Difference | None = Field(
        None, description="rising speed: from low_speed at stop to full at this difference"
    )


class PvModule(_Control):
    """A fan on a small PV module, which drives it directly; its label holds at 1000 W/m2 and 25 degC."""

    kind: Literal["pv_module"] = Field(description="snap_switch, differential, pv_module or none")
    open_circuit_voltage: Voltage = Field(description="of the module")
    short_circuit_current: Current = Field(description="of the module")
    best_voltage: Voltage = Field(description="of the module, where it gives most power")
    best_current: Current = Field(description="of the module, where it gives most power")
    cells: Annotated[int, Whole(1, 200, "cells of a module")] = usual(36, description="in series")
    fan_voltage: Voltage = usual("12 V", description="of the fan at full speed; its power is that of [fan]")
    start_share: Annotated[float, Of("fraction", "0", "1", "a fan at rest")] = usual(
        0.1, description="share of its full current that makes a resting fan turn"
    )
    tilt: Annotated[float, Of("angle", "0 deg", "90 deg", "from horizontal")] | None = Field(
        None, description="of the module; the collector's own if left out"
    )
    azimuth: Annotated[float, Of("angle", "0 deg", "360 deg", "clockwise from north")] | None = Field(
        None, description="where the module looks; as the collector if left out"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.best_voltage >= self.open_circuit_voltage:
            yield fault(
                "no module gives power there", "best_voltage below open_circuit_voltage", "best_voltage"
            )
        if self.best_current >= self.short_circuit_current:
            yield fault(
                "no module gives power there", "best_current below short_circuit_current", "best_current"
            )


class NoFan(Section):
    """No fan runs: the air moves by itself through the damper that [damper] describes."""

    kind: Literal["none"] = Field(description="snap_switch, differential, pv_module or none")


Control = Annotated[SnapSwitch | Differential | PvModule | NoFan, Field(discriminator="kind")]


class Damper(Section):
    """What stands in the way of air while the fan rests. Left out, a tight damper shuts with the fan."""

    kind: Annotated[str, Key("damper", lambda: ("none", "flap", "motorised"))] = Field(
        description="none: air moves as it likes; flap: opens by itself, one way; motorised: follows the fan"
    )
    opening_pressure: OpeningPressure = usual("1 Pa", description="that opens a flap")
    leak: Share = usual(0.0, description="share of the duct's area that a shut damper leaves open")
    riser: Riser = usual(
        "0 m", description="from the collector's outlet up to the mouth in the room; below it, negative"
    )
