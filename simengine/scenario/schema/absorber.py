"""The absorber and its holes."""

from collections.abc import Iterator
from typing import Annotated, ClassVar

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.fields import Of, OneOf
from simengine.scenario.schema.materials import (
    ArealHeat,
    Emittance,
    Material,
)
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Flag, Key
from simengine.units import Quantity


class Perforation(Section):
    """Holes in the absorber."""

    about: ClassVar[str] = "How air passes through the absorber: holes by size, or a measured effectiveness."
    porosity: Annotated[float, Of("fraction", "0.001", "0.9", "open share of the sheet")] | None = Field(
        None, description="open share; worked out from diameter and pitch where those are given"
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
    effectiveness: (
        Annotated[float, Of("fraction", "0.05", "0.99", "share of the rise to the sheet")] | None
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
        if not holes and self.effectiveness is None:
            yield fault(
                "neither holes nor an effectiveness is given", "hole_diameter and pitch, or effectiveness"
            )
        elif not holes and self.porosity is None:
            yield fault("the open share is not known", "porosity, or hole_diameter and pitch")
        if self.effectiveness is not None and self.rated_flow is None:
            yield fault(
                "an effectiveness holds at one flow only", 'rated_flow = "0.02 kg/s.m2"', "effectiveness"
            )
        if self.hole_diameter is not None and self.pitch is not None and self.hole_diameter >= self.pitch:
            yield fault("the holes overlap", "hole_diameter below pitch", "hole_diameter")


class Absorber(Section):
    """The dark sheet or screen."""

    about: ClassVar[str] = "The dark sheet or screen that takes up the sun."
    construction: Annotated[str, Key("absorber", choices.absorber_keys)] = usual(
        "flat_black_aluminium_sheet", description="typical absorber that the other keys change"
    )
    absorptance: Annotated[float, Of("fraction", "0.05", "1", "flat black 0.92 to 0.96")] | None = Field(
        None, description="solar, normal incidence"
    )
    emittance_front: Emittance | None = Field(None, description="long-wave, towards the cover")
    emittance_back: Emittance | None = Field(None, description="long-wave, towards the back")
    heat_capacity: ArealHeat | None = Field(None, description="per area of sheet")
    angular: Annotated[bool, Flag()] | None = Field(None, description="takes up less at slanting light")
    material: Material | None = Field(None, description="key of its temperature limit")
    perforation: Perforation | None = Field(None, description="holes; needed for arrangement through")
