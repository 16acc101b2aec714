"""Shade of trees: crowns that let more light through when they are bare."""

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from simengine.errors import InputError
from simengine.sun.calendar import FloatArray
from simengine.sun.shading import Rays

YEAR: Final = 365.0
"""Days after which the leaves do the same again [day]."""


@dataclass(frozen=True)
class Foliage:
    """How much light a crown lets through over the year.

    Attributes
    ----------
    leaf_out, leaf_fall:
        Day of the year on which leaves begin to open and to fall [day], 1 to 365; on the southern half of the
        earth leaf-out is the later of the two numbers. Dates of a place are the user's to give.
    in_leaf:
        Share of the light that passes the full crown [-]; 0.1 to 0.3 is common practice.
    bare:
        Share that passes the bare crown [-]; 0.5 to 0.8 is common practice.
    opening, falling:
        How long the crown takes to fill and to empty [day].

    >>> [round(float(t), 3) for t in Foliage(110.0, 290.0).transmittance(np.array([60, 120, 200]))]
    [0.65, 0.425, 0.2]
    """

    leaf_out: float
    leaf_fall: float
    in_leaf: float = 0.2
    bare: float = 0.65
    opening: float = 20.0
    falling: float = 30.0

    def __post_init__(self) -> None:
        problems = []
        if not (1.0 <= self.leaf_out <= 366.0 and 1.0 <= self.leaf_fall <= 366.0):
            problems.append("a leaf date is out of range; accepted: day of the year, 1 to 365")
        if not 0.0 <= self.in_leaf <= self.bare <= 1.0:
            problems.append(
                f"a crown lets {self.in_leaf:g} through in leaf and {self.bare:g} bare; "
                "accepted: 0 to 1, and no less bare than in leaf"
            )
        green = (self.leaf_fall - self.leaf_out) % YEAR
        if not (0.0 < self.opening <= green and 0.0 < self.falling <= YEAR - green):
            problems.append("leaves open or fall in no time, or take longer than the season; accepted: days")
        if problems:
            raise InputError(*problems)

    def leaf_share(self, day: npt.NDArray[np.int64] | FloatArray) -> FloatArray:
        """Return how full the crown is on days of the year [-], 0 bare to 1 in full leaf."""
        since_out = np.mod(np.asarray(day, dtype=np.float64) - self.leaf_out, YEAR)
        green = (self.leaf_fall - self.leaf_out) % YEAR
        filling = np.minimum(since_out / self.opening, 1.0)
        emptying = np.maximum(1.0 - (since_out - green) / self.falling, 0.0)
        return np.where(since_out < green, filling, emptying)

    def transmittance(self, day: npt.NDArray[np.int64] | FloatArray) -> FloatArray:
        """Return the share of the light that passes the crown on days of the year [-]."""
        return self.bare + (self.in_leaf - self.bare) * self.leaf_share(day)


def evergreen(transmittance: float = 0.2) -> Foliage:
    """Return the foliage of a tree that keeps its leaves.

    Parameters
    ----------
    transmittance:
        Share of the light that passes all year [-].

    Returns
    -------
    Foliage that is the same on every day.

    >>> [float(t) for t in evergreen(0.15).transmittance(np.array([1, 180]))]
    [0.15, 0.15]
    """
    return Foliage(1.0, 180.0, transmittance, transmittance)


@dataclass(frozen=True)
class Crown:
    """One tree crown, an ellipsoid in the air; the trunk is left out.

    Attributes
    ----------
    bearing:
        Of its middle from the plane, clockwise from true north [deg].
    distance:
        Level distance of its middle [m].
    height, base_height:
        Of its top and its lower end above the ground [m].
    crown_width:
        Across [m].
    foliage:
        What it lets through.
    eye_height:
        Of the plane's middle above the same ground [m].

    >>> crown = Crown(180.0, 10.0, 8.0, 5.0, 2.0, evergreen(0.2))
    >>> towards = Rays(np.array([26.0, 70.0]), np.array([180.0, 180.0]), 0.5, np.array([1]), 90.0, 180.0)
    >>> [round(float(t), 3) for t in crown.transmittance(towards)]
    [0.2, 1.0]
    """

    bearing: float
    distance: float
    height: float
    crown_width: float
    base_height: float
    foliage: Foliage
    eye_height: float = 0.0

    def __post_init__(self) -> None:
        if not (self.distance > 0.0 and self.crown_width > 0.0 and self.height > self.base_height):
            raise InputError(
                f"a crown {self.crown_width:g} m wide from {self.base_height:g} to {self.height:g} m at "
                f"{self.distance:g} m; accepted: lengths above 0 m, the top above the lower end"
            )
        if self._inside() < 1.0:
            raise InputError(f"the plane stands inside the crown at bearing {self.bearing:g} deg; move one")

    def transmittance(self, rays: Rays) -> FloatArray:
        """Return the share of the light that passes, the crown's edge softened by the source's size [-]."""
        hidden = self._hidden(rays)
        return 1.0 - hidden * (1.0 - self.foliage.transmittance(rays.day))

    def _hidden(self, rays: Rays) -> FloatArray:
        # in units of the crown's half axes the ellipsoid is a ball; the ray passes its middle at `miss`
        level, rise = np.cos(np.radians(rays.elevation)), np.sin(np.radians(rays.elevation))
        turn = np.radians(rays.azimuth - self.bearing)
        wide, high = 0.5 * self.crown_width, 0.5 * (self.height - self.base_height)
        ahead, aside, up = level * np.cos(turn) / wide, level * np.sin(turn) / wide, rise / high
        far, above = self.distance / wide, self._lift() / high
        length = np.sqrt(ahead**2 + aside**2 + up**2)
        along = (ahead * far + up * above) / length
        miss = np.sqrt(np.maximum(far**2 + above**2 - along**2, 0.0))
        apparent = np.degrees(np.arctan(min(wide, high) / np.hypot(self.distance, self._lift())))
        within = np.clip((1.0 - miss) * apparent / rays.extent + 0.5, 0.0, 1.0)
        return np.where(along > 0.0, within, 0.0)

    def _lift(self) -> float:
        return 0.5 * (self.height + self.base_height) - self.eye_height

    def _inside(self) -> float:
        high = 0.5 * (self.height - self.base_height)
        return float(np.hypot(2.0 * self.distance / self.crown_width, self._lift() / high))
