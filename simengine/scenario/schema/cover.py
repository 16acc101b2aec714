"""The panes of the cover."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.materials import (
    Conductivity,
    Density,
    Emittance,
    Material,
    PaneGap,
    SpecificHeat,
    Thickness,
)
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.site import Share
from simengine.scenario.schema.texts import Flag, Key


class Rated(Section):
    """Solar figures of a coated or tinted pane at normal incidence, from its data sheet."""

    transmittance: Share = Field(description="solar, normal incidence")
    reflectance_outside: Share = Field(description="of the face towards the sky")
    reflectance_inside: Share = Field(description="of the face towards the absorber")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.transmittance + max(self.reflectance_outside, self.reflectance_inside) > 1.0:
            yield fault(
                "the pane passes and throws back more than falls on it", "shares that sum to 1 at most"
            )


class Pane(Section):
    """One sheet of the cover; repeat for each, outermost first."""

    construction: Annotated[str, Key("pane", choices.pane_keys)] = usual(
        "clear_tempered_4mm", description="typical sheet that the other keys change"
    )
    thickness: Thickness | None = Field(None, description="of the sheet")
    refractive_index: (
        Annotated[
            float,
            Of(
                "fraction",
                "1",
                "3",
                "glass 1.526",
                "1.526",
                usual=("1.3", "1.7"),
                beyond="films and glass lie between",
            ),
        ]
        | None
    ) = Field(None, description="of the sheet")
    extinction: (
        Annotated[
            float,
            Of(
                "per_length",
                "0 1/m",
                "5000 1/m",
                "clear float 20 to 30 1/m",
                usual=("0 1/m", "200 1/m"),
                beyond="more is deeply tinted glass",
            ),
        ]
        | None
    ) = Field(None, description="how fast the sheet dims light")
    density: Density | None = Field(None, description="of the sheet")
    specific_heat: SpecificHeat | None = Field(None, description="of the sheet")
    conductivity: Conductivity | None = Field(None, description="of the sheet")
    emittance_outside: Emittance | None = Field(None, description="long-wave, face towards the sky")
    emittance_inside: Emittance | None = Field(None, description="long-wave, face towards the absorber")
    material: Material | None = Field(None, description="key of its temperature limit")
    rated: Rated | None = Field(None, description="solar figures of a coated or tinted pane")
    gap: PaneGap | None = Field(
        None, description="still space between this pane and the next; not for the last"
    )
    gas: Annotated[str, Key("gas", lambda: choices.GASES)] = usual("air", description="what fills that space")
    fill_share: Share = usual(1.0, description="share of that gas by volume; the rest is air")
    sealed: Annotated[bool, Flag()] | None = Field(
        None, description="that space is a factory-sealed unit; left out, one with another gas than air is"
    )
