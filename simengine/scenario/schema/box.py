"""The collector's box around cover and absorber: air spaces, back, rim and cracks."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.fields import Of, OneOf
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
from simengine.scenario.schema.texts import Key
from simengine.units import Quantity


class Gap(Section):
    """An air space of the box: one depth, or one at each end where it narrows or widens."""

    depth: Depth | None = Field(None, description="the same all along")
    inlet: Depth | None = Field(None, description="depth at the end where air enters the collector")
    outlet: Depth | None = Field(None, description="depth at the end where air leaves it")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        ends = (self.inlet is not None, self.outlet is not None)
        if (self.depth is not None) == any(ends) or any(ends) != all(ends):
            yield fault("the depth is not clear", "depth alone, or both inlet and outlet")


class Layer(Section):
    """One layer of the back; repeat for each, from the inside outwards."""

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

    layers: tuple[Layer, ...] = Field(min_length=1, max_length=10, description="from the inside outwards")
    lining: Annotated[str, Key("lining", choices.lining_keys)] | None = Field(
        None, description="typical inner face; gives emittance and heat capacity"
    )
    emittance: Emittance | None = Field(None, description="of the inner face; 0.9 where nothing is given")
    lining_heat_capacity: ArealHeat | None = Field(
        None, description="of the inner face; 1 kJ/m2K where not given"
    )
    outside_film: Annotated[
        float,
        Of(
            "thermal_resistance",
            "0 m2K/W",
            "0.2 m2K/W",
            "ISO 6946: 0.04",
            "0.04 m2K/W",
            usual=("0.01 m2K/W", "0.13 m2K/W"),
            beyond="outer surfaces lie at 0.03 to 0.1",
        ),
    ] = usual("0.04 m2K/W", description="surface resistance where the back faces outdoors")


class Edge(Section):
    """Heat through the rim of the box: as one conductance, or from its insulation."""

    conductance: (
        Annotated[
            float,
            Of(
                "conductance",
                "0 W/K",
                "100 W/K",
                "all edges together",
                usual=("0 W/K", "10 W/K"),
                beyond="a rim that loses so much is hardly insulated",
            ),
        ]
        | None
    ) = Field(None, description="of all edges together")
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


class Leak(Section):
    """Cracks of the box: what they let pass in a test, and the pressure that drives it."""

    flow: Annotated[Quantity, OneOf(("volume_flow", "mass_flow"), "a flow of air")] = Field(
        description="through all cracks in the test; a volume flow is meant at 20 degC"
    )
    pressure: Annotated[float, Of("pressure", "1 Pa", "500 Pa", "a test of tightness")] = usual(
        "50 Pa", description="of the test"
    )
    exponent: Annotated[float, Of("fraction", "0.5", "1", "0.5 holes, 1 hair cracks")] = usual(
        0.65, description="n in flow ~ pressure^n"
    )
    box_pressure: Annotated[float, Of("pressure", "-300 Pa", "300 Pa", "a box on a fan", "8 Pa")] | None = (
        Field(
            None,
            description="in the box at full speed, over outdoors; left out, from ducts and the fan's place",
        )
    )
