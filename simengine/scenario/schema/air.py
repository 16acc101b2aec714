"""The air loop in short: fan and ducts."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema.ducts import Bore, Run, Surroundings, Wrap
from simengine.scenario.schema.fan_points import CurvePoint, FanPoints
from simengine.scenario.schema.fields import Of, OneOf
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.site import Share
from simengine.scenario.schema.texts import Key, Words
from simengine.units import Quantity

Level = Annotated[float, Of("temperature", "-20 degC", "150 degC", "a thermostat's range", "105 degF")]
Pressure = Annotated[
    float,
    Of(
        "pressure",
        "1 Pa",
        "2500 Pa",
        "a fan of a house",
        "0.5 in.wg",
        usual=("5 Pa", "800 Pa"),
        beyond="a small fan gives no more, and a duct needs no less",
    ),
]
Flow = Annotated[Quantity, OneOf(("volume_flow", "mass_flow", "volume_flux", "mass_flux"), "a flow of air")]


class Fan(Section):
    """The fan at full speed: by the flow it moves, or by its curve, which is then met with the loop. A volume
    flow is meant at the density of the air that enters it."""

    flow: Flow | None = Field(
        None, description="volume, standard volume or mass flow, whole or per collector area"
    )
    curve: Annotated[tuple[CurvePoint, ...], FanPoints()] | None = Field(
        None, description="points of pressure and flow, from shut off to free flow; electric power may follow"
    )
    shut_off_pressure: Pressure | None = Field(
        None, description="without flow; with free_flow a curve by itself"
    )
    free_flow: Annotated[Quantity, OneOf(("volume_flow",), "a flow of air")] | None = Field(
        None, description="without pressure; with shut_off_pressure a curve by itself"
    )
    power: (
        Annotated[
            float,
            Of(
                "electric_power",
                "0 W",
                "3 kW",
                "a fan of a house",
                usual=("0 W", "300 W"),
                beyond="more is a fan for several collectors",
            ),
        ]
        | None
    ) = Field(None, description="electric power at full speed, where no curve tells it")
    efficiency: (
        Annotated[
            float,
            Of(
                "fraction",
                "0.01",
                "0.9",
                "a fan with its motor",
                "0.3",
                usual=("0.02", "0.7"),
                beyond="small fans reach 0.05 to 0.5",
            ),
        ]
        | None
    ) = Field(None, description="electric to air, for a fan with a curve")
    heat_to_air: Share = usual(1.0, description="share of the power that ends in the air")
    place: Annotated[str, Key("place", lambda: ("room_side", "hot_side"))] = usual(
        "room_side",
        description="room_side: it pushes room air; hot_side: it pulls air out of the collector; "
        "a fan in [[loop]] tells it by itself",
    )
    inlet_temperature: Level | None = Field(
        None,
        description="of the air at the fan, for a volume flow; 20 degC on the room side, 45 on the hot side",
    )

    @property
    def has_curve(self) -> bool:
        """Whether the flow follows from the loop."""
        return self.flow is None

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        pair = (self.shut_off_pressure is not None) + (self.free_flow is not None)
        if (self.flow is not None) + (self.curve is not None) + (pair > 0) != 1:
            yield fault(
                "the fan's flow is not clear", "flow, or curve, or shut_off_pressure with free_flow", "flow"
            )
        elif pair == 1:
            yield fault("half a curve", "shut_off_pressure and free_flow together", "free_flow")
        measured = self.curve is not None and self.curve[0].power is not None
        known = (self.power is not None) + (self.efficiency is not None) + measured
        if known != 1:
            wrong = "the fan's power is not clear" if known else "nothing is known of the fan's power"
            yield fault(wrong, "one of power, efficiency, and powers in the curve", "power")
        if self.flow is not None and self.efficiency is not None:
            yield fault("an efficiency without a curve", "power beside flow", "efficiency")


class Duct(Section):
    """One run of duct between room and collector; repeat for each."""

    name: Annotated[str, Key("duct", lambda: ("supply", "return"))] = Field(
        description="supply: from the collector to the room; return: from the room to the collector"
    )
    length: Run = Field(description="of the run")
    diameter: Bore = Field(description="inside")
    insulation: Wrap = usual("0 m2K/W", description="thermal resistance of the wrap")
    runs: Surroundings = usual("outside", description="what surrounds it")
    note: Annotated[str, Words(200)] = usual("", description="your own words")
