"""Bounds of the figures that describe sheets, boards and air spaces."""

from typing import Annotated

from simengine.scenario.schema import choices
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.texts import Key

Depth = Annotated[
    float,
    Of(
        "length",
        "1 mm",
        "0.5 m",
        "an air space inside the box",
        "1 1/2 in",
        usual=("6 mm", "200 mm"),
        beyond="a narrower space takes much fan power, a wider one little heat",
    ),
]
PaneGap = Annotated[
    float,
    Of(
        "length",
        "1 mm",
        "0.5 m",
        "a still space between panes",
        "1/2 in",
        usual=("6 mm", "50 mm"),
        beyond="air in a narrower space mostly conducts, and keeps little more than one pane",
    ),
]
Thickness = Annotated[float, Of("length", "0.01 mm", "0.5 m", "a sheet or a board", "1 in")]
Emittance = Annotated[float, Of("fraction", "0.01", "1", "long-wave; polished metal 0.05, paint 0.9")]
Resistance = Annotated[
    float,
    Of(
        "thermal_resistance",
        "0 m2K/W",
        "20 m2K/W",
        "20 m2K/W is R-114",
        usual=("0 m2K/W", "12 m2K/W"),
        beyond="12 m2K/W is R-68; is the unit right?",
    ),
]
Density = Annotated[float, Of("density", "1 kg/m3", "12000 kg/m3", "foams to metals")]
SpecificHeat = Annotated[float, Of("specific_heat", "100 J/kgK", "5000 J/kgK", "metals to water")]
Conductivity = Annotated[float, Of("conductivity", "0.005 W/mK", "400 W/mK", "vacuum boards to copper")]
ArealHeat = Annotated[float, Of("areal_heat_capacity", "10 J/m2K", "200 kJ/m2K", "foil to a thick wall")]
Material = Annotated[str, Key("material", choices.material_keys)]
