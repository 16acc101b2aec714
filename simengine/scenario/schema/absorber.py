"""The absorber: its surface, its holes or wires, its ribs and its tubes."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.fields import Of, OneOf
from simengine.scenario.schema.materials import (
    ArealHeat,
    Emittance,
    Material,
)
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Flag, Key, Whole
from simengine.units import Quantity

RibFactor = Annotated[
    float, Of("fraction", "1", "10", "1 is flat, 1.57 half-round waves, 2 and more fins", "1.5")
]


class Perforation(Section):
    """How air passes through the absorber: holes by size, wires by size, or a measured effectiveness, which
    goes before both."""

    porosity: Annotated[float, Of("fraction", "0.001", "0.9", "open share of the sheet")] | None = Field(
        None, description="open share; worked out from diameter and pitch of holes or wires where given"
    )
    hole_diameter: Annotated[float, Of("length", "0.1 mm", "20 mm", "a hole", "1.6 mm")] | None = Field(
        None, description="of the holes"
    )
    pitch: Annotated[float, Of("length", "0.2 mm", "200 mm", "between holes", "17 mm")] | None = Field(
        None, description="distance of neighbouring holes"
    )
    layout: Annotated[str, Key("layout", lambda: choices.LAYOUTS)] = usual(
        "triangular", description="pattern of the holes"
    )
    wire_diameter: Annotated[float, Of("length", "0.02 mm", "3 mm", "a wire", "0.011 in")] | None = Field(
        None, description="of the wires of a woven screen"
    )
    wire_pitch: Annotated[float, Of("length", "0.1 mm", "20 mm", "between wires", "0.059 in")] | None = Field(
        None, description="distance of neighbouring wires; 18 meshes an inch are 0.0556 in"
    )
    layers: Annotated[int, Whole(1, 10, "sheets or screens one behind the other")] = usual(
        1, description="sheets or screens one behind the other; holes, wires or effectiveness are of one"
    )
    effectiveness: (
        Annotated[
            float,
            Of(
                "fraction",
                "0.05",
                "0.99",
                "share of the rise to the sheet",
                usual=("0.4", "0.95"),
                beyond="measured screens and vented sheets stand around 0.6 to 0.85",
            ),
        ]
        | None
    ) = Field(None, description="measured; screens and vented sheets 0.6 to 0.85")
    rated_flow: Annotated[Quantity, OneOf(("mass_flux",), "a mass flow per area")] | None = Field(
        None, description="flow over the sheet at which the effectiveness holds"
    )
    exponent: Annotated[float, Of("fraction", "0", "1", "0.5 for laminar flow")] = usual(
        0.5, description="n in NTU ~ flow^-n"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        holes = self.hole_diameter is not None and self.pitch is not None
        wires = self.wire_diameter is not None and self.wire_pitch is not None
        if not holes and not wires and self.effectiveness is None:
            yield fault(
                "neither holes, wires nor an effectiveness is given",
                "hole_diameter and pitch, wire_diameter and wire_pitch, or effectiveness",
            )
        elif holes and wires:
            yield fault("holes and wires are both given", "one of the two", "wire_diameter")
        elif not holes and not wires and self.porosity is None:
            yield fault("the open share is not known", "porosity, or diameter and pitch of holes or wires")
        if self.effectiveness is not None and self.rated_flow is None:
            yield fault(
                "an effectiveness holds at one flow only", 'rated_flow = "0.02 kg/s.m2"', "effectiveness"
            )
        if self.hole_diameter is not None and self.pitch is not None and self.hole_diameter >= self.pitch:
            yield fault("the holes overlap", "hole_diameter below pitch", "hole_diameter")
        if wires and 2.0 * (self.wire_diameter or 0.0) > (self.wire_pitch or 0.0):
            yield fault("the wires leave no mesh", "wire_diameter up to half of wire_pitch", "wire_diameter")


class Tubes(Section):
    """A bank of parallel tubes, columns of cans or ducts, that is the absorber and carries the air."""

    diameter: Annotated[float, Of("length", "5 mm", "0.5 m", "a tube that carries air", "2.6 in")] = Field(
        description="inside"
    )
    pitch: Annotated[float, Of("length", "5 mm", "0.5 m", "from tube to tube", "2.7 in")] = Field(
        description="from the middle of one tube to the middle of the next, across the flow"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.pitch < self.diameter:
            yield fault("the tubes overlap", "a pitch of at least the diameter", "pitch")


class Absorber(Section):
    """The dark sheet or screen that takes up the sun."""

    construction: Annotated[str, Key("absorber", choices.absorber_keys)] = usual(
        "flat_black_aluminium_sheet", description="typical absorber that the other keys change"
    )
    absorptance: (
        Annotated[
            float,
            Of(
                "fraction",
                "0.05",
                "1",
                "flat black 0.92 to 0.96",
                usual=("0.7", "1"),
                beyond="less is no dark absorber",
            ),
        ]
        | None
    ) = Field(None, description="solar, normal incidence")
    emittance_front: Emittance | None = Field(None, description="long-wave, towards the cover")
    emittance_back: Emittance | None = Field(None, description="long-wave, towards the back")
    heat_capacity: ArealHeat | None = Field(None, description="per area of sheet")
    angular: Annotated[bool, Flag()] | None = Field(None, description="takes up less at slanting light")
    fall_off: Annotated[str, Key("fall-off", lambda: choices.FALL_OFFS)] | None = Field(
        None, description="relation for that; the construction's own where nothing is given"
    )
    front_area: RibFactor | None = Field(
        None, description="surface that ribs or fins offer to the air in front, over the flat area"
    )
    rear_area: RibFactor | None = Field(
        None, description="the same behind; round columns in the air stream 1.57 on each side"
    )
    material: Material | None = Field(None, description="key of its temperature limit")
    perforation: Perforation | None = Field(
        None, description="holes or screens; needed for arrangement through"
    )
    tubes: Tubes | None = Field(None, description="tubes that carry the air; needed for arrangement tubes")
