"""The page's drawings as plain geometry: where each bar begins, and how long it is."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from simengine.report.axis import Axis, axis

House = Mapping[str, Any]

GAINS = (
    ("Sun on the aperture", "incident_kwh"),
    ("Fan power into the air", "fan_heat_kwh"),
    ("Drawn from the house at night", "night_loss_kwh"),
)
LOSSES = (
    ("Thrown back by cover and absorber", "reflected_kwh"),
    ("Lost through the cover", "cover_loss_kwh"),
    ("Lost through the back", "back_loss_kwh"),
    ("Lost through the edges", "edge_loss_kwh"),
    ("Lost with leaking air", "leak_loss_kwh"),
    ("Lost from the ducts", "duct_loss_kwh"),
    ("Warmed fresh air up to the room", "fresh_air_kwh"),
    ("Given to the space the air is from", "carried_kwh"),
    ("Into the house wall behind it", "wall_heat_kwh"),
    ("Left in the collector at year's end", "stored_kwh"),
)
LEAST_SHOWN = 1e-4
"""Share of the sun below which a step is not drawn."""
MONTH_NAMES = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@dataclass(frozen=True, slots=True)
class Bar:
    """One step of the ledger, in per cent of the drawing's width."""

    label: str
    kwh: float
    start: float  # [%]
    width: float  # [%]
    role: str  # "gain", "loss", "rest", "useful" or "spare"


@dataclass(frozen=True, slots=True)
class Column:
    """One upright bar of the months, in units of the drawing."""

    x: float
    y: float
    width: float
    height: float
    role: str


def ledger(house: House) -> list[Bar]:
    """Return the steps from the sun down to the heat that was useful.

    Parameters
    ----------
    house : a house's block of the summary

    Returns
    -------
    Gains that add up, losses that step down from their sum, and what is left for the house, which
    is then parted into heating saved and heat that came when none was needed.
    """
    delivered, offset = house["delivered_kwh"], house["offset_kwh"]
    gains = [(label, house[key]) for label, key in GAINS]
    losses = [(label, house[key]) for label, key in LOSSES]
    least = LEAST_SHOWN * max(house["incident_kwh"], 1.0)
    steps: list[tuple[str, float, float, str]] = []
    level = 0.0
    for label, kwh in gains:
        steps.append((label, kwh, level, "gain"))
        level += kwh
    for label, kwh in losses:
        level -= kwh
        steps.append((label, kwh, level, "loss"))
    steps = [step for step in steps if abs(step[1]) >= least]
    steps.append(("Brought into the house", delivered, 0.0, "rest"))
    steps.append(("  of it heating saved", offset, 0.0, "useful"))
    steps.append(("  of it not needed, or lost again", delivered - offset, offset, "spare"))
    return _scaled(steps)


def months(house: House, width: float = 360.0, height: float = 150.0) -> list[Column]:
    """Return two upright bars a month: heat brought in, and heating saved.

    Parameters
    ----------
    house : a house's block of the summary
    width : width of the drawing [units of the drawing]
    height : height of the drawing [units of the drawing]

    Returns
    -------
    24 bars from January on; a negative saving hangs below the line.
    """
    pairs = [(month["delivered_kwh"], month["offset_kwh"]) for month in house["months"]]
    values = [value for pair in pairs for value in pair]
    top, bottom = max(*values, 0.0), min(*values, 0.0)
    scale = height / (top - bottom) if top > bottom else 0.0
    slot = width / len(pairs)
    drawn = []
    for place, pair in enumerate(pairs):
        for side, (value, role) in enumerate(zip(pair, ("rest", "useful"), strict=True)):
            x = slot * (place + 0.14 + 0.36 * side)
            y = (top - max(value, 0.0)) * scale
            drawn.append(Column(x, y, 0.34 * slot, abs(value) * scale, role))
    return drawn


def months_axis(house: House) -> Axis:
    """Return the axis of `months`, whose ends are those of its bars."""
    values = [value for month in house["months"] for value in (month["delivered_kwh"], month["offset_kwh"])]
    return axis(min(*values, 0.0), max(*values, 0.0), "energy", ("kBtu", "kWh"), 3.6e6)


def _scaled(steps: Sequence[tuple[str, float, float, str]]) -> list[Bar]:
    """Turn steps of energy into per cent of the whole width; a negative step is drawn backwards."""
    ends = [edge for _, kwh, start, _ in steps for edge in (start, start + kwh)]
    low, high = min(ends), max(ends)
    scale = 100.0 / (high - low) if high > low else 0.0
    return [
        Bar(label, kwh, (min(start, start + kwh) - low) * scale, abs(kwh) * scale, role)
        for label, kwh, start, role in steps
    ]
