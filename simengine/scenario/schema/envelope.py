"""What a house loses its heat through: opaque parts, layer by layer or as a whole, and windows."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.materials import Conductivity, Resistance, Thickness
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.site import Bearing, Share
from simengine.scenario.schema.texts import Key, Words

UValue = Annotated[
    float,
    Of(
        "u_value",
        "0.03 W/m2K",
        "10 W/m2K",
        "the best walls to single glass in metal",
        "0.5 W/m2K",
        usual=("0.08 W/m2K", "3.5 W/m2K"),
        beyond="more is a bare sheet, or a unit mixed up",
    ),
]
PaneUValue = Annotated[
    float,
    Of(
        "u_value",
        "0.03 W/m2K",
        "10 W/m2K",
        "the best windows to single glass in metal",
        "0.5 W/m2K",
        usual=("0.5 W/m2K", "5.9 W/m2K"),
        beyond="triple glass to single glass lie between",
    ),
]
Area = Annotated[float, Of("area", "0.01 m2", "5000 m2", "a part of a house", "200 ft2")]
Conductance = Annotated[float, Of("conductance", "0 W/K", "5000 W/K", "a house", "150 W/K")]


class EnvelopeLayer(Section):
    """One layer of a wall, roof or floor; repeat for each."""

    name: Annotated[str, Words(80)] = usual("", description="what it is")
    thickness: Thickness | None = Field(None, description="with its conductivity")
    conductivity: Conductivity | None = Field(None, description="of the material")
    resistance: Resistance | None = Field(None, description="instead of the two, e.g. of an air layer")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        pair = (self.thickness is not None, self.conductivity is not None)
        if pair != ((True, True) if self.resistance is None else (False, False)):
            yield fault("the layer's resistance is not clear", "thickness with conductivity, or resistance")


class Element(Section):
    """A part of the envelope without glass: wall, roof, floor; repeat for each."""

    name: Annotated[str, Words(80)] = Field(description="what you call it")
    area: Area = Field(description="of the part")
    resistance: Resistance | None = Field(None, description="from air to air, films included")
    u_value: UValue | None = Field(None, description="instead of the resistance")
    layers: tuple[EnvelopeLayer, ...] = Field(
        (), max_length=20, description="instead of both: from inside to outside, films by ISO 6946"
    )
    heat_flow: Annotated[str, Key("direction", lambda: ("up", "horizontal", "down"))] = usual(
        "horizontal", description="of the heat through layers: up a roof, horizontal a wall, down a floor"
    )
    outside_film: Annotated[float, Of("thermal_resistance", "0 m2K/W", "0.3 m2K/W", "a surface")] = usual(
        "0.04 m2K/W", description="outside of the layers; 0 towards ground, 0.1 towards an attic"
    )
    adjustment: Share = usual(1.0, description="1 towards outdoors; less towards ground, cellar or attic")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        given = (self.resistance is not None, self.u_value is not None, bool(self.layers))
        if given.count(True) != 1 or self.resistance == 0.0:
            yield fault(
                "the part's heat loss is not clear", "resistance, u_value or layers, one of them, above zero"
            )


class Window(Section):
    """Windows that look the same way; repeat for each direction."""

    azimuth: Bearing = Field(description="where they look, clockwise from true north")
    area: Area = Field(description="with frame")
    u_value: PaneUValue = usual("2.8 W/m2K", description="with frame")
    solar_factor: Share = usual(0.75, description="share of the sun on the glass that enters; single 0.85")
    frame_share: Share = usual(0.3, description="share of the area that is frame")
    shading_factor: Share = usual(0.9, description="what fixed shading and dirt leave")
    tilt: Annotated[float, Of("angle", "0 deg", "90 deg", "from horizontal")] = usual(
        "90 deg", description="from horizontal"
    )
