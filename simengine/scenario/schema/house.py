"""The user's own house, beside the two that are always calculated."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.bill import Bill, FuelAmount, HotWater
from simengine.scenario.schema.dates import Months
from simengine.scenario.schema.envelope import Area, Conductance, Element, Window
from simengine.scenario.schema.fields import Many, Of
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Key, Whole, Words

AirChanges = Annotated[float, Of("air_changes", "0 1/h", "10 1/h", "tight to very leaky")]
LossFactor = Annotated[
    float,
    Of(
        "fraction",
        "0.2",
        "5",
        "beyond, it is another house",
        usual=("0.5", "2"),
        beyond="it is nearly another house",
    ),
]
Gain = Annotated[
    tuple[float, ...],
    Many(
        Of(
            "power",
            "0 W",
            "20 kW",
            "people, light, appliances",
            usual=("0 W", "3 kW"),
            beyond="a household gives 200 to 1000 W",
        ),
        24,
        "hours",
    ),
]
Setpoint = Annotated[
    tuple[float, ...],
    Many(
        Of(
            "temperature",
            "5 degC",
            "30 degC",
            "a room",
            usual=("12 degC", "26 degC"),
            beyond="few rooms are heated to more, and frost is near below",
        ),
        24,
        "hours",
    ),
]


Shelter = Annotated[int, Whole(1, 5, "of a house")]
SHELTER = "for wind_and_stack: 1 open country, 3 houses around, 5 close in on all sides"


class House(Section):
    """Your own house; the standard and the low-energy house are always calculated besides."""

    name: Annotated[str, Words(40)] = usual("own", description="how the result calls it")
    floor_area: Area = Field(description="heated")
    like: Annotated[str, Key("built-in house", lambda: ("standard", "low_energy"))] | None = Field(
        None,
        description="a built-in house of this size: its walls, roof and floor, and its windows, air change "
        "and gains where none are given",
    )
    storeys: Annotated[int, Whole(1, 3, "a house")] = usual(2, "for like, and for wind_and_stack")
    ceiling_height: Annotated[
        float,
        Of(
            "length",
            "1.8 m",
            "8 m",
            "a room",
            "8 ft",
            usual=("2.1 m", "5 m"),
            beyond="rooms are 2.3 to 3 m high",
        ),
    ] = usual("2.5 m", description="heated volume = floor_area x ceiling_height")
    elements: tuple[Element, ...] = Field((), max_length=60, description="walls, roof, floor")
    opaque_conductance: Conductance | None = Field(
        None, description="instead of elements: their heat loss in all"
    )
    window_conductance: Conductance | None = Field(None, description="instead of the windows' u_value")
    windows: tuple[Window, ...] = Field((), max_length=30, description="by direction")
    thermal_bridge: Annotated[
        float,
        Of(
            "u_value",
            "0 W/m2K",
            "0.5 W/m2K",
            "0.05 is usual",
            "0.05 W/m2K",
            usual=("0 W/m2K", "0.2 W/m2K"),
            beyond="more is a wall without any care",
        ),
    ] = usual("0 W/m2K", "surcharge on every outer area, for studs, edges and corners")
    air_changes: AirChanges | None = Field(
        None, description="infiltration and airing; 0.5 1/h where nothing is given"
    )
    air_changes_at_50_pa: (
        Annotated[
            float,
            Of(
                "air_changes",
                "0.1 1/h",
                "60 1/h",
                "a blower-door test",
                usual=("0.2 1/h", "25 1/h"),
                beyond="passive houses to draughty old ones lie between",
            ),
        ]
        | None
    ) = Field(None, description="from a blower-door test, instead of air_changes; a twentieth of it counts")
    infiltration: Annotated[str, Key("way of infiltration", lambda: choices.INFILTRATIONS)] = usual(
        "mean", description="mean: the same all year; wind_and_stack: as the weather drives it"
    )
    leakage_area: Annotated[float, Of("area", "1 cm2", "1 m2", "all leaks of a house", "80 in2")] | None = (
        Field(None, description="effective, at 4 Pa, for wind_and_stack; or air_changes_at_50_pa")
    )
    shelter_class: Shelter = usual(4, SHELTER)
    mechanical_ventilation: AirChanges = usual("0 1/h", "through a heat exchanger")
    heat_recovery: Annotated[float, Of("fraction", "0", "0.95", "of the exchanger")] = usual(
        0.0, "share of the heat that the exchanger keeps"
    )
    internal_gain: Gain = usual(
        "400 W", description="people, light and appliances; one value, or 24 by the hour"
    )
    setpoint: Setpoint = usual("20 degC", description="the heating holds this; one value, or 24 by the hour")
    vent_limit: Annotated[
        float,
        Of(
            "temperature",
            "18 degC",
            "40 degC",
            "a room",
            such_as="26 degC",
            usual=("22 degC", "32 degC"),
            beyond="people open windows around 25 degC",
        ),
    ] = usual("26 degC", description="windows are opened above this")
    heating_capacity: (
        Annotated[
            float,
            Of(
                "power",
                "100 W",
                "1000 kW",
                "a heater",
                "12 kW",
                usual=("1 kW", "60 kW"),
                beyond="a house needs 3 to 30 kW",
            ),
        ]
        | None
    ) = Field(None, description="of the heater; left out, it always suffices")
    heating_months: Annotated[tuple[int, ...], Months()] = usual(
        list(range(1, 13)), description="months in which the heating may run"
    )
    mass: Annotated[str, Key("class of mass", lambda: choices.MASSES)] = usual(
        "medium", description="how heavy the building is"
    )
    heat_loss_factor: Annotated[
        float,
        Of(
            "fraction",
            "0.05",
            "10",
            "beyond, it is another house",
            usual=("0.4", "2.5"),
            beyond="it is nearly another house: are area and bill right?",
        ),
    ] = usual(1.0, "on all that the house loses; `simengine calibrate` writes it")
    bill: Bill | None = Field(None, description="a fuel bill that the house is scaled to")
    yearly_fuel: FuelAmount | None = Field(None, description="short form of [house.bill]: its amount")
    hot_water_share: HotWater = usual(0.0, "with yearly_fuel: share of it that makes hot water")
    source: Annotated[str, Words(400)] = usual("", description="where these figures are from")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        envelope = (bool(self.elements), self.opaque_conductance is not None, self.like is not None)
        if envelope.count(True) != 1:
            yield fault("the envelope's heat loss is not clear", "elements, opaque_conductance or like")
        if self.like is not None and not 40.0 <= self.floor_area <= 500.0:
            yield fault("is outside of what a built-in house stands for", "40 to 500 m2", "floor_area")
        if self.air_changes is not None and self.air_changes_at_50_pa is not None:
            yield fault(
                "the air change is given twice",
                "air_changes, or air_changes_at_50_pa",
                "air_changes_at_50_pa",
            )
        blown = self.infiltration == "wind_and_stack"
        if blown and (self.leakage_area is None) == (self.air_changes_at_50_pa is None):
            yield fault(
                "the leaks that wind and stack drive air through are not clear",
                "leakage_area or air_changes_at_50_pa, one of the two",
                "infiltration",
            )
        if blown and self.air_changes is not None:
            yield fault("the air change is given, and calculated", "one of the two", "air_changes")
        if self.leakage_area is not None and not blown:
            yield fault("serves wind_and_stack alone", 'infiltration = "wind_and_stack"', "leakage_area")
        if self.hot_water_share > 0.0 and self.bill is not None:
            yield fault("belongs to yearly_fuel", "hot_water_share in [house.bill]", "hot_water_share")
        if self.name in ("standard", "low_energy"):
            yield fault(f'the name "{self.name}" belongs to a built-in house', "another name", "name")
        if max(self.setpoint) >= self.vent_limit:
            yield fault(
                "windows would open below the heating's setpoint", "vent_limit above setpoint", "vent_limit"
            )


class BuiltinHouses(Section):
    """Size of the standard and the low-energy house, which are always calculated."""

    floor_area: Annotated[
        float,
        Of(
            "area",
            "40 m2",
            "500 m2",
            "a detached house",
            "140 m2",
            usual=("60 m2", "400 m2"),
            beyond="detached houses have 80 to 250 m2",
        ),
    ] = usual("140 m2", "heated")
    storeys: Annotated[int, Whole(1, 3, "a detached house")] = usual(2, "of each")
    infiltration: Annotated[str, Key("way of infiltration", lambda: choices.INFILTRATIONS)] = usual(
        "mean", description="mean: the same all year; wind_and_stack: as the weather drives it"
    )
    shelter_class: Shelter = usual(4, SHELTER)
    heat_loss_factor: LossFactor = usual(1.0, "times the heat loss of both")
