"""The way of the air from room to room as parts with a pressure loss: ducts, ports, the box."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from simengine.airflow.parts import (
    Channel,
    Fitting,
    Part,
    PerforatedSheet,
    RectangularDuct,
    RoundDuct,
    inlet_port,
    outlet_port,
)
from simengine.airflow.spec import Duct
from simengine.collector.spec import AirSpace, Collector
from simengine.constants import ZERO_CELSIUS

ROOM = ZERO_CELSIUS + 20.0
"""Air on its way to the collector [K] (common practice)."""

BOX = ZERO_CELSIUS + 35.0
"""Air in the collector, half way [K] (common practice)."""

HOT = ZERO_CELSIUS + 45.0
"""Air on its way to the room [K] (common practice)."""

TURN = 2.2
"""Loss coefficient of the turn between two passes: two mitred elbows of 1.1 (handbooks, from memory)."""

SLICES = 8
"""Pieces into which a narrowing space is cut [-]."""


@dataclass(frozen=True, slots=True)
class AirPath:
    """What the air passes, in its order."""

    before: tuple[Part, ...]  # from the room to the box
    box: tuple[Part, ...]
    after: tuple[Part, ...]  # from the box to the room

    @property
    def parts(self) -> tuple[Part, ...]:
        """Everything from room to room."""
        return (*self.before, *self.box, *self.after)

    @property
    def narrowest(self) -> float:
        """Smallest cross-section on the way [m2]."""
        return min(part.area for part in self.parts)


def air_path(collector: Collector, supply: Sequence[Duct], back: Sequence[Duct]) -> AirPath:
    """Return what the air of a collector passes.

    Parameters
    ----------
    collector
        Its spaces, holes and tubes count.
    supply, back
        Ducts from the collector to the room, and from the room to it, in the order of the flow.

    Returns
    -------
    AirPath
        Straight ducts with a sharp entry and a free exit each way, and the channels of the box. Bends,
        grilles, dampers, filters and plenums are not in this short form: a lower bound.
    """
    return AirPath(_ducts("return", back, ROOM), box_parts(collector), _ducts("supply", supply, HOT))


def box_parts(collector: Collector) -> tuple[Part, ...]:
    """Return what the air passes in the collector itself."""
    return tuple(BOXES[collector.arrangement](collector))


def _ducts(name: str, ducts: Sequence[Duct], temperature: float) -> tuple[Part, ...]:
    if not ducts:
        return ()
    runs = [RoundDuct(f"{name} duct", duct.length, duct.diameter, temperature=temperature) for duct in ducts]
    first, last = ducts[0].diameter, ducts[-1].diameter
    entry = inlet_port(f"entry of the {name} duct", first, temperature)
    return (entry, *runs, outlet_port(f"exit of the {name} duct", last, temperature))


def _channel(
    name: str, space: AirSpace, box: Collector, share: float = 1.0, along: float = 1.0
) -> list[Part]:
    """Return a space that takes a share of the flow [-], over a part of its length [-]."""
    slices = 1 if space.depth_inlet == space.depth_outlet else SLICES
    fall = space.depth_outlet - space.depth_inlet
    depths = [space.depth_inlet + fall * (number + 0.5) / slices for number in range(slices)]
    # half the flow in this width runs as fast as all of it in twice the width
    return [
        Channel(name, along * box.length / slices, box.width / share, depth, temperature=BOX)
        for depth in depths
    ]


def _behind(box: Collector) -> list[Part]:
    return _channel("space behind the absorber", box.rear, box)


def _in_front(box: Collector) -> list[Part]:
    return _channel("space in front of the absorber", box.front, box)


def _both_sides(box: Collector) -> list[Part]:
    # side by side: the mean of both, each with half the flow
    return [
        *_channel("space in front of the absorber", box.front, box, 0.5, 0.5),
        *_channel("space behind the absorber", box.rear, box, 0.5, 0.5),
    ]


def _two_pass(box: Collector) -> list[Part]:
    narrow = min(box.front.depth_outlet, box.rear.depth_outlet)
    return [*_in_front(box), Fitting("turn", box.width * narrow, TURN, BOX), *_behind(box)]


def _through(box: Collector) -> list[Part]:
    # the flow thins and grows evenly: laminar friction is that of the whole flow over half the length
    front = _channel("space in front of the absorber", box.front, box, along=0.5)
    rear = _channel("space behind the absorber", box.rear, box, along=0.5)
    sheet = box.absorber.perforation
    if sheet is None or sheet.hole_diameter is None:
        return [*front, *rear]  # a screen costs next to nothing by itself
    holes = PerforatedSheet("holes of the absorber", box.aperture, sheet.hole_diameter, sheet.porosity, BOX)
    return [*front, *([holes] * sheet.layers), *rear]


def _tubes(box: Collector) -> list[Part]:
    tubes = box.absorber.tubes
    if tubes is None:
        return []
    area, diameter = box.width / tubes.pitch * math.pi / 4.0 * tubes.diameter**2, tubes.diameter
    # one duct with the area and the hydraulic diameter of all tubes together
    root = (area / diameter) ** 2 - area
    if root <= 0.0:
        return [RoundDuct("tubes of the absorber", box.length, diameter, temperature=BOX)]
    half, spread = area / diameter, math.sqrt(root)
    return [
        RectangularDuct("tubes of the absorber", box.length, half + spread, half - spread, temperature=BOX)
    ]


_WAYS = (_behind, _in_front, _both_sides, _two_pass, _through, _tubes)
BOXES = {way.__name__.removeprefix("_"): way for way in _WAYS}
"""What the air passes in the box, by arrangement."""
