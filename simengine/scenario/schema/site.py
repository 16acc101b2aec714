"""Where the collector stands: weather, wind, ground and what shades it."""

from collections.abc import Iterator
from typing import Annotated

from pydantic import Field

from simengine.scenario.schema import choices
from simengine.scenario.schema.dates import MonthDay
from simengine.scenario.schema.fields import Many, Of, Pairs
from simengine.scenario.schema.normals import MonthlyNormals
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.texts import Flag, Key, LocalPath, LocalPaths, Words

Distance = Annotated[
    float, Of("length", "0.1 m", "5000 m", "nearer it touches, farther it no longer matters", "40 ft")
]
Bearing = Annotated[
    float, Of("angle", "0 deg", "360 deg", "clockwise from north: 90 east, 180 south, 270 west", "200 deg")
]
Height = Annotated[float, Of("length", "0 m", "500 m", "above the ground", "30 ft")]
Share = Annotated[float, Of("fraction", "0", "1", "a share of the whole")]
Small = Annotated[float, Of("length", "0 m", "50 m", "a part of a building", "2 ft")]

Elevation = Annotated[
    float, Of("length", "-430 m", "6000 m", "from the lowest shore to the highest towns", "900 ft")
]
Reflectance = Annotated[
    tuple[float, ...],
    Many(
        Of(
            "fraction",
            "0",
            "0.95",
            "0.2 grass, 0.6 old snow",
            usual=("0.08", "0.85"),
            beyond="dark soil to new snow",
        ),
        12,
        "months",
    ),
]

_SKYLINE = Pairs(
    Of("angle", "0 deg", "360 deg", "clockwise from north"),
    Of("angle", "-5 deg", "90 deg", "90 is overhead"),
    True,
)
Skyline = Annotated[tuple[tuple[float, float], ...], _SKYLINE]
Declination = Annotated[
    float,
    Of(
        "angle",
        "-90 deg",
        "90 deg",
        "of the compass needle, east positive",
        "-8 deg",
        usual=("-30 deg", "30 deg"),
        beyond="only near the magnetic poles is it more",
    ),
]


class Tree(Section):
    """A tree crown that shades the collector; repeat for each tree."""

    name: Annotated[str, Words(80)] = usual("tree", description="what you call it")
    bearing: Bearing = Field(description="from the collector towards the tree, clockwise from north")
    distance: Distance = Field(description="level distance to the middle of the crown")
    height: Height = Field(description="top of the crown above the ground")
    base_height: Height = usual("2 m", description="lower end of the crown above the ground")
    crown_width: Annotated[float, Of("length", "0.2 m", "60 m", "a tree crown", "20 ft")] = Field(
        description="across"
    )
    evergreen: Annotated[bool, Flag()] = usual(False, description="keeps its leaves")
    in_leaf: Share = usual(
        0.2, description="share of the light that passes the full crown; 0.1 to 0.3 is usual"
    )
    bare: Share = usual(0.65, description="share that passes the bare crown; 0.5 to 0.8 is usual")
    leaf_out: Annotated[int, MonthDay()] = usual("04-20", description="leaves begin to open")
    leaf_fall: Annotated[int, MonthDay()] = usual("10-20", description="leaves begin to fall")

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.base_height >= self.height:
            yield fault(
                "the crown's lower end is not below its top", "base_height below height", "base_height"
            )
        if self.distance <= 0.5 * self.crown_width:
            yield fault(
                "the crown reaches over the collector", "a distance above half the crown_width", "distance"
            )
        if self.in_leaf > self.bare and not self.evergreen:
            yield fault("the crown passes more light in leaf than bare", "in_leaf at most bare", "in_leaf")
        if self.leaf_out == self.leaf_fall and not self.evergreen:
            yield fault("leaves fall on the day they open", "two different days", "leaf_fall")


class Overhang(Section):
    """An eave, balcony or board above the collector, square on its plane."""

    depth: Small = Field(description="how far it stands out")
    gap: Small = usual("0 m", description="from the collector's upper edge up to it")


class Fin(Section):
    """A wing wall or reveal beside the collector, square on its plane; repeat for each."""

    side: Annotated[str, Key("side", lambda: ("left", "right"))] = Field(
        description="for someone who looks out"
    )
    depth: Small = Field(description="how far it stands out")
    gap: Small = usual("0 m", description="from the collector's side to it")


