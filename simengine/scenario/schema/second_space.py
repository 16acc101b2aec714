"""Where the collector's air comes from and goes, and the space beside the heated one."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.envelope import Area, Conductance
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.house import AirChanges, Gain, Setpoint
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Key


class Air(Section):
    """Where the collector's air is taken from, and where it goes."""

    intake: Annotated[str, Key("intake", lambda: choices.INTAKES)] = usual(
        "room", description="room, second_space, or outdoors: fresh air that replaces own ventilation"
    )
    supply: Annotated[str, Key("supply", lambda: choices.SUPPLIES)] = usual(
        "room", description="room or second_space; its temperature is what the control's room limit means"
    )


class SecondSpace(Section):
    """A basement, garage or workshop beside the heated space; every house that is calculated gets it."""

    lies: Annotated[str, Key("place", lambda: choices.LIES)] = usual(
        "below", description="below: it takes the place of the ground under the built-in houses; or beside"
    )
    floor_area: Area = Field(description="of this space")
    ceiling_height: Annotated[float, Of("length", "0.5 m", "10 m", "a space", "7 ft")] = usual(
        "2.2 m", description="its air = floor_area x ceiling_height"
    )
    coupling: Conductance | None = Field(
        None,
        description="floor or wall to the heated space; left out, below: the floor of each built-in house",
    )
    door_flow: Annotated[float, Of("volume_flow", "0 m3/h", "5000 m3/h", "an open door at most")] = usual(
        "0 m3/h", description="air that doors and stairs let through, the same each way"
    )
    wall_conductance: Conductance = usual("0 W/K", description="walls and roof to outdoors")
    window_conductance: Conductance = usual("0 W/K", description="windows and doors to outdoors")
    ground_conductance: Conductance = usual("0 W/K", description="walls and floor to the ground")
    air_changes: AirChanges = usual("0.2 1/h", "with outdoors")
    mass: Annotated[str, Key("class of mass", lambda: choices.MASSES)] = usual(
        "heavy", description="how heavy its walls and floor are"
    )
    internal_gain: Gain = usual("0 W", description="appliances; one value, or 24 by the hour")
    setpoint: Setpoint | None = Field(
        None, description="where it is heated: one value, or 24 by the hour; left out, it floats"
    )
    heating_capacity: Annotated[float, Of("power", "100 W", "1000 kW", "a heater")] | None = Field(
        None, description="of its heater; left out, it always suffices"
    )
    ground_temperature: Annotated[float, Of("temperature", "-5 degC", "30 degC", "ground")] | None = Field(
        None, description="all year; left out, the year's mean with a damped and late wave"
    )
    ground_depth: Annotated[float, Of("length", "0.1 m", "20 m", "a basement", "5 ft")] = usual(
        "1.5 m", description="depth at which the ground's temperature counts"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.coupling is None and self.lies == "beside":
            yield fault("nothing says how it is joined to the heated space", 'e.g. coupling = "30 W/K"')
        if self.heating_capacity is not None and self.setpoint is None:
            yield fault(
                "is the capacity of a heater without a setpoint", "setpoint besides", "heating_capacity"
            )
