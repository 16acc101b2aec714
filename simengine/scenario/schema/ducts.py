"""Bounds of the figures that describe ducts and dampers."""

from typing import Annotated

from simengine.scenario.schema import choices
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.texts import Key

Run = Annotated[
    float,
    Of(
        "length",
        "0 m",
        "100 m",
        "a duct in a house",
        "6 ft",
        usual=("0 m", "25 m"),
        beyond="a long duct loses heat and takes much fan power",
    ),
]
Bore = Annotated[
    float,
    Of(
        "length",
        "20 mm",
        "1 m",
        "a round duct",
        "6 in",
        usual=("75 mm", "500 mm"),
        beyond="a narrower duct is loud and takes much fan power",
    ),
]
Wrap = Annotated[float, Of("thermal_resistance", "0 m2K/W", "10 m2K/W", "10 m2K/W is R-57")]
Surroundings = Annotated[str, Key("place", lambda: choices.SURROUNDINGS)]
OpeningPressure = Annotated[
    float,
    Of(
        "pressure",
        "0 Pa",
        "100 Pa",
        "a light flap",
        "1 Pa",
        usual=("0 Pa", "15 Pa"),
        beyond="a stiffer flap costs the fan more than the duct does",
    ),
]
Riser = Annotated[float, Of("length", "-10 m", "10 m", "a house", "1 ft")]
