"""The collector as a builder describes it: size, cover, absorber, air spaces, back and edge."""

from collections.abc import Iterator
from typing import Annotated, ClassVar

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.absorber import Absorber
from simengine.scenario.schema.cover import Pane
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.materials import (
    ArealHeat,
    Conductivity,
    Density,
    Depth,
    Emittance,
    Material,
    Resistance,
    SpecificHeat,
    Thickness,
)
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Key, Whole, Words

Side = Annotated[float, Of("length", "0.1 m", "30 m", "a collector that people build", "4 ft")]


class Gap(Section):
    """An air space of the box."""

    about: ClassVar[str] = (
        "An air space of the box: one depth, or one at each end where it narrows or widens."
    )
    depth: Depth | None = Field(None, description="the same all along")
    inlet: Depth | None = Field(None, description="depth at the end where air enters the collector")
    outlet: Depth | None = Field(None, description="depth at the end where air leaves it")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        ends = (self.inlet is not None, self.outlet is not None)
        if (self.depth is not None) == any(ends) or any(ends) != all(ends):
            yield fault("the depth is not clear", "depth alone, or both inlet and outlet")


class Layer(Section):
    """One layer of the back."""

    about: ClassVar[str] = "One layer of the back; repeat for each, from the inside outwards."
    construction: Annotated[str, Key("layer", choices.layer_keys)] = usual(
        "polyiso_foil_faced", description="typical layer that the other keys change"
    )
    thickness: Thickness | None = Field(None, description="of the layer")
    resistance: Resistance | None = Field(None, description="of the layer; sets its thickness")
    conductivity: Conductivity | None = Field(None, description="of the layer")
    density: Density | None = Field(None, description="of the layer")
    specific_heat: SpecificHeat | None = Field(None, description="of the layer")
    material: Material | None = Field(None, description="key of its temperature limit")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.thickness is not None and self.resistance is not None:
            yield fault(
                "thickness and resistance are both given", "one of the two; the other follows", "resistance"
            )
        if self.resistance == 0.0:
            yield fault(
                "a layer without resistance", "a resistance above zero, or leave the layer out", "resistance"
            )


class Back(Section):
    """Everything behind the rear air space."""

    about: ClassVar[str] = "Everything behind the rear air space."
    layers: tuple[Layer, ...] = Field(min_length=1, max_length=10, description="from the inside outwards")
    lining: Annotated[str, Key("lining", choices.lining_keys)] | None = Field(
        None, description="typical inner face; gives emittance and heat capacity"
    )
    emittance: Emittance | None = Field(None, description="of the inner face; 0.9 where nothing is given")
    lining_heat_capacity: ArealHeat | None = Field(
        None, description="of the inner face; 1 kJ/m2K where not given"
    )
    outside_film: Annotated[float, Of("thermal_resistance", "0 m2K/W", "0.2 m2K/W", "ISO 6946: 0.04")] = (
        usual("0.04 m2K/W", description="surface resistance where the back faces outdoors")
    )


class Edge(Section):
    """The rim of the box."""

    about: ClassVar[str] = "Heat through the rim of the box: as one conductance, or from its insulation."
    conductance: Annotated[float, Of("conductance", "0 W/K", "100 W/K", "all edges together")] | None = Field(
        None, description="of all edges together"
    )
    resistance: Resistance | None = Field(None, description="of the rim's insulation")
    depth: Depth | None = Field(None, description="depth of the rim from cover to back, with resistance")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if (self.conductance is None) == (self.resistance is None):
            yield fault("the edge is not clear", "conductance, or resistance with depth")
        elif self.resistance is not None and (self.depth is None or self.resistance <= 0.0):
            yield fault(
                "an edge resistance needs the depth of the rim", 'resistance = "R-6" with depth = "4 in"'
            )


class Collector(Section):
    """The glazed box."""

    about: ClassVar[str] = "The glazed box that heats room air."
    width: Side = Field(description="of the glazed opening, across the flow")
    height: Side = Field(description="of the glazed opening, along the flow, measured up the slope")
    tilt: Annotated[
        float, Of("angle", "0 deg", "90 deg", "from horizontal: 0 lies flat, 90 stands upright")
    ] = Field(description="from horizontal")
    azimuth: Annotated[
        float, Of("angle", "0 deg", "360 deg", "clockwise from north, 180 is south", "180 deg")
    ] = Field(description="where it looks, clockwise from true north")
    arrangement: Annotated[str, Key("arrangement", lambda: choices.ARRANGEMENTS)] = Field(
        description="how air passes the absorber"
    )
    mounting: Annotated[str, Key("mounting", lambda: choices.MOUNTINGS)] = usual(
        "open", description="open: the back faces outdoors; wall: it stands on a wall of the house"
    )
    wall_resistance: Resistance | None = Field(
        None, description="of the house wall behind it, for mounting wall"
    )
    segments: Annotated[int, Whole(1, 50, "more than 10 is for studies")] = usual(
        3, description="parts along the flow in the calculation"
    )
    dirt_factor: Annotated[float, Of("fraction", "0.3", "1", "1 is clean and frameless")] = usual(
        0.98, description="share of the sun that dirt and frame let pass"
    )
    box_heat_capacity: ArealHeat = usual("8 kJ/m2K", description="frame and outer skin, per glazed area")
    wind_relation: Annotated[str, Key("wind relation", lambda: choices.WIND_RELATIONS)] = usual(
        "watmuff", description="relation for the heat that wind takes from the cover"
    )
    cover: tuple[Pane, ...] = Field(min_length=1, max_length=6, description="panes, outermost first")
    absorber: Absorber = Field(description="the dark sheet or screen")
    front_gap: Gap = Field(description="air space between cover and absorber")
    rear_gap: Gap = Field(description="air space between absorber and back")
    back: Back = Field(description="insulation behind the rear air space")
    edge: Edge | None = Field(None, description="rim of the box; left out, it loses nothing")
    tags: dict[Annotated[str, Words(40)], Annotated[str, Words(200)]] = Field(
        default_factory=dict, max_length=50, description="your own notes, kept with the result"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
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
        if (self.mounting == "wall") != (self.wall_resistance is not None):
            yield fault(
                "mounting and wall_resistance do not go together", 'mounting = "wall" with wall_resistance'
            )
        if self.wall_resistance == 0.0:
            yield fault("a wall without resistance", "a wall_resistance above zero", "wall_resistance")