class Wall(Section):
    """A wall or building across from the collector; repeat for each."""

    bearing: Bearing = Field(description="towards its nearest point, clockwise from north")
    distance: Distance = Field(description="level distance to that point")
    height: Height = Field(description="its top above the collector's lower edge")
    left: Annotated[float, Of("length", "0 m", "1000 m", "1000 m is endless")] = usual(
        "1000 m", description="how far it reaches to the left, seen from the collector"
    )
    right: Annotated[float, Of("length", "0 m", "1000 m", "1000 m is endless")] = usual(
        "1000 m", description="how far it reaches to the right"
    )


class Site(Section):
    """Where the collector stands: weather, wind, ground, and what shades it."""

    weather: Annotated[str | tuple[str, ...], LocalPaths()] = usual(
        "builtin:greensboro",
        description="weather of a year: a built-in one, or a file near this one; of a list the first is told "
        "in full, and the spread over all of them besides",
    )
    mend_clock: Annotated[bool, Flag()] = usual(
        False, description="put a wrong clock of the weather right, as far as the sun shows it; it is told"
    )
    warmer: Annotated[
        float,
        Of(
            "temperature_difference",
            "-10 K",
            "10 K",
            "beyond it is another place's climate",
            "2 K",
            usual=("-5 K", "5 K"),
            beyond="more than the warming that is expected of a century",
        ),
    ] = usual("0 K", description="a what-if: every hour warmer by so much, whatever the weather is from")
    elevation: Elevation | None = Field(
        None, description="height above the sea, where it differs from the weather station's"
    )
    terrain: Annotated[str, Key("terrain", lambda: choices.TERRAINS)] = usual(
        "suburban", description="roughness of the neighbourhood: what it leaves of the wind"
    )
    collector_height: Annotated[
        float,
        Of(
            "length",
            "0 m",
            "100 m",
            "above the ground",
            usual=("0 m", "20 m"),
            beyond="higher than the roof of a house",
        ),
    ] = usual("2 m", description="middle of the collector above the ground, for the wind")
    wind_shelter: Share = usual(
        1.0, description="what hedges, fences and corners leave of the wind: 1 is open"
    )
    ground_reflectance: Reflectance = usual(
        0.2, description="share of the sun that the ground throws back; one value, or 12 by month"
    )
    sun_factor: Annotated[
        float,
        Of(
            "fraction",
            "0.5",
            "1.5",
            "a duller or sunnier year",
            usual=("0.8", "1.2"),
            beyond="measured years lie within a tenth of their mean",
        ),
    ] = usual(1.0, description="times the sun of the weather file")
    snow: Annotated[bool, Flag()] = usual(
        True, description="raise it to 0.6 where the weather file reports snow"
    )
    horizon: Skyline = Field((), description="skyline as pairs of bearing and elevation in degrees")
    horizon_file: Annotated[str, LocalPath()] | None = Field(
        None,
        description="the skyline instead as a table: compass bearing and inclinometer angle in degrees, "
        "a pair a line",
    )
    declination: Declination = usual(
        "0 deg", description="what is added to the bearings of horizon_file to count from true north"
    )
    trees: tuple[Tree, ...] = Field((), max_length=200, description="tree crowns")
    overhang: Overhang | None = Field(None, description="a strip above the collector")
    fins: tuple[Fin, ...] = Field((), max_length=10, description="strips beside it")
    walls: tuple[Wall, ...] = Field((), max_length=50, description="walls across from it")
    normals: MonthlyNormals | None = Field(
        None, description="instead of a weather file: twelve monthly normals, from which a year is made"
    )

    def checks(self) -> Iterator[Fault]:
        """Yield what does not go together."""
        if self.horizon and self.horizon_file is not None:
            yield fault("the skyline is there twice", "horizon or horizon_file", "horizon_file")
        if self.declination != 0.0 and self.horizon_file is None:
            accepted = "it with horizon_file; the bearings of horizon count from true north"
            yield fault("there are no compass readings to turn", accepted, "declination")
        if self.normals is not None and "weather" in self.model_fields_set:
            yield fault("weather and normals are both given", "one of the two", "normals")
