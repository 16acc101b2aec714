"""A stack of panes before an absorber: the share of sunlight that each of them takes up, by angle."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from simengine.collector.fresnel import FloatArray, PaneOptics, lit
from simengine.collector.pane_optics import pane_optics
from simengine.collector.spec import AngleTable, Pane
from simengine.errors import RangeError

RETURN_ANGLE = 60.0
"""Angle [deg] at which a cover treats diffuse light from the absorber (Brandemuehl and Beckman 1980)."""


class StackShares(NamedTuple):
    """Where the light that falls on a cover ends; the shares of an angle sum to 1."""

    pane: FloatArray  # [n_panes, n_angles], outermost first
    absorber: FloatArray  # [n_angles]
    reflected: FloatArray  # [n_angles]


class _Cover(NamedTuple):
    """A stack without absorber, per polarisation: its outer figures and what its panes take up."""

    optics: PaneOptics  # [2, n_angles]
    from_outside: tuple[FloatArray, ...]  # one a pane, each [2, n_angles]
    from_inside: tuple[FloatArray, ...]


def _add_pane(cover: _Cover, pane: PaneOptics) -> _Cover:
    """Put one more pane on the inner side; the endless reflections between sum to one factor."""
    above = cover.optics
    trapped = above.reflectance_inside * pane.reflectance_outside
    echo = 1.0 / np.maximum(1.0 - trapped, 1e-30)  # at 90 deg both are 1, and nothing gets between
    down = above.transmittance * echo  # reaches the new pane, per unit of light from the outside
    up = down * pane.reflectance_outside
    rising = pane.transmittance * echo  # reaches the old stack, per unit of light from the inside
    falling = rising * above.reflectance_inside
    optics = PaneOptics(
        down * pane.transmittance,
        above.reflectance_outside + above.transmittance * up,
        pane.reflectance_inside + pane.transmittance * falling,
    )
    old = zip(cover.from_outside, cover.from_inside, strict=True)
    return _Cover(
        optics,
        (*(outer + inner * up for outer, inner in old), pane.absorptance_outside * down),
        (
            *(inner * rising for inner in cover.from_inside),
            pane.absorptance_inside + pane.absorptance_outside * falling,
        ),
    )


def _cover(panes: Sequence[Pane], angles: FloatArray) -> _Cover:
    if not panes:
        reached = np.broadcast_to(np.where(lit(angles), 1.0, 0.0), (2, *angles.shape))
        return _Cover(PaneOptics(reached, 1.0 - reached, 1.0 - reached), (), ())
    first = pane_optics(panes[0], angles)
    cover = _Cover(first, (first.absorptance_outside,), (first.absorptance_inside,))
    for pane in panes[1:]:
        cover = _add_pane(cover, pane_optics(pane, angles))
    return cover


def cover_transmittance(panes: Sequence[Pane], angles: FloatArray) -> FloatArray:
    """Return what a cover passes of unpolarised sunlight.

    Parameters
    ----------
    panes : outermost first; none is an open box
    angles : incidence from the normal [deg], shape [n_angles]; 90 and beyond gives 0

    Returns
    -------
    transmittance [-], shape [n_angles]

    Source: as `stack_absorption`.

    >>> glass = Pane("clear", thickness=1.0, extinction=0.037)
    >>> cover_transmittance([glass, glass], np.array([0.0, 90.0])).round(4).tolist()
    [0.7856, 0.0]
    """
    angles = np.asarray(angles, dtype=np.float64)
    return _mean(_cover(panes, angles).optics.transmittance)


def cover_reflectance(panes: Sequence[Pane], angles: FloatArray, from_inside: bool = False) -> FloatArray:
    """Return what a cover throws back of unpolarised sunlight.

    Parameters
    ----------
    panes : outermost first
    angles : incidence from the normal [deg], shape [n_angles]
    from_inside : whether the light comes from the absorber's side

    Returns
    -------
    reflectance [-], shape [n_angles]

    Source: as `stack_absorption`.

    >>> glass = Pane("clear", thickness=0.0023, extinction=32.0)
    >>> cover_reflectance([glass], np.array([60.0])).round(3).tolist()
    [0.147]
    """
    optics = _cover(panes, np.asarray(angles, dtype=np.float64)).optics
    return _mean(optics.reflectance_inside if from_inside else optics.reflectance_outside)


def pane_absorption(panes: Sequence[Pane], angles: FloatArray) -> FloatArray:
    """Return what each pane takes up when nothing behind the cover throws light back.

    Parameters
    ----------
    panes : outermost first, at least one
    angles : incidence from the normal [deg], shape [n_angles]

    Returns
    -------
    share [-], shape [n_panes, n_angles]

    Source: as `stack_absorption`.

    >>> glass = Pane("clear", thickness=0.0023, extinction=32.0)
    >>> pane_absorption([glass], np.array([60.0])).round(3).tolist()
    [[0.085]]
    """
    cover = _cover(panes, np.asarray(angles, dtype=np.float64))
    return np.stack([_mean(share) for share in cover.from_outside])


def stack_absorption(
    panes: Sequence[Pane],
    absorber_absorptance: float | FloatArray,
    angles: FloatArray,
    returned_absorptance: float | None = None,
) -> StackShares:
    """Return the share of sunlight that ends in each pane, in the absorber, and back outdoors.

    The panes are smooth and solved exactly, per polarisation. The absorber is taken to reflect
    diffusely: that light meets the cover from below at 60 deg, unpolarised, and what the cover throws
    back falls on the absorber again. With one absorptance this is tau alpha / (1 - (1 - alpha) rho_d).

    Parameters
    ----------
    panes : outermost first; none to any number
    absorber_absorptance : solar absorptance at the angles [-], one number or shape [n_angles]
    angles : incidence from the normal [deg], shape [n_angles]; 90 and beyond is all reflected
    returned_absorptance : solar absorptance for the light that the cover throws back [-];
        None takes that of the first incidence

    Returns
    -------
    shares [-]: pane [n_panes, n_angles], absorber [n_angles], reflected [n_angles]

    Raises RangeError where an absorptance is outside 0 to 1.
    Holds for smooth panes thicker than the wavelength; long-wave heat is not in it.
    Source: net radiation over layers, Siegel 1973 (from memory); diffuse return as Duffie and
    Beckman, Solar Engineering of Thermal Processes, section 5.5 (from memory).

    >>> glass = Pane("clear", thickness=0.0023, extinction=32.0)
    >>> shares = stack_absorption([glass], 0.90, np.array([60.0]))
    >>> shares.absorber.round(3).tolist(), float((shares.pane.sum() + shares.absorber + shares.reflected)[0])
    ([0.702], 1.0)
    """
    angles = np.asarray(angles, dtype=np.float64)
    absorptance = np.broadcast_to(np.asarray(absorber_absorptance, dtype=np.float64), angles.shape)
    again = absorptance if returned_absorptance is None else np.asarray(returned_absorptance)
    if np.any((absorptance < 0.0) | (absorptance > 1.0)) or np.any((again < 0.0) | (again > 1.0)):
        raise RangeError("absorber: solar absorptance is a share; 0 to 1 is accepted")
    beam = _cover(panes, angles)
    back = _cover(panes, np.array([RETURN_ANGLE]))
    back_reflected = float(_mean(back.optics.reflectance_inside)[0])
    passed = _mean(beam.optics.transmittance)
    rising = passed * (1.0 - absorptance) / (1.0 - (1.0 - again) * back_reflected)
    pane_share = np.zeros((len(panes), *angles.shape))
    for share, direct, returned in zip(pane_share, beam.from_outside, back.from_inside, strict=True):
        share += _mean(direct) + rising * _mean(returned)[0]
    reflected = _mean(beam.optics.reflectance_outside) + rising * _mean(back.optics.transmittance)[0]
    absorber = passed * absorptance + rising * back_reflected * again
    return StackShares(pane_share, absorber, reflected)


def tabulate(panes: Sequence[Pane], angles: Sequence[float]) -> AngleTable:
    """Return a stack of sheets as one sheet with an angle table (a twin-wall sheet is two thin ones).

    Parameters
    ----------
    panes : outermost first, symmetric (the table holds for light from either side)
    angles : rising from 0 to at most 90 [deg]

    Returns
    -------
    table of transmittance and reflectance [-]

    Source: as `stack_absorption`; polarisation is lost, which matters little for one sheet of a cover.

    >>> tabulate([Pane("film", 0.0005, 1.586, 0.0)] * 2, (0.0, 60.0)).transmittance[0].__round__(3)
    0.822
    """
    at = np.array(angles, dtype=np.float64)
    passed, reflected = cover_transmittance(panes, at), cover_reflectance(panes, at)
    return AngleTable(tuple(angles), tuple(passed.tolist()), tuple(reflected.tolist()))


def _mean(by_polarisation: FloatArray) -> FloatArray:
    mean: FloatArray = 0.5 * (by_polarisation[0] + by_polarisation[1])
    return mean
