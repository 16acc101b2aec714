"""Shade of things near the plane: an overhang, a fin at a side, a wall across the yard."""

from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

import numpy as np

from simengine.errors import InputError
from simengine.sun.calendar import FloatArray
from simengine.sun.shading import Rays

ENDLESS: Final = 1000.0
"""Length at which anything counts as endless [m]."""

GRAZING: Final = 1e-9
"""Smallest direction component to divide by [-]."""


class _Blade(NamedTuple):
    """A strip that stands square on the plane, beside an aperture: all lengths in m.

    `size` of the aperture towards the blade, `across` along it; the blade begins `gap` beyond the aperture,
    stands `depth` out, and reaches `before` and `after` beyond the aperture's ends.
    """

    size: float
    across: float
    depth: float
    gap: float
    before: float
    after: float


@dataclass(frozen=True)
class Overhang:
    """A strip above the aperture, square on its plane (an eave, a balcony, an awning board).

    Attributes
    ----------
    width, height:
        Of the aperture [m], height along the slope.
    depth:
        How far the strip stands out from the plane [m].
    gap:
        From the aperture's upper edge to the strip [m].
    left, right:
        How far it reaches beyond the aperture's sides [m], for someone who looks out; endless by default.

    >>> eave = Overhang(width=1.2, height=2.0, depth=0.5)
    >>> noon = Rays(np.array([45.0]), np.array([180.0]), 0.5, np.array([80]), 90.0, 180.0)
    >>> round(float(eave.transmittance(noon)[0]), 9)
    0.75
    """

    width: float
    height: float
    depth: float
    gap: float = 0.0
    left: float = ENDLESS
    right: float = ENDLESS

    def __post_init__(self) -> None:
        _check("overhang", (self.width, self.height), (self.depth, self.gap, self.left, self.right))

    def transmittance(self, rays: Rays) -> FloatArray:
        """Return the share of the aperture that is not in its shadow [-]."""
        sun = rays.seen_from_plane()
        blade = _Blade(self.height, self.width, self.depth, self.gap, self.left, self.right)
        return 1.0 - _blade_shadow(blade, sun.out, sun.up, sun.right)


@dataclass(frozen=True)
class SideFin:
    """A strip beside the aperture, square on its plane (a wing wall, a window reveal).

    Attributes
    ----------
    side:
        "left" or "right" of someone who looks out.
    width, height:
        Of the aperture [m], height along the slope.
    depth:
        How far the fin stands out from the plane [m].
    gap:
        From the aperture's side to the fin [m].
    below, above:
        How far it reaches beyond the aperture's lower and upper edge [m]; endless by default.

    >>> fin = SideFin("left", width=2.0, height=1.0, depth=0.5)
    >>> morning = Rays(np.array([0.0]), np.array([135.0]), 0.5, np.array([80]), 90.0, 180.0)
    >>> round(float(fin.transmittance(morning)[0]), 9)
    0.75
    """

    side: Literal["left", "right"]
    width: float
    height: float
    depth: float
    gap: float = 0.0
    below: float = ENDLESS
    above: float = ENDLESS

    def __post_init__(self) -> None:
        _check("side fin", (self.width, self.height), (self.depth, self.gap, self.below, self.above))
        if self.side not in ("left", "right"):
            raise InputError(f"a side fin on side '{self.side:.20}'; accepted: left, right")

    def transmittance(self, rays: Rays) -> FloatArray:
        """Return the share of the aperture that is not in its shadow [-]."""
        sun = rays.seen_from_plane()
        towards = sun.right if self.side == "right" else -sun.right
        blade = _Blade(self.width, self.height, self.depth, self.gap, self.below, self.above)
        return 1.0 - _blade_shadow(blade, sun.out, towards, sun.up)


