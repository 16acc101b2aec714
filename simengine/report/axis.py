"""An axis of a drawing: round marks in each unit system, and where they stand."""

import math
from dataclasses import dataclass

from simengine.constants import ZERO_CELSIUS
from simengine.units import plain_number, to_unit

MARKS = 4
"""About so many marks on an axis."""

_ROUND = (1.0, 2.0, 2.5, 5.0, 10.0)
_ZERO = {"temperature": ZERO_CELSIUS}  # [SI] where the drawings' own scale, degC, begins


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark: its place on the axis and what is written there."""

    place: float  # [-] 0 at the low end, 1 at the high end
    text: str


@dataclass(frozen=True, slots=True)
class Axis:
    """An axis from low to high, with marks in both systems."""

    low: float
    high: float
    us: tuple[Mark, ...]
    si: tuple[Mark, ...]

    def place(self, value: float) -> float:
        """Return where a value stands on the axis [-]; held at its ends."""
        return min(max((value - self.low) / (self.high - self.low), 0.0), 1.0)


def axis(low: float, high: float, kind: str, units: tuple[str, str], scale: float = 1.0) -> Axis:
    """Return an axis with round marks in both unit systems.

    Parameters
    ----------
    low, high : ends of the axis [scale times the SI unit; degC for a temperature]
    kind : kind of the quantity, a key of the unit table
    units : names of the US and of the metric unit
    scale : SI units in one unit of the axis [-]

    >>> [mark.text for mark in axis(0.0, 10.0, "energy", ("kBtu", "kWh"), 3.6e6).us]
    ['0', '10', '20', '30']
    """
    top = high if high > low else low + 1.0
    zero = _ZERO.get(kind, 0.0)

    def marks(unit: str) -> tuple[Mark, ...]:
        first, last = (to_unit(zero + value * scale, kind, unit) for value in (low, top))
        return tuple(
            Mark((value - first) / (last - first), plain_number(value, 3)) for value in rounds(first, last)
        )

    us, si = units
    return Axis(low, top, marks(us), marks(si))


def rounds(low: float, high: float, count: int = MARKS) -> list[float]:
    """Return about `count` round numbers between two ends.

    Parameters
    ----------
    low, high : the ends [any unit]
    count : how many numbers, about

    >>> rounds(-3.0, 27.0)
    [0.0, 10.0, 20.0]
    """
    raw = (high - low) / count
    power = 10.0 ** math.floor(math.log10(raw))
    step = next(power * size for size in _ROUND if power * size >= raw * 0.999)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [number * step + 0.0 for number in range(first, last + 1)]
