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
def thinning_stream(
    wall: float, capacity: float, inflow: float, outflow: float, log_ratio: float
) -> tuple[float, float]:
    """Return how much of its inlet excess over the walls a thinning stream keeps: at the end, on average.

    Air is drawn off evenly along the way at the local temperature. A constant flow is the case
    inflow = outflow.

    Parameters
    ----------
    wall : conductance between stream and both walls together [W/m2K]
    capacity : capacity flow per segment area at relative flow 1 [W/m2K]
    inflow, outflow : relative flow at the two ends [-]
    log_ratio : geometry number, see the module [-]

    Returns
    -------
    (end, mean) : (T_out - T_w) / (T_in - T_w) and (T_mean - T_w) / (T_in - T_w) [-]

    Source: integral of m c dT/dx = H (T_w - T) with m linear in x; without flow both are zero.

    >>> end, mean = thinning_stream(10.0, 20.0, 1.0, 1.0, 1.0)
    >>> round(end, 6), round(mean, 6)  # exp(-0.5), (1 - exp(-0.5)) / 0.5
    (0.606531, 0.786939)
    """
    moving = max(capacity, NO_FLOW)
    end = exp_negative(wall * log_ratio / moving)
    mean = moving * (inflow - outflow * end) / (wall + moving * (inflow - outflow))
    return end, mean


@kernel
def growing_stream(
    wall: float, capacity: float, inflow: float, outflow: float, log_ratio: float
) -> tuple[float, float, float]:
    """Return how a stream that is fed evenly along the way forgets its inlet, and what it tends to.

    The stream tends to `pull` x (wall temperature) + (1 - pull) x (temperature of the air fed in).

    Parameters
    ----------
    wall, capacity, inflow, outflow, log_ratio : as in `thinning_stream`

    Returns
    -------
    (pull, end, mean) : weight of the walls in the temperature T* that the stream tends to,
        (T_out - T*) / (T_in - T*) and (T_mean - T*) / (T_in - T*) [-]

    Source: integral of m c dT/dx = H (T_w - T) + c dm/dx (T_fed - T) with m linear in x.

    >>> pull, end, mean = growing_stream(10.0, 20.0, 1.0, 1.0, 1.0)
    >>> pull, round(end, 6), round(mean, 6)
    (1.0, 0.606531, 0.786939)
    """
    moving = max(capacity, NO_FLOW)
    fed = moving * (outflow - inflow)
    pull = wall / (wall + fed)
    end = exp_negative((wall + fed) * log_ratio / moving)
    mean = moving * (inflow - outflow * end) / wall
    return pull, end, mean
