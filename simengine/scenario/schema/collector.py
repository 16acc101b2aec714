"""The collector as a builder describes it: its size, where it looks, the way of the air, and its parts."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.absorber import Absorber
from simengine.scenario.schema.box import Back, Edge, Gap, Leak
from simengine.scenario.schema.cover import Pane
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.materials import (
    ArealHeat,
    Resistance,
)
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Key, Whole, Words

Side = Annotated[
    float,
    Of(
        "length",
        "0.1 m",
        "30 m",
        "a collector that people build",
        "4 ft",
        usual=("0.4 m", "8 m"),
        beyond="smaller is a model, larger a field of several",
    ),
]


class Collector(Section):
    """The glazed box that heats room air."""

    width: Side = Field(description="of the glazed opening, across the flow")
    height: Side = Field(description="of the glazed opening, along the flow, measured up the slope")
    tilt: Annotated[
        float,
        Of(
            "angle",
            "0 deg",
            "90 deg",
            "from horizontal: 0 lies flat, 90 stands upright",
            usual=("15 deg", "90 deg"),
            beyond="a flat box holds snow and dirt, and sees little winter sun",
        ),
    ] = Field(description="from horizontal")
    azimuth: Annotated[
        float, Of("angle", "0 deg", "360 deg", "clockwise from north, 180 is south", "180 deg")
    ] = Field(description="where it looks, clockwise from true north")
    arrangement: Annotated[str, Key("arrangement", lambda: choices.ARRANGEMENTS)] = Field(
        description="where the air runs: behind or in_front of the absorber; on both_sides of it at once; in "
        "two_pass, along its front and back behind it; through its holes; in its tubes"
    )
    mounting: Annotated[str, Key("mounting", lambda: choices.MOUNTINGS)] = usual(
        "open",
        description="open: the back faces outdoors, on the ground or on a rack; wall, roof: it lies on a "
        "wall or roof of the heated house",
    )
    wall_resistance: Resistance | None = Field(
        None, description="of the wall or roof of the house behind it, for mounting wall or roof"
    )
    segments: Annotated[int, Whole(1, 50, "more than 10 is for studies")] = usual(
        3, description="parts along the flow in the calculation"
    )
    dirt_factor: Annotated[
        float,
        Of(
            "fraction",
            "0.3",
            "1",
            "1 is clean and frameless",
            usual=("0.75", "1"),
            beyond="less is a very dirty or much shaded cover",
        ),
    ] = usual(0.98, description="share of the sun that dirt and frame let pass")
    box_heat_capacity: ArealHeat = usual("8 kJ/m2K", description="frame and outer skin, per glazed area")
    wind_relation: Annotated[str, Key("wind relation", lambda: choices.WIND_RELATIONS)] = usual(
        "watmuff", description="relation for the heat that wind takes from the cover"
    )
    room_humidity: Annotated[
        float,
        Of(
            "fraction",
            "0.05",
            "1",
            "a room in winter 0.3 to 0.5",
            "0.4",
            usual=("0.2", "0.7"),
            beyond="a moister room grows mould, a drier one is rare",
        ),
    ] = usual(0.4, description="moisture of the room air that the cover meets: relative humidity at 20 degC")
    cover: tuple[Pane, ...] = Field(
        (), max_length=6, description="panes, outermost first; without any the absorber is bare"
    )
    absorber: Absorber = Field(description="the dark sheet or screen")
    front_gap: Gap | None = Field(
        None, description="air space between cover and absorber; needed where there is a cover"
    )
    rear_gap: Gap = Field(description="air space between absorber and back")
    back: Back = Field(description="insulation behind the rear air space")
    edge: Edge | None = Field(None, description="rim of the box; left out, it loses nothing")
    leak: Leak | None = Field(None, description="cracks of the box; left out, it is tight")
    tags: dict[Annotated[str, Words(40)], Annotated[str, Words(200)]] = Field(
        default_factory=dict, max_length=50, description="your own notes, kept with the result"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        yield from self._air_space()
        for number, pane in enumerate(self.cover, start=1):
            last = number == len(self.cover)
            if last and pane.gap is not None:
                yield fault(
                    "leads to no further pane", "gap on every pane but the last", "cover", number - 1, "gap"
                )
            if not last and pane.gap is None:
                yield fault(
                    f"cover.{number} has no gap to the next pane", 'gap = "12 mm" on every pane but the last'
                )
        if (self.mounting != "open") != (self.wall_resistance is not None):
            yield fault(
                "mounting and wall_resistance do not go together",
                'mounting = "wall" or "roof" with wall_resistance',
            )
        if self.wall_resistance == 0.0:
            yield fault("a wall without resistance", "a wall_resistance above zero", "wall_resistance")

    def _air_space(self) -> Iterator[Fault]:
        """Yield what does not go together of cover, gaps and the way of the air."""
        if self.cover and self.front_gap is None:
            yield fault(
                "the space between cover and absorber is not known",
                '[collector.front_gap] with depth = "1 in", or no cover',
            )
        if not self.cover and self.arrangement not in choices.BARE_ARRANGEMENTS:
            yield fault(
                f'is "{self.arrangement}", but there is no cover for air to run under',
                f"[[collector.cover]], or one of {', '.join(choices.BARE_ARRANGEMENTS)}",
                "arrangement",
            )
        if self.arrangement == "tubes" and self.absorber.tubes is None:
            yield fault(
                'is "tubes", but nothing is known of them',
                '[collector.absorber.tubes] with diameter = "2.6 in", pitch = "2.7 in"',
                "arrangement",
            )
