"""Points of a fan's curve as a person reads them off its sheet."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Any, ClassVar

from simengine.errors import InputError
from simengine.scenario.schema.reading import JsonSchema, Reader, refuse
from simengine.units import System, format_si, parse, quote

MOST = 40
EXAMPLE = '[["0.6 in.wg", "0 cfm"], ["0.4 in.wg", "90 cfm"], ["0 in.wg", "160 cfm"]]'


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """One point of a fan's curve."""

    pressure: float  # [Pa]
    flow: float  # [m3/s]
    power: float | None  # [W] electric


@dataclass(frozen=True, slots=True)
class FanPoints(Reader):
    """A list of points, each pressure and flow as text with units, and electric power where known."""

    EXAMPLE: ClassVar[str] = EXAMPLE
    ACCEPTS: ClassVar[str] = "points of pressure and flow, electric power where known"
    SCHEMA: ClassVar[JsonSchema] = {
        "type": "array",
        "items": {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 3},
        "minItems": 2,
        "maxItems": MOST,
    }

    def read(self, value: Any) -> tuple[CurvePoint, ...]:
        """Return the points in the order of rising flow."""
        if not isinstance(value, list | tuple) or not 2 <= len(value) <= MOST:
            raise refuse(
                f"{quote(value)} where points of a fan are due", f"2 to {MOST} points, e.g. {EXAMPLE}"
            )
        points = sorted((_point(item) for item in value), key=lambda point: point.flow)
        if len({point.power is None for point in points}) > 1:
            raise refuse("some points have a power and some have none", "a power in every point, or in none")
        if any(b.flow <= a.flow for a, b in pairwise(points)):
            raise refuse("two points have the same flow", "flows that differ from point to point")
        top = max(range(len(points)), key=lambda i: points[i].pressure)
        falling = points[top:]
        if len(falling) < 2 or any(b.pressure >= a.pressure for a, b in pairwise(falling)):
            raise refuse(
                "the fan's curve is not falling", "a pressure that falls with the flow from its highest on"
            )
        return tuple(points)

    def show(self, points: tuple[CurvePoint, ...], system: System) -> str:
        """Return the points as text in one unit system."""
        texts = []
        for point in points:
            flow = format_si(point.flow, "volume_flow", system)
            texts.append(f"{flow} at {format_si(point.pressure, 'pressure', system)}")
        return "; ".join(texts)


def _point(item: Any) -> CurvePoint:
    if (
        not isinstance(item, list | tuple)
        or len(item) not in (2, 3)
        or not all(isinstance(t, str) for t in item)
    ):
        raise refuse(f"{quote(item)} where a point of a fan is due", 'e.g. ["0.4 in.wg", "90 cfm"]')
    try:
        pressure, flow = parse(item[0], "pressure"), parse(item[1], "volume_flow")
        power = parse(item[2], "electric_power") if len(item) == 3 else None
    except InputError as error:
        raise refuse(*_parted(str(error))) from error
    if pressure < 0.0 or flow < 0.0 or (power is not None and power < 0.0):
        raise refuse(f"{quote(item)} has a figure below zero", "0 or more")
    return CurvePoint(pressure, flow, power)


def _parted(text: str) -> tuple[str, str]:
    wrong, _, accepted = text.partition("; accepted: ")
    return wrong, accepted
