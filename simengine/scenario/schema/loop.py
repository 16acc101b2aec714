"""The air loop part by part, in the order in which the air passes them."""

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field

from simengine.scenario.schema.ducts import Bore, OpeningPressure, Riser, Run, Surroundings, Wrap
from simengine.scenario.schema.fields import Of
from simengine.scenario.schema.reading import Fault, Section, fault, usual
from simengine.scenario.schema.site import Share
from simengine.scenario.schema.texts import Key, Words

Breadth = Annotated[float, Of("length", "10 mm", "2 m", "a flat duct", "14 1/2 in")]
Face = Annotated[float, Of("area", "10 cm2", "4 m2", "a grille or filter", "1 ft2")]
Roughness = Annotated[float, Of("length", "0 mm", "10 mm", "the wall of a duct", "0.09 mm")]
Loss = Annotated[float, Of("fraction", "0", "1000", "a loss coefficient")]
Name = Annotated[str, Words(80)]


class _Part(Section):
    name: Name = usual("", description="what the results call it; the kind of part if left out")


class _Lossy(_Part):
    loss_coefficient: Loss | None = Field(
        None, description="in the place of the usual one, on the velocity in its narrowest place"
    )


class _Walled(_Part):
    insulation: Wrap = usual("0 m2K/W", description="thermal resistance of the wrap")
    runs: Surroundings = usual("outside", description="what surrounds it")


class LoopDuct(_Walled):
    """A straight run of round duct."""

    part: Literal["duct"] = Field(description="kind of part")
    length: Run = Field(description="of the run")
    diameter: Bore = Field(description="inside")
    roughness: Roughness = usual(
        "0.09 mm", description="of its wall; galvanised steel with its seams 0.09 mm"
    )


class LoopFlexible(_Walled):
    """A run of flexible duct; loose duct costs several times as much as a pulled one."""

    part: Literal["flexible_duct"] = Field(description="kind of part")
    length: Run = Field(description="as it is laid")
    diameter: Bore = Field(description="inside")
    stretch: Annotated[float, Of("fraction", "0.7", "1", "shorter is a heap")] = usual(
        0.96, description="length as laid over length when pulled straight"
    )
    roughness: Roughness = usual(
        "2 mm", description="of its wall when pulled straight; 1 to 4.6 mm published"
    )


class LoopRectangular(_Walled):
    """A straight run of rectangular duct, such as the space between two studs."""

    part: Literal["rectangular_duct"] = Field(description="kind of part")
    length: Run = Field(description="of the run")
    width: Breadth = Field(description="inside")
    height: Breadth = Field(description="inside")
    roughness: Roughness = usual("0.09 mm", description="of its wall")


class LoopBend(_Lossy):
    """A bend of round duct."""

    part: Literal["bend"] = Field(description="kind of part")
    diameter: Bore = Field(description="inside")
    angle: Annotated[float, Of("angle", "1 deg", "180 deg", "a bend")] = usual(
        "90 deg", description="of the turn"
    )
    radius: Annotated[float, Of("fraction", "0", "10", "in diameters")] = usual(
        1.5, description="of the centre line, in diameters; 0 is a mitred elbow"
    )


class LoopReducer(_Lossy):
    """A sudden change of diameter."""

    part: Literal["reducer"] = Field(description="kind of part")
    before: Bore = Field(description="diameter where the air comes in")
    after: Bore = Field(description="diameter where it goes out")


class LoopGrille(_Lossy):
    """A grille or louvre."""

    part: Literal["grille"] = Field(description="kind of part")
    area: Face = Field(description="of its face")
    free_share: Annotated[float, Of("fraction", "0.1", "1", "a grille")] = usual(
        0.6, description="open area over face area"
    )


class LoopFilter(_Part):
    """An air filter, rated at one velocity over its face."""

    part: Literal["filter"] = Field(description="kind of part")
    area: Face = Field(description="of its face")
    rated_velocity: Annotated[float, Of("speed", "0.05 m/s", "10 m/s", "a filter's face", "300 ft/min")] = (
        Field(description="of its rating, over the face")
    )
    rated_pressure: Annotated[float, Of("pressure", "1 Pa", "1000 Pa", "a filter", "0.1 in.wg")] = Field(
        description="of its rating; half loaded is better than clean"
    )
    exponent: Annotated[float, Of("fraction", "1", "2", "1 for dense fleece, 2 for open mesh")] = usual(
        1.3, description="of the velocity: how the pressure rises with it"
    )


