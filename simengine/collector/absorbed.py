"""The sun on the aperture, interval by interval, turned into heat in each pane and in the absorber."""

from typing import NamedTuple

from simengine.collector.angular import beam_shares, diffuse_shares
from simengine.collector.fresnel import FloatArray
from simengine.collector.spec import Collector


class AbsorbedSun(NamedTuple):
    """Where the sun on the aperture ends [W/m2 of aperture]; the parts sum to what falls on it."""

    pane: FloatArray  # [n_panes, interval], outermost first
    absorber: FloatArray  # [interval]
    reflected: FloatArray  # [interval], with what dirt and frame keep off


def absorbed_sun(
    collector: Collector, incidence: FloatArray, beam: FloatArray, sky: FloatArray, ground: FloatArray
) -> AbsorbedSun:
    """Return the heat that the sun leaves in each pane and in the absorber.

    Parameters
    ----------
    collector : its cover, absorber, tilt and dirt factor count
    incidence : angle of the beam from the normal [deg], shape [interval]
    beam : beam and circumsolar on the aperture [W/m2], shape [interval]
    sky : the rest of the sky's diffuse light on the aperture [W/m2], shape [interval]
    ground : light reflected by the ground on the aperture [W/m2], shape [interval]

    Returns
    -------
    heat by place [W/m2]

    Raises RangeError where the tilt is outside 0 to 90 deg.
    Source: as `stack_absorption`; diffuse light at the effective angles of Brandemuehl and Beckman.

    >>> import numpy as np
    >>> from simengine.collector.spec import Absorber, AirSpace, Back
    >>> space, black = AirSpace(0.03, 0.03), Absorber("black", absorptance=0.9, angular=False)
    >>> box = Collector(1.0, 2.0, 90.0, 180.0, "behind", (), (), space, black, space, Back(()))
    >>> none = np.zeros(1)
    >>> absorbed_sun(box, none, none + 1000.0, none, none).absorber.round(6).tolist()  # 0.98 x 0.9 x 1000
    [882.0]
    """
    direct = beam_shares(collector.panes, collector.absorber, incidence)
    from_sky, from_ground = diffuse_shares(collector.panes, collector.absorber, collector.tilt)
    clean = collector.dirt_factor
    panes = clean * (direct.pane * beam + from_sky.pane * sky + from_ground.pane * ground)
    absorber = clean * (direct.absorber * beam + from_sky.absorber * sky + from_ground.absorber * ground)
    thrown = clean * (direct.reflected * beam + from_sky.reflected * sky + from_ground.reflected * ground)
    return AbsorbedSun(panes, absorber, thrown + (1.0 - clean) * (beam + sky + ground))
