"""The air stream along one segment: exact profiles for constant, thinning and growing flow.

Both functions describe a quasi-steady stream between two walls whose temperatures are uniform
within the segment. `capacity` is c_p m' per square metre of segment at a relative flow of one;
`inflow`, `outflow` are the relative flows at the two ends, and `log_ratio` is the geometry number
1 / flow for a constant flow and ln(larger / smaller) / |change of flow| for a changing one.
"""

from simengine.compiled import kernel
from simengine.heat_transfer.roots import exp_negative

NO_FLOW = 1.0e-12  # [W/m2K] a capacity flow below this is still air


@kernel
def moving_air(capacity: float) -> tuple[float, float]:
    """Return the capacity flow that the streams of a segment are counted with, and one over it.

    Parameters
    ----------
    capacity : capacity flow per segment area at relative flow 1 [W/m2K]

    Returns
    -------
    (flow, 1 / flow) [W/m2K], [m2K/W]; still air counts as `NO_FLOW`

    Source: definition.

    >>> moving_air(20.0)
    (20.0, 0.05)
    """
    flow = max(capacity, NO_FLOW)
    return flow, 1.0 / flow


@kernel
def thinning_stream(
    wall: float, moving: tuple[float, float], inflow: float, outflow: float, log_ratio: float
) -> tuple[float, float, float]:
    """Return how much of its inlet excess over the walls a thinning stream keeps: at the end, on average.

    Air is drawn off evenly along the way at the local temperature. A constant flow is the case
    inflow = outflow.

    Parameters
    ----------
    wall : conductance between stream and both walls together [W/m2K]
    moving : capacity flow per segment area at relative flow 1, and one over it [W/m2K], [m2K/W]
    inflow, outflow : relative flow at the two ends [-]
    log_ratio : geometry number, see the module [-]

    Returns
    -------
    (per_wall, end, mean) : one over `wall` [m2K/W], (T_out - T_w) / (T_in - T_w) and
        (T_mean - T_w) / (T_in - T_w) [-]

    Source: integral of m c dT/dx = H (T_w - T) with m linear in x; without flow both shares are zero.

    >>> per_wall, end, mean = thinning_stream(10.0, moving_air(20.0), 1.0, 1.0, 1.0)
    >>> per_wall, round(end, 6), round(mean, 6)  # exp(-0.5), (1 - exp(-0.5)) / 0.5
    (0.1, 0.606531, 0.786939)
    """
    flow, per_flow = moving
    end = exp_negative(wall * log_ratio * per_flow)
    whole = wall + flow * (inflow - outflow)
    inverse = 1.0 / (wall * whole)
    return whole * inverse, end, flow * (inflow - outflow * end) * (wall * inverse)


@kernel
def growing_stream(
    wall: float, moving: tuple[float, float], inflow: float, outflow: float, log_ratio: float
) -> tuple[float, float, float, float]:
    """Return how a stream that is fed evenly along the way forgets its inlet, and what it tends to.

    The stream tends to `pull` x (wall temperature) + (1 - pull) x (temperature of the air fed in).

    Parameters
    ----------
    wall, moving, inflow, outflow, log_ratio : as in `thinning_stream`

    Returns
    -------
    (per_wall, pull, end, mean) : one over `wall` [m2K/W], weight of the walls in the temperature T* that the
        stream tends to, (T_out - T*) / (T_in - T*) and (T_mean - T*) / (T_in - T*) [-]

    Source: integral of m c dT/dx = H (T_w - T) + c dm/dx (T_fed - T) with m linear in x.

    >>> per_wall, pull, end, mean = growing_stream(10.0, moving_air(20.0), 1.0, 1.0, 1.0)
    >>> per_wall, pull, round(end, 6), round(mean, 6)
    (0.1, 1.0, 0.606531, 0.786939)
    """
    flow, per_flow = moving
    whole = wall + flow * (outflow - inflow)
    inverse = 1.0 / (wall * whole)
    per_wall = whole * inverse
    end = exp_negative(whole * log_ratio * per_flow)
    return per_wall, wall * (wall * inverse), end, flow * (inflow - outflow * end) * per_wall