class LoopOpening(_Lossy):
    """A mouth of the loop: entry draws air in past a sharp edge, exit blows it out."""

    part: Literal["entry", "exit"] = Field(description="kind of part")
    diameter: Bore = Field(description="of the opening")


class LoopFitting(_Part):
    """Anything with a loss coefficient of its own: a hood, a turn in a plenum."""

    part: Literal["fitting"] = Field(description="kind of part")
    loss_coefficient: Loss = Field(description="on the velocity in its opening")
    diameter: Bore = Field(description="of that opening")


class LoopDamper(_Part):
    """A damper in the duct beside it; with none in the loop, air moves as it likes at night."""

    part: Literal["damper"] = Field(description="kind of part")
    kind: Annotated[str, Key("damper", lambda: ("flap", "motorised"))] = Field(
        description="flap: opens by itself, one way; motorised: follows the fan"
    )
    opening_pressure: OpeningPressure = usual("1 Pa", description="that opens a flap")
    leak: Share = usual(0.0, description="share of the duct's area that it leaves open when shut")
    loss_coefficient: Loss = usual(0.5, description="when open, on the velocity in the duct")


class LoopFan(_Part):
    """Where the fan of [fan] sits in the loop."""

    part: Literal["fan"] = Field(description="kind of part")


class LoopCollector(_Part):
    """The collector itself; what the air passes in it follows from [collector]."""

    part: Literal["collector"] = Field(description="kind of part")
    riser: Riser = usual("0 m", description="from its outlet up to the mouth in the room; below it, negative")


LoopPart = Annotated[
    LoopDuct
    | LoopFlexible
    | LoopRectangular
    | LoopBend
    | LoopReducer
    | LoopGrille
    | LoopFilter
    | LoopOpening
    | LoopFitting
    | LoopDamper
    | LoopFan
    | LoopCollector,
    Field(discriminator="part"),
]

OWN_LOSS = (LoopBend, LoopReducer, LoopGrille, LoopOpening)
"""Parts whose usual loss coefficient may be overridden."""

ROUND = (LoopDuct, LoopFlexible, LoopBend, LoopOpening, LoopFitting)
"""Parts that a damper takes its diameter from."""


def loop_faults(loop: tuple[LoopPart, ...]) -> Iterator[Fault]:
    """Yield what does not go together in a loop."""
    places = [number for number, part in enumerate(loop) if isinstance(part, LoopCollector)]
    if len(places) != 1:
        wrong = f"the loop passes {len(places) or 'no'} collector{'s' if len(places) > 1 else ''}"
        yield fault(wrong, 'exactly one part = "collector"', "loop")
        return
    if not any(_carries_air(part) for part in loop[: places[0]]):
        yield fault(
            "the loop has no return: no air reaches the collector", "parts before the collector", "loop"
        )
    if not any(_carries_air(part) for part in loop[places[0] + 1 :]):
        yield fault(
            "the loop has no supply: no air leaves the collector", "parts after the collector", "loop"
        )
    if sum(isinstance(part, LoopFan) for part in loop) > 1:
        yield fault("the loop has two fans", "one; its curve may be that of both together", "loop")
    dampers = [number for number, part in enumerate(loop) if isinstance(part, LoopDamper)]
    if len(dampers) > 1:
        yield fault("the loop has two dampers", "one, where it shuts best", "loop")
    for number in dampers:
        if damper_bore(loop, number) is None:
            yield fault("a damper on no part", "a round duct, bend or mouth beside it", "loop", number)


def damper_bore(loop: tuple[LoopPart, ...], number: int) -> float | None:
    """Return the diameter of the round part beside a damper [m], None where there is none."""
    for beside in (number - 1, number + 1):
        part = loop[beside] if 0 <= beside < len(loop) else None
        if isinstance(part, ROUND):
            return part.diameter
    return None


def _carries_air(part: LoopPart) -> bool:
    return not isinstance(part, LoopFan | LoopCollector | LoopDamper)
