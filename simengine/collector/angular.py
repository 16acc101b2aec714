"""How the absorber and the whole cover fall off with the angle of incidence."""

from collections.abc import Sequence

import numpy as np

from simengine.collector.diffuse_angles import ground_diffuse_angle, sky_diffuse_angle
from simengine.collector.fresnel import FloatArray, lit
from simengine.collector.optics import RETURN_ANGLE, StackShares, stack_absorption
from simengine.collector.spec import Absorber, Pane
from simengine.errors import InputError

_SEVENTH_ORDER = (1.0, -1.5879e-3, 2.7314e-4, -2.3026e-5, 9.0244e-7, -1.8000e-8, 1.7734e-10, -6.9937e-13)
_FOURTH_ORDER = (1.0, 2.0345e-3, -1.990e-4, 5.324e-6, -4.799e-8)


def flat_black_seventh_order(angles: FloatArray) -> FloatArray:
    """Return the solar absorptance of flat black paint over its value at normal incidence.

    Parameters
    ----------
    angles : incidence from the normal [deg], shape [n_angles]; 90 and beyond gives 0

    Returns
    -------
    ratio [-], shape [n_angles]

    Fitted over 0 to 80 deg; it runs on smoothly to 0 at 90 and is cut off there.
    Source: Beckman et al., Solar Heating Design (1977), as tabulated in Duffie and Beckman, Solar
    Engineering of Thermal Processes, section 4.11 (from memory).

    >>> flat_black_seventh_order(np.array([0.0, 60.0, 90.0])).round(3).tolist()
    [1.0, 0.929, 0.0]
    """
    return _polynomial(angles, _SEVENTH_ORDER)


def flat_black_fourth_order(angles: FloatArray) -> FloatArray:
    """Return the same ratio by the older fit of fourth order.

    Parameters
    ----------
    angles : incidence from the normal [deg], shape [n_angles]; 90 and beyond gives 0

    Returns
    -------
    ratio [-], shape [n_angles], at most 1

    Fitted over 0 to 80 deg; it stays too high beyond.
    Source: Duffie and Beckman, Solar Engineering of Thermal Processes, an earlier edition (from memory).

    >>> flat_black_fourth_order(np.array([0.0, 60.0])).round(3).tolist()
    [1.0, 0.934]
    """
    return _polynomial(angles, _FOURTH_ORDER)


def same_at_all_angles(angles: FloatArray) -> FloatArray:
    """Return 1 for every angle: a rough or porous absorber that does not fall off.

    Parameters
    ----------
    angles : incidence from the normal [deg], shape [n_angles]; 90 and beyond gives 0

    Returns
    -------
    ratio [-], shape [n_angles]

    >>> same_at_all_angles(np.array([0.0, 80.0])).tolist()
    [1.0, 1.0]
    """
    return np.where(lit(angles), 1.0, 0.0)


FALL_OFFS = {f.__name__: f for f in (flat_black_seventh_order, flat_black_fourth_order, same_at_all_angles)}


def absorptance_at(absorber: Absorber, angles: FloatArray) -> FloatArray:
    """Return the absorber's solar absorptance at each angle.

    Parameters
    ----------
    absorber : with its normal absorptance [-] and the name of its fall-off
    angles : incidence from the normal [deg], shape [n_angles]

    Returns
    -------
    absorptance [-], shape [n_angles]

    Raises InputError where the fall-off is not a known name.

    >>> absorptance_at(Absorber("black", absorptance=0.94), np.array([0.0, 60.0])).round(3).tolist()
    [0.94, 0.874]
    """
    if not absorber.angular:
        return absorber.absorptance * same_at_all_angles(angles)
    if absorber.fall_off not in FALL_OFFS:
        raise InputError(
            f"absorber {absorber.name}: fall-off {absorber.fall_off[:80]!r} is not known; "
            f"accepted: {', '.join(FALL_OFFS)}"
        )
    return absorber.absorptance * FALL_OFFS[absorber.fall_off](angles)


def beam_shares(panes: Sequence[Pane], absorber: Absorber, angles: FloatArray) -> StackShares:
    """Return where a beam ends: in each pane, in the absorber, back outdoors.

    Parameters
    ----------
    panes : outermost first
    absorber : with its fall-off
    angles : incidence from the normal [deg], shape [n_angles]

    Returns
    -------
    shares [-]: pane [n_panes, n_angles], absorber [n_angles], reflected [n_angles]

    >>> glass, ideal = Pane("clear", thickness=1.0, extinction=0.037), Absorber("ideal", 1.0, angular=False)
    >>> beam_shares([glass], ideal, np.array([0.0, 60.0])).absorber.round(4).tolist()
    [0.8835, 0.8041]
    """
    angles = np.asarray(angles, dtype=np.float64)
    returned = float(absorptance_at(absorber, np.array([RETURN_ANGLE]))[0])
    return stack_absorption(panes, absorptance_at(absorber, angles), angles, returned)


def diffuse_shares(panes: Sequence[Pane], absorber: Absorber, tilt: float) -> tuple[StackShares, StackShares]:
    """Return where the diffuse light of the sky and that of the ground end.

    Parameters
    ----------
    panes : outermost first
    absorber : with its fall-off
    tilt : of the collector from horizontal [deg], 0 to 90

    Returns
    -------
    shares for the sky, shares for the ground [-], each with one angle

    Raises RangeError where the tilt is outside 0 to 90.

    >>> sky, ground = diffuse_shares([], Absorber("screen", absorptance=0.9, angular=False), 60.0)
    >>> sky.absorber.round(3).tolist(), ground.reflected.round(3).tolist()
    ([0.9], [0.1])
    """
    both = np.array([sky_diffuse_angle(tilt), ground_diffuse_angle(tilt)])
    shares = beam_shares(panes, absorber, both)
    sky, ground = (
        StackShares(shares.pane[:, [i]], shares.absorber[[i]], shares.reflected[[i]]) for i in (0, 1)
    )
    return sky, ground


def incidence_angle_modifier(angles: FloatArray, coefficient: float) -> FloatArray:
    """Return a tested collector's optical gain over that at normal incidence, 1 - b0 (1/cos - 1).

    Parameters
    ----------
    angles : incidence from the normal [deg], shape [n_angles]; 90 and beyond gives 0
    coefficient : b0 [-], about 0.1 for one glass, 0.17 for two

    Returns
    -------
    modifier [-], shape [n_angles], never below 0

    Good to about 60 deg; beyond that it falls too fast.
    Source: Souka and Safwat 1966; ASHRAE Standard 93 (from memory).

    >>> incidence_angle_modifier(np.array([0.0, 60.0]), 0.10).round(3).tolist()
    [1.0, 0.9]
    """
    reached = lit(angles)
    cosine = np.where(reached, np.cos(np.radians(angles)), 1.0)
    return np.where(reached, np.maximum(0.0, 1.0 - coefficient * (1.0 / cosine - 1.0)), 0.0)


def _polynomial(angles: FloatArray, coefficients: tuple[float, ...]) -> FloatArray:
    angles = np.asarray(angles, dtype=np.float64)
    ratio = np.full(angles.shape, coefficients[-1])
    for coefficient in coefficients[-2::-1]:
        ratio = ratio * angles + coefficient
    return np.where(lit(angles), np.clip(ratio, 0.0, 1.0), 0.0)