@dataclass(frozen=True)
class NeighbouringWall:
    """An upright wall that stands across from the plane, square on the bearing towards it.

    Attributes
    ----------
    bearing:
        From the aperture towards the wall's nearest point, clockwise from true north [deg].
    distance:
        Level distance to it [m].
    height:
        Of the wall's top above the aperture's lower edge [m]; what lies below counts as wall too.
    rise:
        Upright height of the aperture itself [m]; 0 for a level one.
    left, right:
        How far the wall reaches to either side of its nearest point [m], seen from the aperture; endless by
        default.

    >>> wall = NeighbouringWall(bearing=180.0, distance=5.0, height=5.0, rise=2.0)
    >>> low_sun = Rays(np.array([45.0]), np.array([180.0]), 0.01, np.array([1]), 90.0, 180.0)
    >>> round(float(wall.transmittance(low_sun)[0]), 3)
    1.0
    """

    bearing: float
    distance: float
    height: float
    rise: float = 0.0
    left: float = ENDLESS
    right: float = ENDLESS

    def __post_init__(self) -> None:
        _check("neighbouring wall", (self.distance,), (self.height, self.rise, self.left, self.right))

    def transmittance(self, rays: Rays) -> FloatArray:
        """Return the share of aperture and source that is not hidden by the wall [-]."""
        turn = np.radians(rays.azimuth - self.bearing)
        ahead = np.cos(turn)
        before = ahead > GRAZING
        ahead = np.where(before, ahead, 1.0)
        half = 0.5 * rays.extent
        # how far below the wall's top a ray meets it is how far up the aperture its shadow reaches
        low, high = (
            self.height - self.distance * np.tan(np.radians(np.clip(edge, -89.9, 89.9))) / ahead
            for edge in (rays.elevation + half, rays.elevation - half)
        )
        aside = self.distance * np.tan(turn)
        within = before & (aside >= -self.left) & (aside <= self.right)
        return 1.0 - np.where(within, _mean_share_below(low, high, max(self.rise, 1e-3)), 0.0)


def _mean_share_below(low: FloatArray, high: FloatArray, size: float) -> FloatArray:
    """Mean of clip(y / size, 0, 1) for y spread evenly from low to high."""
    return np.clip((_mean_ramp(low, high) - _mean_ramp(low - size, high - size)) / size, 0.0, 1.0)


def _blade_shadow(blade: _Blade, out: FloatArray, towards: FloatArray, along: FloatArray) -> FloatArray:
    """Share of the aperture in the shadow of a blade; exact for a point sun.

    A point at distance s from the blade's line looks along the ray and meets the blade after t = s/towards,
    `along` having moved it by t x along; it is in shadow while t x out is less than the depth.
    """
    lit = (out > GRAZING) & (towards > GRAZING)
    out, towards = np.where(lit, out, 1.0), np.where(lit, towards, 1.0)
    first = blade.gap / towards
    last = np.maximum(np.minimum(blade.depth / out, (blade.gap + blade.size) / towards), first)
    covered = _mean_overlap(blade, -first * along, -last * along)
    share = towards * (last - first) * covered / (blade.size * blade.across)
    return np.where(lit, np.clip(share, 0.0, 1.0), 0.0)


def _mean_overlap(blade: _Blade, start: FloatArray, end: FloatArray) -> FloatArray:
    """Mean length of aperture covered by the blade, while the blade slides evenly from start to end [m]."""
    # length covered at a slide c, as ramps r(x) = max(x, 0): r(c+b) - r(c+b-w) - r(c+a) + r(c+a-w)
    length = np.zeros_like(start)
    for edge, sign in ((blade.across + blade.after, 1.0), (-blade.before, -1.0)):
        begin, finish = start + edge, end + edge
        ramp = _mean_ramp(begin, finish) - _mean_ramp(begin - blade.across, finish - blade.across)
        length += sign * ramp
    return np.clip(length, 0.0, blade.across)


def _mean_ramp(start: FloatArray, end: FloatArray) -> FloatArray:
    """Mean of max(x, 0) for x spread evenly from start to end, without a loss of digits."""
    low, high = np.maximum(start, 0.0), np.maximum(end, 0.0)
    apart = np.abs(end - start) > 0.0
    slope = (high - low) / np.where(apart, end - start, 1.0)
    return 0.5 * (low + high) * np.where(apart, slope, 1.0)


def _check(name: str, positive: tuple[float, ...], not_negative: tuple[float, ...]) -> None:
    if not all(np.isfinite(value) and value > 0.0 for value in positive):
        raise InputError(f"a length of the {name} is not above 0 m; accepted: lengths in m")
    if not all(np.isfinite(value) and value >= 0.0 for value in not_negative):
        raise InputError(f"a length of the {name} is negative or not finite; accepted: 0 m or more")
